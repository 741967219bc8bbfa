"""The work of a run, counted, and its hours: so much a cut, end, joint, bend and clamp.

Assumed at first, and drawn towards what the person's own finished runs took, step by step and all
together.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from webapp.build.build_input import BuildInput
from webapp.build.logged_hours import logged_hours
from webapp.build.plumbing import Run
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.names import is_by_length

RunStep = Literal["made outside", "cut", "bead", "fit", "clamp", "test"]
OWN_STEPS: tuple[RunStep, ...] = ("cut", "bead", "fit", "clamp")
"""What the person's own hands do to a run, in this order; the test is of its circuit."""
ALL_STEPS: tuple[RunStep, ...] = ("made outside", *OWN_STEPS, "test")
PRIOR_HOURS = 4.0
"""So many hours of the record weigh as much as what is assumed: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursEach:
    """Hours for one length cut, one end beaded, one weld; one joint and one bend to fit; one clamp
    or seal; one test of a circuit. As they stand: assumed, no source."""

    cut: float = 0.25
    bead: float = 0.2
    weld: float = 0.75
    joint: float = 0.2
    bend: float = 0.25
    closing: float = 0.1
    test: float = 0.75


ASSUMED = HoursEach()


@dataclass(frozen=True, slots=True, kw_only=True)
class RunCounts:
    """What there is to do at a run. `closings` are clamps and seals, by joint."""

    cuts: int = 0
    beads: int = 0
    welds: int = 0
    bends: int = 0
    joints: int = 0
    closings: int = 0

    def hours(self, step: RunStep, each: HoursEach = ASSUMED) -> float:
        """The hours of a step at so many for each thing; 0 where there is nothing to do."""
        match step:
            case "cut":
                return self.cuts * each.cut
            case "bead":
                return self.beads * each.bead + self.welds * each.weld
            case "fit":
                return self.joints * each.joint + self.bends * each.bend
            case "clamp":
                return self.closings * each.closing
            case "test":
                return each.test
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

    def each(self, stretched_by: float = 1.0) -> HoursEach:
        """The hours for each thing as the record has it, over what the plan stretches them by."""

        def own(hours: float, step: RunStep) -> float:
            return hours * self.of(step) / stretched_by

        return HoursEach(
            cut=own(ASSUMED.cut, "cut"),
            bead=own(ASSUMED.bead, "bead"),
            weld=own(ASSUMED.weld, "bead"),
            joint=own(ASSUMED.joint, "fit"),
            bend=own(ASSUMED.bend, "fit"),
            closing=own(ASSUMED.closing, "clamp"),
            test=ASSUMED.test * self.factor / stretched_by,
        )


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
    return next((step for step in OWN_STEPS if key == step_key(runs[0].key, step)), None)


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


def step_key(run: str, step: RunStep) -> str:
    """The key of the task that is made for one step of a run, where nobody else has it."""
    return f"{run}-{step.replace(' ', '-')}"
