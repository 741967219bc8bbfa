"""The tasks of a run, or of all runs of a circuit, in one press: what it would make, and making."""

from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key, get_by_key
from webapp.build.circuit_dependencies import as_planned
from webapp.build.edited import Edited, Lost
from webapp.build.plumbing import Run
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.plumbing.seen import Seen
from webapp.pages.plumbing.work_forms import Press
from webapp.pages.words import plumbing_tasks as said
from webapp.pages.words.how import How
from webapp.planning.chances.factors import NO_SETUP
from webapp.plumbing.run_hours import run_rates
from webapp.plumbing.run_tasks import RunTasksMade, with_circuit_tasks, with_run_tasks
from webapp.services.forecast_figures import record_factors

OF_RUN, OF_CIRCUIT = "run-tasks", "circuit-tasks"


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskLine:
    """One task that would be made, with its hours, or its days outside."""

    name: str
    hours: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TasksView:
    """What one press would make; `about` says which runs of a circuit have none."""

    about: str
    lines: tuple[TaskLine, ...]
    source: str
    press: Press
    how: How


def stretch_of(build: BuildInput) -> float:
    """What the plan multiplies the hours of work without a setup with."""
    return record_factors(as_planned(build)).of_kind(NO_SETUP).factor


def run_tasks_view(seen: Seen, key: str) -> TasksView | None:
    """The tasks that a run would make; None where it has some, or nothing is left to do."""
    if not lacks_tasks(seen, seen.runs[key].run):
        return None
    build = seen.build
    stretch = stretch_of(build)
    made = with_run_tasks(build, key, stretched_by=stretch)
    return _view(build, made, OF_RUN, key, stretch)


def circuit_tasks_view(seen: Seen, key: str) -> TasksView | None:
    """The same of every run of a circuit that has none."""
    if not any(lacks_tasks(seen, one.run) for one in seen.runs_of[key]):
        return None
    build = seen.build
    stretch = stretch_of(build)
    made = with_circuit_tasks(build, key, stretched_by=stretch)
    return _view(build, made, OF_CIRCUIT, key, stretch)


def lacks_tasks(seen: Seen, run: Run) -> bool:
    """Whether a run may make tasks: it has none, and is not on for good."""
    return run.clamped_on is None and not any(key in seen.tasks for key in run.tasks)


def _view(
    build: BuildInput, made: RunTasksMade, does: str, key: str, stretch: float
) -> TasksView | None:
    if not made.keys:
        return None
    rates = run_rates(build)
    tasks = [get_by_key(made.build.tasks, task) for task in made.keys]
    had = {run.key: run.tasks for run in build.plumbing.runs}
    runs = sum(run.tasks != had[run.key] for run in made.build.plumbing.runs)
    return TasksView(
        about=said.without_said(runs) if does == OF_CIRCUIT else "",
        lines=tuple(
            TaskLine(
                name=task.name,
                hours=said.hours_said(task.hours.expected)
                if task.outside_days is None
                else said.outside_said(task.outside_days),
            )
            for task in tasks
        ),
        source=said.source_said(rates),
        press=Press(does=does, words=said.press_words(len(tasks)), about=key),
        how=said.hours_how(rates, stretch),
    )


def make_tasks(form: TypedForm, build: BuildInput) -> Edited[str]:
    """Make the tasks; where they are made already, nothing is to be done."""
    key, does = form.typed("about"), form.typed("does")
    if does == OF_RUN and find_by_key(build.plumbing.runs, key) is not None:
        made = with_run_tasks(build, key, stretched_by=stretch_of(build))
    elif does == OF_CIRCUIT and find_by_key(build.plumbing.circuits, key) is not None:
        made = with_circuit_tasks(build, key, stretched_by=stretch_of(build))
    else:
        kind = "circuit" if does == OF_CIRCUIT else "run"
        return Edited(build=build, made=key, lost=Lost(kind=kind, key=key))
    return Edited(build=made.build, made=key)
