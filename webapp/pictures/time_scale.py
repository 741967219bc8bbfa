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
    come, up to first start (or to the last task where first start has no date). The upright
    picture shows the path alone and begins today.
    """

    def __init__(self, model: PipeRunModel, sheet: Sheet) -> None:
        self.last = last_shown(model)
        first = model.now
        if not sheet.axes.upright:
            begun = [b.begins for pipe in model.pipes for b in pipe.blocks if b.done]
            history = min((self.last - model.now) * HISTORY_SHARE, LONGEST_HISTORY)
            first = max(min(begun, default=model.now), model.now - max(history, LEAST_SPAN))
        self.first = min(first, model.now)
        self.sheet = sheet
        self.span = (self.last - self.first).total_seconds()

    def along(self, moment: dt.datetime) -> float:
        share = (moment - self.first).total_seconds() / self.span
        share = min(1.0, max(0.0, share))
        return self.sheet.along_from + share * (self.sheet.along_to - self.sheet.along_from)


def last_shown(model: PipeRunModel) -> dt.datetime:
    """The last moment on the sheet: the latest likely start, or the last of the work."""
    ends = [b.ends for pipe in model.pipes for b in pipe.blocks if not b.done]
    last = model.key_at or max(ends, default=model.now)
    if model.chances is not None:
        last = max(last, model.chances.late)
    return max(last, model.now + LEAST_SPAN)


def today_line(model: PipeRunModel, scale: TimeScale, sheet: Sheet) -> Tick:
    along = scale.along(model.now)
    if sheet.axes.upright:
        line = sheet.axes.flange(along, sheet.width / 2, sheet.width / 2 - 12)
        return Tick(line=line, x=12, y=along - 7, text="today")
    top, bottom = sheet.hands - 44, sheet.height - sheet.foot - 46
    line = sheet.axes.flange(along, (top + bottom) / 2, (bottom - top) / 2)
    return Tick(line=line, x=along - 5, y=top + 13, text="today")


def week_lines(model: PipeRunModel, scale: TimeScale, sheet: Sheet) -> tuple[Tick, ...]:
    """Mondays, or every so many of them when there is no room for each."""
    weeks = max(1, (scale.last - scale.first).days // 7)
    every = next(step for step in WEEKS_BETWEEN_TICKS if weeks / step <= MOST_TICKS)
    monday = scale.first.date() + dt.timedelta(days=-scale.first.weekday() % 7)
    today = scale.along(model.now)
    if sheet.axes.upright:
        first, last = 12.0, 52.0
    else:
        first = sheet.hands - 48
        last = sheet.across_from + len(model.pipes) * sheet.pitch + 8
    ticks = []
    while monday <= scale.last.date():
        along = scale.along(dt.datetime.combine(monday, dt.time()))
        month = MONTHS[monday.month - 1]
        text = f"{monday.day} {month}" if every < 13 else f"{month} {monday.year}"
        x, y = (12.0, along - 4) if sheet.axes.upright else (along + 4, first + 2)
        # the word "today" has the room beside its line
        near_today = along - today < 18 if sheet.axes.upright else False
        line = sheet.axes.flange(along, (first + last) / 2, (last - first) / 2)
        ticks.append(Tick(line=line, x=x, y=y, text="" if near_today else text))
        monday += dt.timedelta(weeks=every)
    return tuple(ticks)
