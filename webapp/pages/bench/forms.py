"""Stopping work: hours worked and hours left as they are typed."""

from dataclasses import dataclass

from starlette.datastructures import FormData

from webapp.build.hours_to_go import hours_left_after, hours_to_go_of
from webapp.build.verbs.work import OUTCOMES, Outcome, Stop
from webapp.pages.forms.posted import text_of
from webapp.pages.forms.typed_form import parse_hours
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.storage.bench_clock import RunningClock

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
