"""The tasks of a run: cut, bead, fit, clamp, and the test of its circuit, with hours by its work.

Hours are counted by cut, end, joint, bend and clamp: assumed at first, and drawn towards what the
person's own finished runs took, step by step and all together.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Literal

from webapp.build.assumed_range import shares_of_kind
from webapp.build.build_input import BuildInput, Dependency, Step, Task, ThreePoint
from webapp.build.by_key import find_by_key, get_by_key, replaced_by_key
from webapp.build.circuit_dependencies import CIRCUIT
from webapp.build.logged_hours import logged_hours
from webapp.build.plumbing import Circuit, Run
from webapp.build.verbs.wish_tasks import fresh_key
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.names import is_by_length, piece_name
from webapp.plumbing.sizes import mm_words

RunStep = Literal["made outside", "cut", "bead", "fit", "clamp", "test"]
OWN_STEPS: tuple[RunStep, ...] = ("cut", "bead", "fit", "clamp")
"""What the person's own hands do to a run, in this order; the test is of its circuit."""
CUT_HOURS, BEAD_HOURS, WELD_HOURS = 0.25, 0.2, 0.75
JOINT_HOURS, BEND_HOURS, CLOSING_HOURS = 0.2, 0.25, 0.1
TEST_HOURS = 0.75
"""For one length, one beaded end, one weld; one joint and one bend to fit; one clamp or seal; one
test of a circuit. Assumed, no source."""
OUTSIDE_DAYS = 7.0
"""Until a run comes back that somebody licensed makes: assumed, no source."""
PRIOR_HOURS = 4.0
"""So many hours of the record weigh as much as what is assumed: common practice, no source."""
_LEAST_HOURS = 0.1
LICENSED_CAUTION = "Local codes and licensed practice come first."


@dataclass(frozen=True, slots=True, kw_only=True)
class RunCounts:
    """What there is to do at a run. `closings` are clamps and seals, by joint."""

    cuts: int = 0
    beads: int = 0
    welds: int = 0
    bends: int = 0
    joints: int = 0
    closings: int = 0

    def hours(self, step: RunStep) -> float:
        """The hours that are assumed for a step; 0 where there is nothing to do."""
        match step:
            case "cut":
                return self.cuts * CUT_HOURS
            case "bead":
                return self.beads * BEAD_HOURS + self.welds * WELD_HOURS
            case "fit":
                return self.joints * JOINT_HOURS + self.bends * BEND_HOURS
            case "clamp":
                return self.closings * CLOSING_HOURS
            case "test":
                return TEST_HOURS
            case "made outside":
                return 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RunRates:
    """How the person's own runs went: actual over assumed hours, of all and of each step.

    `runs` and `hours` say what that rests on; without any, all factors are 1: assumed.
    """

    factor: float = 1.0
    by_step: dict[RunStep, float] = field(default_factory=dict)
    runs: int = 0
    hours: float = 0.0

    def of(self, step: RunStep) -> float:
        """The factor of a step, or that of all."""
        return self.by_step.get(step, self.factor)


@dataclass(frozen=True, slots=True, kw_only=True)
class RunTasksMade:
    """The build with the tasks of a run, and their keys; none where it has its tasks already."""

    build: BuildInput
    keys: tuple[str, ...]


# --- what there is to do -------------------------------------------------------------------------


def run_counts(drawing: Drawing, run: Run) -> RunCounts:
    """Count the work of a run as it is drawn."""
    joints = drawing.joints[run.key]
    beads = sum(
        {one.end.kind, other.end.kind} == {"spigot", "hose"} and one.piece is not None
        for joint in joints
        for one, other in ((joint.left, joint.right), (joint.right, joint.left))
        if one.end.kind == "spigot"
    )
    return RunCounts(
        cuts=sum(is_by_length(piece) for piece in run.pieces),
        beads=beads,
        welds=sum(joint.fit.word == "weld" for joint in joints),
        bends=sum(piece.piece in ("elbow", "bend") for piece in run.pieces),
        joints=len(joints),
        closings=sum(
            joint.fit.clamp_over_mm is not None or bool(joint.fit.seals) for joint in joints
        ),
    )


def run_rates(build: BuildInput) -> RunRates:
    """What the record says: tasks of runs that are finished, with the hours logged on them.

    A task that was made for one step tells of that step; of others, those are counted whose runs
    have no other task that is still open, against all the work of these runs.
    """
    drawing, logged = Drawing(build), logged_hours(build.log)
    assumed: dict[RunStep | None, float] = {}
    actual: dict[RunStep | None, float] = {}
    told: set[str] = set()
    for step, hours, took, runs in _records(drawing, logged):
        assumed[step] = assumed.get(step, 0.0) + hours
        actual[step] = actual.get(step, 0.0) + took
        told |= runs
    factor = (sum(actual.values()) + PRIOR_HOURS) / (sum(assumed.values()) + PRIOR_HOURS)
    return RunRates(
        factor=factor,
        by_step={
            step: (actual[step] + PRIOR_HOURS * factor) / (assumed[step] + PRIOR_HOURS)
            for step in assumed
            if step is not None
        },
        runs=len(told),
        hours=sum(actual.values()),
    )


