"""Way 1: "nothing known is open" is said exactly when a plain evaluation finds no hole."""

import datetime as dt
import random
from collections.abc import Callable
from dataclasses import replace

import pytest

from tests.first_start.brute_force import Plain
from tests.first_start.lists import DAY, LISTS, before_key, signed, standing, start_build
from webapp.build.build_input import BuildInput, Dependency, Part, Task
from webapp.build.first_start import CheckChange, EngineRun, Opening, SetAside, StartAnswer
from webapp.build.plumbing import Circuit, Component, Flow, Piece, Plumbing, Port, Run
from webapp.build.three_point import ThreePoint
from webapp.first_start.check_list import CheckList

Hole = Callable[[random.Random, BuildInput, CheckList], BuildInput]
FLOWS: tuple[tuple[str, Flow], ...] = (("pipe", "out"), ("other", "in"))
LOOKED_AT = DAY + dt.timedelta(hours=5)


def some_time(luck: random.Random) -> dt.datetime:
    """A moment of the day on which everything was signed."""
    return DAY + dt.timedelta(seconds=luck.uniform(0, 5 * 3600))


def whole(checks: CheckList) -> BuildInput:
    """A build in which nothing is open: two tasks, a part, a pipe, everything signed."""
    hour = ThreePoint.certain(1.0)
    ends = tuple(
        Component(
            key=key,
            name=key,
            circuit="pipe",
            ports=(Port(name="p", end="spigot", flow=flow, size=20.0),),
        )
        for key, flow in FLOWS
    )
    drawn = Circuit(key="pipe", name="Pipe", medium="none", from_port="pipe.p", to_port="other.p")
    run = Run(
        key="run",
        from_port="pipe.p",
        to_port="other.p",
        pieces=(Piece(piece="hose", size=20.0, length_mm=300.0),),
        cut_on=DAY.date(),
        fitted_on=DAY.date(),
        clamped_on=DAY.date(),
    )
    build = replace(
        start_build(checks),
        first_start="start",
        tasks=(
            Task(key="one", name="One", hours=hour, finished_on=DAY),
            Task(key="two", name="Two", hours=hour, finished_on=DAY),
            Task(key="start", name="Start", hours=hour),
            Task(key="road", name="Road", hours=hour),
        ),
        dependencies=(
            Dependency(before="one", after="two"),
            Dependency(before="two", after="start"),
            Dependency(before="start", after="road"),
        ),
        parts=(
            Part(key="hose", name="Hose", serves=("one",), arrived=True),
            Part(key="plate", name="Plate", serves=("road",)),
        ),
        plumbing=Plumbing(components=ends, circuits=(drawn,), runs=(run,)),
    )
    return signed(build, checks, *before_key(checks), at=DAY)


def with_start(build: BuildInput, **fields: object) -> BuildInput:
    return replace(build, start=replace(build.start, **fields))  # type: ignore[arg-type]


def signature_gone(luck: random.Random, build: BuildInput, _checks: CheckList) -> BuildInput:
    gone = luck.choice(build.start.signatures)
    return with_start(build, signatures=tuple(s for s in build.start.signatures if s is not gone))


def signature_taken_back(luck: random.Random, build: BuildInput, _checks: CheckList) -> BuildInput:
    gone = luck.choice(build.start.signatures)
    return with_start(
        build,
        signatures=tuple(
            replace(s, taken_back_at=s.at) if s is gone else s for s in build.start.signatures
        ),
    )


def figures_missing(luck: random.Random, build: BuildInput, _checks: CheckList) -> BuildInput:
    gone = luck.choice([s for s in build.start.signatures if s.readings])
    return with_start(
        build,
        signatures=tuple(
            replace(s, readings=()) if s is gone else s for s in build.start.signatures
        ),
    )


def by_nobody(luck: random.Random, build: BuildInput, _checks: CheckList) -> BuildInput:
    gone = luck.choice([s for s in build.start.signatures if s.helper or s.paper] or [None])
    return with_start(
        build,
        signatures=tuple(
            replace(s, helper="", paper=None) if s is gone else s for s in build.start.signatures
        ),
    )


def something_opened(luck: random.Random, build: BuildInput, checks: CheckList) -> BuildInput:
    kinds = [f"circuit:{circuit}" for circuit, _ in checks.groups]
    kinds += [f"said:{words}" for words in checks.named_falls]
    kinds += [f"answer:{one.key}" for one in checks.questions]
    what = luck.choice(kinds)
    new = Opening(what=what, name=what, how="said", at=some_time(luck), reaches=(what,))
    return with_start(build, openings=(*build.start.openings, new))


