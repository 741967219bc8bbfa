"""Time on the sheet of the pipe run: moments to units, week lines, today."""

import datetime as dt

from webapp.pictures.pipe_run_model import PipeRunModel, Sheet, Tick

HISTORY_SHARE = 0.45
LEAST_SPAN = dt.timedelta(days=7)
LONGEST_HISTORY = dt.timedelta(days=400)
MOST_TICKS = 13
WEEKS_BETWEEN_TICKS = (1, 2, 4, 8, 13, 26, 52, 520, 5200)
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class TimeScale:
    """Moments to units along the sheet, linear, cut at its ends.

    Runs from the first finished work, but from no farther back than a good part of what is to
    come, up to first start (or to the last task where first start has no date).
    """

    def __init__(self, model: PipeRunModel, sheet: Sheet) -> None:
        ends = [s.ends for pipe in model.pipes for s in pipe.stretches if not s.done]
        last = model.key_at or max(ends, default=model.now)
        if model.chances is not None:
            last = max(last, model.chances.late)
        last = max(last, model.now + LEAST_SPAN)
        begun = [s.begins for pipe in model.pipes for s in pipe.stretches if s.done]
        history = min((last - model.now) * HISTORY_SHARE, LONGEST_HISTORY)
        first = max(min(begun, default=model.now), model.now - max(history, LEAST_SPAN))
        self.first, self.last = min(first, model.now), last
        self.sheet = sheet
        self.span = (self.last - self.first).total_seconds()

    def along(self, moment: dt.datetime) -> float:
        share = (moment - self.first).total_seconds() / self.span
        share = min(1.0, max(0.0, share))
        return self.sheet.along_from + share * (self.sheet.along_to - self.sheet.along_from)


def today_line(model: PipeRunModel, scale: TimeScale, sheet: Sheet) -> Tick:
    along = scale.along(model.now)
    if sheet.axes.upright:
        line = sheet.axes.flange(along, sheet.width / 2, sheet.width / 2 - 4)
        return Tick(line=line, x=6, y=along - 5, text="today")
    top, bottom = sheet.across_from - 40, sheet.height - sheet.foot - 46
    line = sheet.axes.flange(along, (top + bottom) / 2, (bottom - top) / 2)
    return Tick(line=line, x=along + 5, y=top + 4, text="today")


def week_lines(model: PipeRunModel, scale: TimeScale, sheet: Sheet) -> tuple[Tick, ...]:
    """Mondays, or every so many of them when there is no room for each."""
    weeks = max(1, (scale.last - scale.first).days // 7)
    every = next(step for step in WEEKS_BETWEEN_TICKS if weeks / step <= MOST_TICKS)
    monday = scale.first.date() + dt.timedelta(days=-scale.first.weekday() % 7)
    today = scale.along(model.now)
    first = sheet.across_from - (0 if sheet.axes.upright else 20)
    last = sheet.across_from + len(model.pipes) * sheet.pitch + 8
    ticks = []
    while monday <= scale.last.date():
        along = scale.along(dt.datetime.combine(monday, dt.time()))
        month = MONTHS[monday.month - 1]
        text = f"{monday.day} {month}" if every < 13 else f"{month} {monday.year}"
        x, y = (6.0, along + 4) if sheet.axes.upright else (along + 4, sheet.across_from - 20)
        near_today = -20 < along - today < 12 if sheet.axes.upright else -46 < along - today < 2
        line = sheet.axes.flange(along, (first + last) / 2, (last - first) / 2)
        ticks.append(Tick(line=line, x=x, y=y, text="" if near_today else text))
        monday += dt.timedelta(weeks=every)
    return tuple(ticks)
