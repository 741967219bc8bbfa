"""The forms of the Bench: begin, stop and done; what is typed, to an edit of the build."""

import datetime as dt

from webapp.build.bench_clock import clock_hours
from webapp.build.build_input import BuildInput, RunningClock, Task
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.hours_to_go import hours_left_after, hours_to_go_of
from webapp.build.verbs.work import (
    OUTCOMES,
    Outcome,
    Stop,
    begun_build,
    finished_build,
    needs_hands,
    stopped_build,
)
from webapp.pages.forms.hours_asked import (
    fault_of_today,
    question_about,
    question_about_clock,
    question_about_left,
    sure_of,
)
from webapp.pages.forms.open_before import unfinished_words, waiting_words
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import clock_text
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.words import amounts as words
from webapp.pages.words.held_circuits import asked_at_begin

LONG_RUN_HOURS = 8
CONFIRMED = "confirmed"
"""The field that says which outcome was asked about and is meant."""


def stop_form(build: BuildInput, clock: RunningClock, then: str = "") -> TypedForm:
    """The stop form filled in from the running clock; `then` is the task that goes on after it."""
    ran = clock_hours(build)
    task = find_by_key(build.tasks, clock.task)
    before = hours_to_go_of(build, task) if task else 0.0
    return TypedForm(
        {
            "task": (clock.task,),
            "run": (_run_of(build, clock),),
            "setup": (clock_text(ran.setup_hours) if ran.setup_hours else "",),
            "worked": (clock_text(ran.worked_hours),),
            "left": (clock_text(hours_left_after(before, ran.worked_hours)),),
            "then": (then,),
        }
    )


def stop_hint(clock: RunningClock, now: dt.datetime) -> str:
    """What is to be known about a clock that ran long, or over midnight."""
    hint = ""
    if (now - clock.since).total_seconds() / 3600 > LONG_RUN_HOURS:
        ran = words.running(clock.since, now)
        hint = f"The clock ran on for {ran}. Put in what was really worked."
    if clock.since.date() < now.date():
        day = words.day(clock.since, today=now.date())
        hint = f"{hint} The clock ran over midnight: the hours go to {day}, the day it began."
    return hint.strip()


def stop(form: TypedForm, build: BuildInput) -> Edited[bool]:
    """The edit that takes the task off the bench with its hours; whether it was on it is made.

    The clock is looked at here, in the moment of storing: of two who stop it one logs the hours.
    """
    key, clock = form.typed("task"), build.on_bench
    if clock is None or clock.task != key:
        return Edited(build=build, made=False, is_refused=True)
    if not _is_the_run(form, build, clock):
        form.fault(
            "",
            "This work was stopped and begun again elsewhere meanwhile: the clock runs since"
            f" {words.moment(clock.since, today=build.now.date())}. Nothing is stored yet. If these"
            " hours were worked since then, press again; what was worked before stands in the time"
            " log.",
        )
        form.put("run", _run_of(build, clock))
        return Edited(build=build, made=True, is_refused=True)
    task = find_by_key(build.tasks, key)
    if task is None:
        return Edited(build=build, made=False, lost=Lost(kind="task", key=key))
    on, meant = clock.since.date(), _read_stop(form)
    if not form.faults:
        _ask(form, build, task, meant, on)
    return Edited(build=stopped_build(build, key, meant, on=on, now=build.now), made=True)


def _ask(form: TypedForm, build: BuildInput, task: Task, meant: Stop, on: dt.date) -> None:
    """Note what is to be asked before hours are taken, and before a task is finished or aside."""
    at_bench = meant.worked_hours + meant.setup_hours
    question = sure_of(
        question_about(build, build.log, on, at_bench),
        question_about_clock(clock_hours(build), at_bench),
        question_about_left(task, meant.left_hours),
    )
    if question and not form.ticked("sure"):
        form.fault("sure", question)
    if form.typed("confirmed") == meant.outcome:
        return
    if meant.outcome == "finished" and (before := unfinished_words(build, task)):
        form.fault(CONFIRMED, before)
    if meant.outcome == "set_aside":
        form.fault(CONFIRMED, waiting_words(build, task))


def _run_of(build: BuildInput, clock: RunningClock) -> str:
    """What tells one run of the clock from the next: when it began, and what was logged by then."""
    logged = sum(entry.task == clock.task for entry in build.log)
    return f"{clock.since.isoformat()} {logged}"


