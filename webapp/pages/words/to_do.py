"""What there is to do in the Sunday half hour, in sentences: asked, answered, refused."""

import datetime as dt
from collections.abc import Sequence

from webapp.build.build_input import BuildInput, Moment, Part
from webapp.build.shop import DayHours
from webapp.pages.words import amounts as words
from webapp.pages.words.field_writers import TASK, day_hours_words
from webapp.pages.words.names import named

KINDS = {
    "evening": "An evening without hours",
    "part": "A part that should be here",
    "outside": "Outside work due",
    "wish": "A wish undecided",
    "outrun": "How much is left?",
}
"""What kind of line it is; a session in the morning is an evening too."""
NOTHING_TO_DO = "Nothing is left to do: every evening, part and wish has its answer."
MORE_AFTER = "{count} more come up as these are answered."
NOT_STORED = "Nothing was stored by this press."
NO_SUCH_LINE = (
    "There is no such line in what there is to do, or it is not answered like that. What there is"
    " stands on the Week page."
)


def evening_asked(sessions: tuple[DayHours, ...]) -> str:
    """ "The shop was open 18:30 to 21:30, ... and no hours are written down. Were you there?" """
    return (
        f"The shop was open {day_hours_words(sessions)}, there was work to do, and no hours are"
        " written down. Were you there?"
    )


def part_asked(part: Part, said: Moment, waiting: Sequence[str], *, today: dt.date) -> str:
    """When a part should have come, and what waits for it."""
    of = f" from {part.supplier}" if part.supplier else ""
    text = f"It should have come{of} on {words.day(said, today=today)}."
    if waiting:
        text += f" {named(waiting)} {'waits' if len(waiting) == 1 else 'wait'} for it."
    return text


def outside_asked(due: dt.datetime, *, today: dt.date) -> str:
    return f"It should have come back on {words.day(due, today=today)}."


def wish_asked(logged_on: dt.date, *, today: dt.date) -> str:
    return f"Logged {words.day(logged_on, today=today)}."


def outrun_asked(worked: float, expected: float) -> str:
    return (
        f"{words.worked(worked)} are worked on it, and {words.worked(expected)} were expected in"
        " all. How much is left?"
    )


def evening_logged(build: BuildInput, day: dt.date, *, today: dt.date) -> str:
    """What was written down for a date meanwhile."""
    told = [
        f"{words.worked(entry.bench_hours)} on {TASK(entry.task, build, today)}"
        for entry in build.log
        if entry.on == day
    ]
    stand = "stands" if len(told) == 1 else "stand"
    return (
        f"{words.day(day, today=today)} is answered: {words.listed(told)} {stand} in the time log"
        f" by now. {NOT_STORED}"
    )


def typed_hours(typed: str, task: str) -> str:
    """What was typed and not stored, so that nobody has to remember it; "" for nothing."""
    if not typed:
        return ""
    of = f" on “{task}”" if task else ""
    return f"You typed {typed} h{of}: if they were worked as well, write them into the time log."


def nobody_in_already(day: dt.date, *, today: dt.date) -> str:
    return (
        f"{words.day(day, today=today)} is answered: it was said meanwhile that nobody was in the"
        f" shop. {NOT_STORED}"
    )


def no_evening(day: dt.date, *, today: dt.date) -> str:
    """Why a date is none of the evenings that are asked about."""
    at = words.day(day, today=today)
    if day > today:
        return f"{at} is still to come: nothing is asked about it yet. {NOT_STORED}"
    return (
        f"{at} is no evening without hours: the shop was closed, is open yet, or there was nothing"
        f" to work on. {NOT_STORED}"
    )


def not_a_day_to_come(day: dt.date, *, today: dt.date) -> str:
    """A new day has to lie ahead: else the line would stand there again at once."""
    when = "is today" if day == today else "has gone by"
    return f"{words.day(day, today=today)} {when}. Type a day that is still to come."
