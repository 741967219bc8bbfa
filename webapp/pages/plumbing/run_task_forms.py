"""The tasks of a run as a form: which are made of it, with which hours, or which of those that are
there make or fit it."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key, get_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.limits import MOST_HOURS
from webapp.build.plumbing import Run
from webapp.build.verbs.runs import change_run
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import clock_text
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.plumbing.seen import Seen
from webapp.pages.plumbing.tasks_of_runs import lacks_tasks, stretch_of
from webapp.pages.words import plumbing_tasks as said
from webapp.pages.words.how import How
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.run_hours import ALL_STEPS, HoursEach, RunStep, run_counts, run_rates
from webapp.plumbing.run_tasks import with_run_tasks

BLANK_TASKS = 1
ROWS = (Rows(stems=("task",), identity="task"),)
EACH = tuple(one.name for one in fields(HoursEach))
MOST_DAYS = 365.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StepRow:
    """One task that can be made: its name, what its hours are made of, and in what they count."""

    step: RunStep
    field: str
    name: str
    about: str
    unit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepsView:
    """The tasks that a run can make; `each` are the hours that can be typed for each thing."""

    rows: tuple[StepRow, ...]
    each: tuple[tuple[str, str], ...]
    source: str
    how: How


def steps_view(seen: Seen, key: str) -> StepsView | None:
    """What a run can make; None where it has tasks, or nothing is left to do."""
    if not lacks_tasks(seen, seen.runs[key].run):
        return None
    build = seen.build
    stretch = stretch_of(build)
    made = with_run_tasks(build, key, stretched_by=stretch)
    if not made.keys:
        return None
    counts = run_counts(seen.drawing, seen.runs[key].run)
    tasks = [get_by_key(made.build.tasks, task) for task in made.keys]
    rows = tuple(
        StepRow(
            step=step,
            field=field_of(step),
            name=task.name,
            about=said.counted_said(step, counts),
            unit="days" if task.outside_days is not None else "hours",
        )
        for step, task in zip(made.steps, tasks, strict=True)
    )
    wanted = {name for row in rows for name in said.EACH_OF[row.step]}
    there = {name for name in EACH if said.count_of(name, counts)}
    rates = run_rates(build)
    return StepsView(
        rows=rows,
        each=tuple((name, said.EACH_WORDS[name]) for name in EACH if name in wanted & there),
        source=said.source_said(rates),
        how=said.hours_how(rates, stretch),
    )


def field_of(step: RunStep) -> str:
    """What stands behind the dash in the names of the fields of a step."""
    return step.replace(" ", "-")


def opened_steps(build: BuildInput, key: str) -> TypedForm:
    """The form of the tasks of a run: all of them ticked, with the hours that are reckoned."""
    stretch = stretch_of(build)
    made = with_run_tasks(build, key, stretched_by=stretch)
    each = run_rates(build).each(stretch)
    values = {f"each-{name}": clock_text(getattr(each, name)) for name in EACH}
    for step, task in zip(made.steps, made.keys, strict=True):
        of = get_by_key(made.build.tasks, task)
        days = of.outside_days
        values[f"make-{field_of(step)}"] = "on"
        values[f"amount-{field_of(step)}"] = (
            clock_text(of.hours.most_likely) if days is None else f"{days:g}"
        )
    return TypedForm({name: (text,) for name, text in values.items()})


def reckoned(form: TypedForm, build: BuildInput, key: str) -> TypedForm:
    """The same form, its hours worked out anew from what is typed for each thing."""
    each = _read_each(form, build)
    if form.faults:
        return form
    counts = run_counts(Drawing(build), get_by_key(build.plumbing.runs, key))
    texts = {name: given for name, given in form.values.items() if given}
    for step in ALL_STEPS:
        if f"amount-{field_of(step)}" in texts and step != "made outside":
            texts[f"amount-{field_of(step)}"] = (clock_text(counts.hours(step, each)),)
    return TypedForm(texts)


def _read_each(form: TypedForm, build: BuildInput) -> HoursEach:
    found = run_rates(build).each(stretch_of(build))
    for name in EACH:
        hours = form.hours(f"each-{name}", said.EACH_WORDS[name])
        if hours is not None:
            found = replace(found, **{name: hours})
    return found


def make_steps(key: str) -> FormEdit[str]:
    """The edit that makes the tasks that are ticked, with their hours."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        run = find_by_key(build.plumbing.runs, key)
        if run is None:
            return Edited(build=build, made=key, lost=Lost(kind="run", key=key))
        wanted = _read_steps(form)
        if form.faults:
            return Edited(build=build, made=key)
        made = with_run_tasks(build, key, stretched_by=stretch_of(build), said=wanted)
        return Edited(build=made.build, made=key)

    return edit


def _read_steps(form: TypedForm) -> Mapping[RunStep, float]:
    wanted: dict[RunStep, float] = {}
    for step in ALL_STEPS:
        field = f"amount-{field_of(step)}"
        if not form.ticked(f"make-{field_of(step)}"):
            continue
        label = said.STEP_WORDS[step]
        if step == "made outside":
            amount = form.decimal(field, f"{label}, days", needed=True, at_most=MOST_DAYS)
        else:
            amount = form.hours(field, f"{label}, hours", needed=True, at_most=MOST_HOURS)
        wanted[step] = amount or 0.0
        if amount == 0:
            form.fault(field, f"{label}: 0 is nothing to do. Untick it, or type how long it takes.")
    if not set(wanted) - {"test"}:
        form.fault("", "Nothing is ticked. Tick the tasks that are to be made.")
    return wanted


# --- tasks that are there ---------------------------------------------------------------------


def shown_tasks(build: BuildInput, run: Run) -> Shown:
    """The form of the tasks that make or fit a run."""
    return Shown().pick_rows("task", run.tasks, PickList.of("task", build.tasks), BLANK_TASKS)


def name_tasks(key: str) -> FormEdit[str]:
    """The edit that says which tasks make or fit a run."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        run = find_by_key(build.plumbing.runs, key)
        if run is None:
            return Edited(build=build, made=key, lost=Lost(kind="run", key=key))
        if not form.settle(shown_tasks(build, run), ROWS):
            return Edited(build=build, made=key)
        picks = PickList.of("task", build.tasks)
        rows = form.row_numbers("task")
        named = (form.picked(f"task-{row}", "What makes or fits it", picks) for row in rows)
        tasks = tuple(dict.fromkeys(one for one in named if one is not None))
        if form.faults:
            return Edited(build=build, made=key)
        return change_run(build, replace(run, tasks=tasks))

    return edit


def place_of_fault(_made: str, fault: Fault) -> str:
    """Which field a fault of the build belongs to."""
    return "task-0" if fault.kind in ("task", "run", "dependency") else ""
