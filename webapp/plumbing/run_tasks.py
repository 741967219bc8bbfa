"""The tasks of a run: cut, bead, fit, clamp, and the test of its circuit, with their hours."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from webapp.build.assumed_range import shares_of_kind
from webapp.build.build_input import BuildInput, Dependency, Step, Task
from webapp.build.by_key import find_by_key, get_by_key, replaced_by_key
from webapp.build.circuit_dependencies import CIRCUIT
from webapp.build.plumbing import Circuit, Run
from webapp.build.three_point import ThreePoint
from webapp.build.verbs.wish_tasks import fresh_key
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.names import is_by_length, piece_name
from webapp.plumbing.run_hours import (
    ASSUMED,
    OWN_STEPS,
    RunCounts,
    RunRates,
    RunStep,
    run_counts,
    run_rates,
    step_key,
)
from webapp.plumbing.sizes import mm_words

OUTSIDE_DAYS = 7.0
"""Until a run comes back that somebody licensed makes: assumed, no source."""
_LEAST_HOURS = 0.1
LICENSED_CAUTION = "Local codes and licensed practice come first."
Said = Mapping[RunStep, float]
"""The steps of which tasks are wanted, with their likely hours; made outside: with its days."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunTasksMade:
    """The build with the tasks of a run, their keys and their steps; none where it has its tasks
    already."""

    build: BuildInput
    keys: tuple[str, ...]
    steps: tuple[RunStep, ...] = ()


def with_run_tasks(
    build: BuildInput, key: str, *, stretched_by: float = 1.0, said: Said | None = None
) -> RunTasksMade:
    """Make what is left to do at a run into tasks, in their order, before what its circuit holds.

    A run that has tasks gets none: once made they are not made twice. The test is made once a
    circuit, where it has to be tested and holds no task that is called a test. `stretched_by` is
    what the plan multiplies hours of work without a setup with, so that nothing is counted twice.
    With `said` only the steps in it, with these hours. KeyError without such a run.
    """
    drawing, rates = Drawing(build), run_rates(build)
    run = get_by_key(build.plumbing.runs, key)
    return _made(build, run, drawing, rates, stretched_by, said)


def _made(
    build: BuildInput,
    run: Run,
    drawing: Drawing,
    rates: RunRates,
    stretched_by: float,
    said: Said | None = None,
) -> RunTasksMade:
    """The tasks of a run; `drawing` and `rates` may be of the build before tasks were made."""
    if any(find_by_key(build.tasks, task) for task in run.tasks):
        return RunTasksMade(build=build, keys=())
    circuit = get_by_key(build.plumbing.circuits, drawing.circuit_of(run).key)
    counts, taken = run_counts(drawing, run), {task.key for task in build.tasks}
    steps = tuple(step for step in _steps(run, counts) if said is None or step in said)
    reckoned = {step: counts.hours(step) * rates.of(step) / stretched_by for step in steps}
    wanted = reckoned if said is None else said
    tasks = []
    for step in steps:
        task = _task(build, drawing, run, circuit, step, wanted[step], taken)
        taken.add(task.key)
        tasks.append(task)
    if not tasks:
        return RunTasksMade(build=build, keys=())
    keys = [task.key for task in tasks]
    links = [
        Dependency(before=one, after=next_one, why=f"run {run.name or run.key}")
        for one, next_one in pairwise(keys)
    ]
    made = replace(
        build,
        tasks=(*build.tasks, *tasks),
        dependencies=(*build.dependencies, *links),
        plumbing=replace(
            build.plumbing,
            runs=replaced_by_key(build.plumbing.runs, replace(run, tasks=tuple(keys))),
        ),
    )
    test_hours = ASSUMED.test * rates.factor / stretched_by
    if said is not None:
        test_hours = said.get("test", 0.0)
    made, test = _with_test(made, circuit, test_hours)
    made = _before_what_is_held(made, circuit.key, keys[-1])
    all_steps: tuple[RunStep, ...] = (*steps, "test") if test else steps
    return RunTasksMade(build=made, keys=(*keys, *test), steps=all_steps)