def set_aside(luck: random.Random, build: BuildInput, checks: CheckList) -> BuildInput:
    key = luck.choice([check.key for check in checks.checks])
    new = SetAside(
        key=f"a{len(build.start.set_asides)}",
        check=key,
        at=some_time(luck),
        name="A. Builder",
        reason="done at the shop",
    )
    kept = tuple(s for s in build.start.signatures if s.check != key or luck.random() < 0.3)
    return with_start(build, set_asides=(*build.start.set_asides, new), signatures=kept)


def changed(luck: random.Random, build: BuildInput, checks: CheckList) -> BuildInput:
    known = {one.check for one in build.start.changes}
    key = luck.choice([check.key for check in checks.checks if check.key not in known])
    new = CheckChange(check=key, at=DAY, name="A", choice=luck.choice(["left out", "taken in"]))
    return with_start(build, changes=(*build.start.changes, new))


def answered(luck: random.Random, build: BuildInput, checks: CheckList) -> BuildInput:
    question = luck.choice(checks.questions)
    said = luck.choice([None, *question.answers])
    answers = [one for one in build.start.answers if one.question != question.key]
    if said is not None:
        answers.append(StartAnswer(question=question.key, answer=said))
    return with_start(build, answers=tuple(answers))


def line_not_typed(luck: random.Random, build: BuildInput, _checks: CheckList) -> BuildInput:
    gone = luck.choice(build.start.stop_lines or [None])
    return with_start(build, stop_lines=tuple(s for s in build.start.stop_lines if s is not gone))


def aborted(luck: random.Random, build: BuildInput, _checks: CheckList) -> BuildInput:
    if build.start.runs:
        return build
    at = some_time(luck)
    run = EngineRun(key="r1", kind="start", begun_at=at, ended_at=at, ending="aborted")
    return with_start(build, runs=(run,))


def task_reopened(luck: random.Random, build: BuildInput, _checks: CheckList) -> BuildInput:
    place = luck.randrange(len(build.tasks))
    tasks = list(build.tasks)
    tasks[place] = replace(tasks[place], finished_on=None)
    return replace(build, tasks=tuple(tasks))


def part_missing(luck: random.Random, build: BuildInput, _checks: CheckList) -> BuildInput:
    place = luck.randrange(len(build.parts))
    parts = list(build.parts)
    parts[place] = replace(parts[place], arrived=False)
    return replace(build, parts=tuple(parts))


def pipe_off(_luck: random.Random, build: BuildInput, _checks: CheckList) -> BuildInput:
    (run,) = build.plumbing.runs
    off = replace(run, clamped_on=None)
    return replace(build, plumbing=replace(build.plumbing, runs=(off,)))


HOLES: tuple[Hole, ...] = (
    *(signature_gone, signature_taken_back, figures_missing, by_nobody, something_opened),
    *(set_aside, changed, answered, line_not_typed, aborted),
    *(task_reopened, part_missing, pipe_off),
)


def holes_found(build: BuildInput, checks: CheckList, at: dt.datetime) -> set[tuple[str, str]]:
    return {(hole.kind, hole.key) for hole in standing(build, checks, at=at).holes}


@pytest.mark.parametrize("checks", LISTS, ids=lambda one: one.key)
def test_way_1_for_random_holes_the_page_names_exactly_the_holes(checks: CheckList) -> None:
    full = whole(checks)
    assert holes_found(full, checks, LOOKED_AT) == set()
    assert Plain(full, checks.key, LOOKED_AT).holes() == set()
    seen = [0, 0]
    for seed in range(120):
        luck = random.Random(f"{checks.key} {seed}")
        build = full
        for _ in range(luck.choice([0, 1, 1, 1, 2, 3, 5])):
            build = luck.choice(HOLES)(luck, build, checks)
        days = luck.choice([0, 0, 0, 0, 0, 1, 16, 92])
        at = LOOKED_AT + dt.timedelta(days=days)
        plain = Plain(build, checks.key, at).holes()
        found = standing(build, checks, at=at)
        assert {(hole.kind, hole.key) for hole in found.holes} == plain, seed
        assert found.is_nothing_known_open is (not plain)
        seen[bool(plain)] += 1
    assert min(seen) > 10, "both answers are met"