def _records(
    drawing: Drawing, logged: dict[str, float]
) -> Iterator[tuple[RunStep | None, float, float, set[str]]]:
    """Step (None: all of them), hours assumed, hours taken, and the runs they are of."""
    finished = {
        task.key
        for task in drawing.build.tasks
        if task.finished_on is not None and task.outside_days is None
    }
    serves: dict[str, list[Run]] = {}
    for run in drawing.plumbing.runs:
        for key in run.tasks:
            serves.setdefault(key, []).append(run)
    seen: set[str] = set()
    for key, runs in serves.items():
        step = _step_of(key, runs)
        if step is not None:
            if key in finished and logged.get(key):
                hours = run_counts(drawing, runs[0]).hours(step)
                yield step, hours, logged[key], {runs[0].key}
            continue
        if key in seen:
            continue
        keys, around = _together(key, serves)
        seen |= keys
        if keys <= finished and (took := sum(logged.get(one, 0.0) for one in keys)):
            counts = (run_counts(drawing, run) for run in around)
            hours = sum(one.hours(step) for one in counts for step in OWN_STEPS)
            yield None, hours, took, {run.key for run in around}


def _step_of(key: str, runs: list[Run]) -> RunStep | None:
    """The step that a task was made for."""
    if len(runs) != 1:
        return None
    return next((step for step in OWN_STEPS if key == _key_of(runs[0].key, step)), None)


def _together(key: str, serves: dict[str, list[Run]]) -> tuple[set[str], list[Run]]:
    """The tasks that share runs with a task, and theirs, with all these runs."""
    keys, runs, ahead = {key}, dict[str, Run](), [key]
    while ahead:
        for run in serves[ahead.pop()]:
            runs[run.key] = run
            for other in run.tasks:
                if other not in keys:
                    keys.add(other)
                    ahead.append(other)
    return keys, list(runs.values())


# --- the tasks -----------------------------------------------------------------------------------


def with_run_tasks(build: BuildInput, key: str, *, stretched_by: float = 1.0) -> RunTasksMade:
    """Make what is left to do at a run into tasks, in their order, before what its circuit holds.

    A run that has tasks gets none: once made they are not made twice. The test is made once a
    circuit, where it has to be tested and holds no task that is called a test. `stretched_by` is
    what the plan multiplies hours of work without a setup with, so that nothing is counted twice.
    KeyError without such a run.
    """
    drawing, rates = Drawing(build), run_rates(build)
    return _made(build, get_by_key(build.plumbing.runs, key), drawing, rates, stretched_by)


def _made(
    build: BuildInput, run: Run, drawing: Drawing, rates: RunRates, stretched_by: float
) -> RunTasksMade:
    """The tasks of a run; `drawing` and `rates` may be of the build before tasks were made."""
    if any(find_by_key(build.tasks, task) for task in run.tasks):
        return RunTasksMade(build=build, keys=())
    circuit = get_by_key(build.plumbing.circuits, drawing.circuit_of(run).key)
    counts, taken = run_counts(drawing, run), {task.key for task in build.tasks}
    shares = shares_of_kind(build, None)
    tasks = []
    for step in _steps(run, counts):
        is_outside = step == "made outside"
        hours = max(counts.hours(step) * rates.of(step) / stretched_by, _LEAST_HOURS)
        task = Task(
            key=fresh_key(_key_of(run.key, step), taken),
            name=_name(run, step),
            hours=ThreePoint.certain(0.0) if is_outside else shares.round(round(hours, 2)),
            subsystem=circuit.subsystem,
            outside_days=OUTSIDE_DAYS if is_outside else None,
            caution=LICENSED_CAUTION if run.licensed else "",
            notes=f"Made by: {run.licensed}" if is_outside else "",
            steps=tuple(_lengths(drawing, run)) if step == "cut" else (),
            spread_assumed=not is_outside,
        )
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
    made, test = _with_test(made, circuit, rates, stretched_by)
    made = _before_what_is_held(made, circuit.key, keys[-1])
    return RunTasksMade(build=made, keys=(*keys, *test))


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


def _key_of(run: str, step: RunStep) -> str:
    return f"{run}-{step.replace(' ', '-')}"


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
    build: BuildInput, circuit: Circuit, rates: RunRates, stretched_by: float
) -> tuple[BuildInput, tuple[str, ...]]:
    """With the task that tests a circuit among those it holds, before the others of them."""
    held = [task for key in circuit.holds if (task := find_by_key(build.tasks, key))]
    is_there = any("test" in f"{task.key} {task.name}".casefold() for task in held)
    if not circuit.test or circuit.tested_on is not None or is_there:
        return build, ()
    taken = {task.key for task in build.tasks}
    hours = TEST_HOURS * rates.factor / stretched_by
    task = Task(
        key=fresh_key(_key_of(circuit.key, "test"), taken),
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
