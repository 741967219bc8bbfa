"""Hours written down: days that can not be, and hours that are hardly right and asked about.

Every form that takes such hours asks here: stopping on the Bench, the time log, the form of a task.
"""

import datetime as dt
from collections.abc import Iterable

from webapp.build.bench_clock import ClockHours
from webapp.build.build_input import BuildInput, LogEntry, Task
from webapp.build.time.promised_days import PromisedDays
from webapp.pages.words import amounts as words
from webapp.pages.words.quoted import shown

DAY_HOURS = 24.0
FAR_OVER_HOURS = 4.0
FAR_OVER_TIMES = 2.0
"""More than twice what can be reckoned with (the day's session, the clock, the most a task was
estimated at) and four hours over it is by far over. Common practice, no source."""


def fault_of_day(build: BuildInput, on: dt.date) -> str:
    """Why no hours can have been worked on a date; "" where they can."""
    today = build.now.date()
    day = words.day(on, today=today)
    if on > today:
        return f"{day} is still to come. Hours are written down once they are worked."
    if build.starts_on is not None and on < build.starts_on:
        return (
            f"The build {_starts(build.starts_on, today)}; {day} lies before. "
            "Type a later day, or move the start of the build in the Shop."
        )
    return ""


def fault_of_today(build: BuildInput) -> str:
    """Why no hands-on work can begin today; "" where it can."""
    today = build.now.date()
    if build.starts_on is None or today >= build.starts_on:
        return ""
    return (
        f"The build {_starts(build.starts_on, today)}, and the plan counts no hour before. "
        "If work begins today, set the start of the build to today in the Shop first."
    )


def _starts(starts_on: dt.date, today: dt.date) -> str:
    day = words.day(starts_on, today=today)
    return f"began {day}" if starts_on <= today else f"starts {day}"


def question_about(build: BuildInput, others: Iterable[LogEntry], on: dt.date, hours: float) -> str:
    """What is odd about hours worked on a date beside the other entries; "" where nothing is."""
    total = hours + sum(entry.bench_hours for entry in others if entry.on == on)
    hands = max(1, build.shop.people)
    day = words.day(on, today=build.now.date())
    if total > DAY_HOURS * hands:
        of_all = "" if hands == 1 else f" for each of {hands} people"
        return (
            f"That makes {words.worked(total)} on {day}, and a day has 24{of_all}. "
            "Was some of it on another day?"
        )
    session = PromisedDays(build).hours(on) * hands
    if is_far_over(total, session):
        was_open = (
            f"the shop was open for {words.worked(session)}" if session else "the shop was closed"
        )
        return f"That makes {words.worked(total)} on {day}, when {was_open}. Is it right?"
    return ""


def question_about_clock(ran: ClockHours, hours: float) -> str:
    """What is odd about hours at the bench beside its clock; "" where nothing is."""
    by_clock = ran.setup_hours + ran.worked_hours
    if not is_far_over(hours, by_clock):
        return ""
    return f"The clock ran for {words.worked(by_clock)}, and {words.worked(hours)} are typed."


def question_about_left(task: Task, hours: float | None) -> str:
    """What is odd about hours left beside the estimate of a task; "" where nothing is."""
    most = task.hours.pessimistic
    if hours is None or not is_far_over(hours, most) or hours == task.hours_left:
        return ""
    return (
        f"{words.worked(hours)} left is far more than the {words.worked(most)} that"
        f" “{shown(task.name)}” takes if it fights you."
    )


def is_far_over(hours: float, reckoned: float) -> bool:
    """Whether hours are by far more than what can be reckoned with."""
    return hours > reckoned * FAR_OVER_TIMES and hours > reckoned + FAR_OVER_HOURS


def sure_of(*questions: str) -> str:
    """What is asked of a form, all at once; "" where nothing is."""
    asked = " ".join(question for question in questions if question)
    return f"{asked} If it is right, tick that it is, and press again." if asked else ""