def _is_the_run(form: TypedForm, build: BuildInput, clock: RunningClock) -> bool:
    """Whether the form was opened for the run of the clock that is on now.

    Two runs that begin within one minute are told apart by the log, which others write into too:
    it is looked at in that minute alone.
    """
    run, now = form.typed("run"), _run_of(build, clock)
    if not run or run == now:
        return True
    is_in_its_minute = build.now - clock.since < dt.timedelta(minutes=1)
    return run.partition(" ")[0] == now.partition(" ")[0] and not is_in_its_minute


def stopped_elsewhere(form: TypedForm, build: BuildInput) -> str:
    """What is said to the second of two who stop the same work: nothing typed goes unsaid."""
    task = find_by_key(build.tasks, form.typed("task"))
    name = f"“{task.name}”" if task else "That work"
    return (
        f"{name} was stopped elsewhere meanwhile. The {form.typed('worked') or '0'} hours that you"
        " typed were not logged once more. If they were worked as well, write them into the time"
        " log."
    )


def _read_stop(form: TypedForm) -> Stop:
    sent = form.typed("outcome")
    outcome: Outcome = next((one for one in OUTCOMES if one == sent), "stopped")
    worked = form.hours("worked", "Hours worked", needed=True)
    setup = form.hours("setup", "Getting out")
    left = None
    if outcome != "finished":
        left = form.hours("left", "Hours left", needed=True)
        if left == 0:
            form.fault("left", "Nothing left to do means it is finished: say so below.")
    return Stop(
        outcome=outcome,
        worked_hours=worked or 0.0,
        left_hours=left or 0.0,
        setup_hours=setup or 0.0,
    )


def begin(key: str, asked_first: str = "") -> FormEdit[bool]:
    """The edit that begins a task; False is made where another is on the bench.

    Its clock runs where it needs hands. The hours of the other would be lost. What circuits hold
    is asked about, and `asked_first` of work for hands, unless the form says that it is meant.
    """

    def edit(form: TypedForm, build: BuildInput) -> Edited[bool]:
        task = find_by_key(build.tasks, key)
        if task is None:
            return Edited(build=build, made=True, lost=Lost(kind="task", key=key))
        if not task.is_open:
            form.fault("", not_open_words(build, task))
            return Edited(build=build, made=True, is_refused=True)
        if build.on_bench is not None and build.on_bench.task != key and needs_hands(task):
            return Edited(build=build, made=False, is_refused=True)
        if task.finished_on is not None:
            form.fault("", f"“{task.name}” is finished already. Its own page opens it again.")
            return Edited(build=build, made=True, is_refused=True)
        if needs_hands(task) and (too_early := fault_of_today(build)):
            form.fault("", too_early)
            return Edited(build=build, made=True, is_refused=True)
        asked = (asked_first if needs_hands(task) else "", asked_at_begin(build, key))
        if not form.ticked("sure") and any(asked):
            for one in filter(None, asked):
                form.fault("sure", one)
            return Edited(build=build, made=True, is_refused=True)
        return Edited(build=begun_build(build, key, now=build.now), made=True)

    return edit


def not_open_words(build: BuildInput, task: Task) -> str:
    """Why work that is finished or set aside is not begun, and what to do if it is to go on."""
    today = build.now.date()
    if task.finished_on is not None:
        return (
            f"“{task.name}” is finished since {words.moment(task.finished_on, today=today)}:"
            " nothing was begun. If there is work left, empty “Finished on” on its page first."
        )
    assert task.set_aside_on is not None
    return (
        f"“{task.name}” is set aside since {words.day(task.set_aside_on, today=today)}: nothing"
        " was begun. To take it up again, empty “Set aside on” on its page first."
    )


def done(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The edit that finishes work which needed no hands: back from outside, or run to its end."""
    key = form.typed("task")
    task = find_by_key(build.tasks, key)
    if task is None:
        return Edited(build=build, made=None, lost=Lost(kind="task", key=key))
    if task.is_open and not form.ticked("sure") and (asked := unfinished_words(build, task)):
        form.fault("sure", asked)
    changed = finished_build(build, key, now=build.now) if task.is_open else build
    return Edited(build=changed, made=None)
