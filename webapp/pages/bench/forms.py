"""Stopping work: hours worked and hours left, typed, to what is stored."""

import datetime as dt
from dataclasses import dataclass, replace
from typing import Literal

from starlette.datastructures import FormData

from webapp.build.build_input import BuildInput, LogEntry, Task
from webapp.build.hours_to_go import hours_left_after, hours_to_go_of
from webapp.pages.forms.posted import text_of
from webapp.pages.forms.typed_form import parse_hours
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.storage.bench_clock import RunningClock

Outcome = Literal["stopped", "finished", "set_aside"]
OUTCOMES: tuple[Outcome, ...] = ("stopped", "finished", "set_aside")
LONG_RUN_HOURS = 8
MOST_HOURS = 10_000


@dataclass(frozen=True, slots=True, kw_only=True)
class StopForm:
    """The stop form as typed. `errors` by field name."""

    worked: str
    left: str
    errors: dict[str, list[str]]
    then: str = ""
    hint: str = ""
    sure: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """What became of the task on the bench."""

    outcome: Outcome
    worked_hours: float
    left_hours: float


def clock_hours(hours: float) -> str:
    """Hours as they stand in the form: "1:20"."""
    minutes = round(hours * 60)
    return f"{minutes // 60}:{minutes % 60:02d}"


def stop_form_from_clock(page: PageContext, clock: RunningClock, then: str = "") -> StopForm:
    """The stop form filled in from the running clock."""
    worked = max(0.0, (page.now - clock.since).total_seconds() / 3600)
    task = next((task for task in page.build.tasks if task.key == clock.task_key), None)
    before = hours_to_go_of(page.build, task) if task else 0.0
    hint = ""
    if worked > LONG_RUN_HOURS:
        ran = words.running(clock.since, page.now)
        hint = f"The clock ran on for {ran}. Put in what was really worked."
    if clock.since.date() < page.today:
        day = words.day(clock.since, today=page.today)
        hint = f"{hint} The clock ran over midnight: the hours go to {day}, the day it began."
    return StopForm(
        worked=clock_hours(worked),
        left=clock_hours(hours_left_after(before, worked)),
        errors={},
        then=then,
        hint=hint.strip(),
    )


def read_stop(form: FormData) -> tuple[Stop | None, StopForm]:
    """What was typed, and what it means; None with every error beside its field."""
    typed = StopForm(
        worked=text_of(form, "worked"),
        left=text_of(form, "left"),
        errors={},
        then=text_of(form, "then"),
        sure=bool(text_of(form, "sure")),
    )
    sent = text_of(form, "outcome")
    outcome: Outcome = next((one for one in OUTCOMES if one == sent), "stopped")
    worked = _hours(typed.worked, "worked", "Hours worked", typed.errors)
    left = 0.0
    if outcome != "finished":
        left = _hours(typed.left, "left", "Hours left", typed.errors)
        if not typed.errors.get("left") and left == 0:
            typed.errors["left"] = ["Nothing left to do means it is finished: say so below."]
    if typed.errors:
        return None, typed
    return Stop(outcome=outcome, worked_hours=worked, left_hours=left), typed


def _hours(text: str, field: str, label: str, errors: dict[str, list[str]]) -> float:
    hours = parse_hours(text)
    if not text:
        errors[field] = [f"{label} is empty: write hours as 1.5 or 1:30, or 0."]
    elif hours is None:
        errors[field] = [f"{label} cannot be read: write hours as 1.5 or 1:30."]
    elif not 0 <= hours <= MOST_HOURS:
        errors[field] = [f"{label} must lie between 0 and {MOST_HOURS:,}."]
    else:
        return hours
    return 0.0


def stopped_build(
    build: BuildInput, key: str, stop: Stop, *, on: dt.date, now: dt.datetime
) -> BuildInput:
    """The build after work on a task was stopped; hours worked go into the log on date `on`."""

    def changed(task: Task) -> Task:
        begun = task.begun_on or min(dt.datetime.combine(on, dt.time()), now)
        match stop.outcome:
            case "finished":
                return replace(
                    task, begun_on=begun, finished_on=now, set_aside_on=None, hours_left=None
                )
            case "set_aside":
                return replace(
                    task, begun_on=begun, set_aside_on=now.date(), hours_left=stop.left_hours
                )
            case "stopped":
                return replace(task, begun_on=begun, hours_left=stop.left_hours)

    entry = LogEntry(task=key, on=on, hours=stop.worked_hours, left=stop.left_hours)
    return replace(
        build,
        tasks=tuple(changed(task) if task.key == key else task for task in build.tasks),
        log=(*build.log, entry) if stop.worked_hours > 0 else build.log,
    )


def begun_build(build: BuildInput, key: str, *, now: dt.datetime) -> BuildInput:
    """The build after a task was begun: its setup is out now."""
    task = next(task for task in build.tasks if task.key == key)
    begun = replace(task, begun_on=task.begun_on or now, set_aside_on=None)
    shop = replace(build.shop, setup_out=task.setup) if task.setup else build.shop
    return replace(
        build,
        shop=shop,
        tasks=tuple(begun if one.key == key else one for one in build.tasks),
    )


def finished_build(build: BuildInput, key: str, *, now: dt.datetime) -> BuildInput:
    """The build after work that needed no hands is done: back from outside, or run to its end."""
    return replace(
        build,
        tasks=tuple(
            replace(task, finished_on=now, hours_left=None) if task.key == key else task
            for task in build.tasks
        ),
    )