def _task(
    build: BuildInput,
    drawing: Drawing,
    run: Run,
    circuit: Circuit,
    step: RunStep,
    amount: float,
    taken: set[str],
) -> Task:
    """The task of one step, with so many likely hours; of what is made outside so many days."""
    is_outside = step == "made outside"
    hours = round(max(amount, _LEAST_HOURS), 2)
    shares = shares_of_kind(build, None)
    return Task(
        key=fresh_key(step_key(run.key, step), taken),
        name=_name(run, step),
        hours=ThreePoint.certain(0.0) if is_outside else shares.round(hours),
        subsystem=circuit.subsystem,
        outside_days=(amount or OUTSIDE_DAYS) if is_outside else None,
        caution=LICENSED_CAUTION if run.licensed else "",
        notes=f"Made by: {run.licensed}" if is_outside else "",
        steps=tuple(_lengths(drawing, run)) if step == "cut" else (),
        spread_assumed=not is_outside,
    )


def with_circuit_tasks(build: BuildInput, key: str, *, stretched_by: float = 1.0) -> RunTasksMade:
    """The same for every run of a circuit that has no tasks. KeyError without such a circuit."""
    get_by_key(build.plumbing.circuits, key)
    made = RunTasksMade(build=build, keys=())
    drawing, rates = Drawing(build), run_rates(build)
    for run in drawing.runs_by_circuit[key]:
        next_one = _made(made.build, run, drawing, rates, stretched_by)
        made = RunTasksMade(build=next_one.build, keys=(*made.keys, *next_one.keys))
    return made


def _steps(run: Run, counts: RunCounts) -> Iterator[RunStep]:
    """What is left to do, in its order."""
    if run.cut_on is None and run.fitted_on is None:
        if run.licensed:
            yield "made outside"
        else:
            yield from (step for step in OWN_STEPS[:2] if counts.hours(step))
    if run.fitted_on is None:
        yield "fit"
    if run.clamped_on is None and counts.closings:
        yield "clamp"


def _name(run: Run, step: RunStep) -> str:
    called = run.name or run.key
    match step:
        case "made outside":
            return f"Have made: {called}"
        case "bead":
            return f"Bead and weld: {called}"
        case _:
            return f"{step.capitalize()}: {called}"


def _lengths(drawing: Drawing, run: Run) -> Iterator[Step]:
    """A step for each length to cut, each told from the others by its place in the run."""
    for number, (piece, circuit) in enumerate(drawing.pieces_of(run), start=1):
        if is_by_length(piece):
            length = mm_words(piece.length_mm or 0.0)
            yield Step(text=f"Piece {number}: {piece_name(piece, circuit)}, {length} mm")


def _with_test(
    build: BuildInput, circuit: Circuit, hours: float
) -> tuple[BuildInput, tuple[str, ...]]:
    """With the task that tests a circuit among those it holds, before the others of them; none
    where it has no hours."""
    held = [task for key in circuit.holds if (task := find_by_key(build.tasks, key))]
    is_there = any("test" in f"{task.key} {task.name}".casefold() for task in held)
    if not circuit.test or circuit.tested_on is not None or is_there or not hours:
        return build, ()
    taken = {task.key for task in build.tasks}
    task = Task(
        key=fresh_key(step_key(circuit.key, "test"), taken),
        name=f"Test: {circuit.name}",
        hours=shares_of_kind(build, None).round(round(hours, 2)),
        subsystem=circuit.subsystem,
        steps=(Step(text=circuit.test),),
        spread_assumed=True,
    )
    links = (
        Dependency(before=task.key, after=other.key, why=f"{CIRCUIT} {circuit.key}")
        for other in held
        if other.is_open
    )
    circuits = replaced_by_key(
        build.plumbing.circuits, replace(circuit, holds=(task.key, *circuit.holds))
    )
    return replace(
        build,
        tasks=(*build.tasks, task),
        dependencies=(*build.dependencies, *links),
        plumbing=replace(build.plumbing, circuits=circuits),
    ), (task.key,)


def _before_what_is_held(build: BuildInput, key: str, last: str) -> BuildInput:
    """With the last task of a run before every open task that its circuit holds."""
    circuit = get_by_key(build.plumbing.circuits, key)
    links = tuple(
        Dependency(before=last, after=held, why=f"{CIRCUIT} {key}")
        for held in circuit.holds
        if (task := find_by_key(build.tasks, held)) is not None and task.is_open
    )
    return replace(build, dependencies=(*build.dependencies, *links))
