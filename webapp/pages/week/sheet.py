"""The hours of the week sheet in strings: shop week, subsystems and tasks, finished, weeks."""

from collections.abc import Iterator

from webapp.build.wish import Wish
from webapp.pages import addresses
from webapp.pages.week.labels import label_of
from webapp.pages.week.sheet_view import (
    FigureLine,
    HoursLine,
    SheetView,
    SubsystemLines,
    WeekLine,
    WishLine,
)
from webapp.pages.words import amounts as words
from webapp.pages.words.earned import FIGURE_WORDS, earned_how
from webapp.pages.words.how import week_hours_how
from webapp.pictures.weeks import WeekColumn, WeeksPicture, weeks_picture
from webapp.planning.record.earned import Earned
from webapp.planning.record.week_figures import SubsystemWeek, TaskWeek, WeekSheet

BROAD_WEEKS, UPRIGHT_WEEKS = 26, 8
LISTED_WEEKS = 8
PRINTED_ROWS = 23
PRINTED_LINES = 8
"""So many rows of hours, and lines beside them, leave the sheet on one page of A4."""
TOLD_DAYS = 7
EARNED_NAMES = (
    *("PV", "EV", "AC", "BAC", "CV", "SV", "CPI", "SPI", "EAC", "EAC (bottom-up)", "VAC"),
    *("TCPI", "ES", "SV(t)", "SPI(t)", "IEAC(t)"),
)


def sheet_view(slug: str, sheet: WeekSheet) -> SheetView:
    """One week in strings."""
    week = sheet.iso_year, sheet.iso_week
    weeks = _week_lines(slug, sheet)
    return SheetView(
        promised=words.hours(sheet.promised_hours),
        workable=words.worked(sheet.workable_hours),
        worked=words.worked(sheet.worked_hours),
        lost=words.hours(sheet.lost_hours),
        lost_days=_lost_words(sheet),
        how=week_hours_how(
            promised=sheet.promised_hours,
            workable=sheet.workable_hours,
            worked=sheet.worked_hours,
            lost=sheet.lost_hours,
        ),
        nothing=_nothing_words(sheet),
        has_errors=any(task.estimate_error is not None for task in _tasks(sheet)),
        unprinted=_unprinted_words(sheet),
        subsystems=_subsystem_lines(slug, sheet),
        sum=_sum_line(sheet),
        finished=tuple(
            _task_line(slug, one, printed=i < PRINTED_LINES) for i, one in enumerate(sheet.finished)
        ),
        wishes=_wish_lines(slug, sheet),
        added=_added_words(sheet),
        figures=_figures(sheet.earned),
        weeks=weeks,
        last_weeks=tuple(one for one in weeks if one.name <= label_of(week))[:LISTED_WEEKS],
        pictures=_pictures(sheet, week),
    )


def _lost_words(sheet: WeekSheet) -> str:
    days = [
        f"{words.WEEKDAYS[day.weekday()]} {words.hours(hours)}"
        for day, hours in sheet.lost_by_day[:TOLD_DAYS]
    ]
    return words.listed(days)


def _nothing_words(sheet: WeekSheet) -> str:
    """ "This week: no hours, nothing finished, no wish."; "" where there was some of each."""
    none = [
        said
        for said, there in (
            ("no hours", sheet.worked_hours),
            ("nothing finished", sheet.finished),
            ("no wish", sheet.wishes_added or sheet.wishes_decided),
        )
        if not there
    ]
    return f"This week: {', '.join(none)}." if none else ""


def _tasks(sheet: WeekSheet) -> Iterator[TaskWeek]:
    for one in sheet.subsystems:
        yield from one.tasks


def _hours(value: float) -> str:
    text = f"{abs(value):,.1f}"
    if text == "0.0":
        return "0"
    return f"{words.MINUS}{text}" if value < 0 else text


def error_words(error: float | None) -> str:
    """How far off an estimate was: "+25 %", "as estimated"."""
    if error is None:
        return ""
    if abs(error) < 0.005:
        return "as estimated"
    return f"{'+' if error > 0 else ''}{words.number(error * 100, 0)} %"


def _task_line(slug: str, task: TaskWeek, *, printed: bool = True) -> HoursLine:
    return HoursLine(
        name=task.name,
        address=addresses.task(slug, task.key),
        estimate=_hours(task.expected_hours),
        worked=_hours(task.worked_hours),
        in_all=_hours(task.worked_in_all_hours),
        left=_hours(task.left_hours),
        error=error_words(task.estimate_error),
        printed=printed,
    )


def _printed_tasks(sheet: WeekSheet) -> int:
    return max(0, PRINTED_ROWS - len(sheet.subsystems))


def _unprinted_words(sheet: WeekSheet) -> str:
    """How many tasks the printed page leaves out, "" where it has them all."""
    rest = sum(len(one.tasks) for one in sheet.subsystems) - _printed_tasks(sheet)
    return f"{words.count(rest, 'more task')} on the screen" if rest > 0 else ""


def _subsystem_lines(slug: str, sheet: WeekSheet) -> tuple[SubsystemLines, ...]:
    room = _printed_tasks(sheet)
    lines = []
    for one in sheet.subsystems:
        lines.append(_subsystem(slug, one, room))
        room -= len(one.tasks)
    return tuple(lines)


def _subsystem(slug: str, one: SubsystemWeek, room: int) -> SubsystemLines:
    """A subsystem and its tasks, of which `room` are printed at most."""
    return SubsystemLines(
        whole=HoursLine(
            name=one.name or "In no subsystem",
            address="",
            estimate=_hours(one.expected_hours),
            worked=_hours(one.worked_hours),
            in_all=_hours(one.worked_in_all_hours),
            left=_hours(one.left_hours),
            error="",
        ),
        tasks=tuple(_task_line(slug, task, printed=i < room) for i, task in enumerate(one.tasks)),
    )


def _sum_line(sheet: WeekSheet) -> HoursLine:
    def total(of: str) -> str:
        return _hours(sum(getattr(one, of) for one in sheet.subsystems))

    return HoursLine(
        name="In all",
        address="",
        estimate=total("expected_hours"),
        worked=total("worked_hours"),
        in_all=total("worked_in_all_hours"),
        left=total("left_hours"),
        error="",
    )


def _wish_lines(slug: str, sheet: WeekSheet) -> tuple[WishLine, ...]:
    said: dict[str, list[str]] = {}
    wishes: dict[str, Wish] = {}
    for wish in sheet.wishes_added:
        wishes[wish.key] = wish
        said.setdefault(wish.key, []).append("logged")
    for wish in sheet.wishes_decided:
        assert wish.decision is not None
        wishes[wish.key] = wish
        said.setdefault(wish.key, []).append(f"decided: {wish.decision.way}")
    return tuple(
        WishLine(
            text=wish.text,
            said=", ".join(said[key]),
            address=addresses.wish_at(slug, key),
            printed=i < PRINTED_LINES,
        )
        for i, (key, wish) in enumerate(wishes.items())
    )


def _added_words(sheet: WeekSheet) -> str:
    """How many tasks the build has beyond its baseline, "" where there is none."""
    if sheet.earned is None:
        return ""
    count = len(sheet.added_tasks)
    if not count:
        return "Every task stands in the baseline."
    verb = "is" if count == 1 else "are"
    return f"{words.count(count, 'task')} {verb} not in the baseline."


def _figures(earned: Earned | None) -> tuple[FigureLine, ...]:
    if earned is None:
        return ()
    values = {one.name: _figure_words(one.value, one.unit) for one in earned.figures}
    return tuple(
        FigureLine(
            name=figure.name,
            value=values[figure.name],
            words=FIGURE_WORDS[figure.name],
            how=earned_how(figure.name, values),
        )
        for figure in map(earned.figure, EARNED_NAMES)
    )


def _figure_words(value: float | None, unit: str) -> str:
    if value is None:
        return words.NOTHING
    if unit == "hours":
        return words.tenth_hours(value)
    if unit == "weeks":
        text = words.number(value, 1)
        return f"{text} week" if text == "1" else f"{text} weeks"
    sign = words.MINUS if value < 0 else ""
    return f"{sign}{abs(value):.2f}"


# --- week by week ---------------------------------------------------------------------------


def _earned_by_week(sheet: WeekSheet) -> dict[tuple[int, int], float]:
    """Hours earned within each week, those of the running one as far as it has gone."""
    found: dict[tuple[int, int], float] = {}
    before = 0.0
    for week in sheet.earned.weeks if sheet.earned is not None else ():
        if week.ev is None:
            break
        found[week.iso_year, week.iso_week] = week.ev - before
        before = week.ev
    return found


def _week_lines(slug: str, sheet: WeekSheet) -> tuple[WeekLine, ...]:
    """Every week of the record, the last first."""
    earned = _earned_by_week(sheet)
    lines = []
    for one in reversed(sheet.record):
        week = one.iso_year, one.iso_week
        lines.append(
            WeekLine(
                name=label_of(week),
                address=addresses.week(slug, label_of(week)),
                promised=_hours(one.promised_hours),
                worked=_hours(one.worked_hours),
                earned=_hours(earned[week]) if week in earned else words.NOTHING,
                current=week == (sheet.iso_year, sheet.iso_week),
            )
        )
    return tuple(lines)


def _pictures(sheet: WeekSheet, chosen: tuple[int, int]) -> tuple[WeeksPicture, ...]:
    """The weeks up to the sheet's own, on a broad sheet and on an upright one."""
    earned = _earned_by_week(sheet)
    columns = [
        WeekColumn(
            text=f"wk {one.iso_week}",
            promised=one.promised_hours,
            worked=one.worked_hours,
            earned=earned.get((one.iso_year, one.iso_week)),
            chosen=(one.iso_year, one.iso_week) == chosen,
        )
        for one in sheet.record
        if (one.iso_year, one.iso_week) <= chosen
    ]
    if not columns:
        return ()
    return (
        weeks_picture(columns[-BROAD_WEEKS:]),
        weeks_picture(columns[-UPRIGHT_WEEKS:], upright=True),
    )
