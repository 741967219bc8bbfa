"""Way 8: a signature that outlived the work. Every way of opening a circuit makes exactly the
checks of its table fall, and nothing brings a signature back."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace

import pytest

from tests.first_start.lists import DAY, LISTS, signed, standing, start_build
from webapp.build.build_input import BuildInput, LogEntry, RunningClock, Task
from webapp.build.first_start import CheckChange, EngineRun, Opening, Signature
from webapp.build.openings import with_openings
from webapp.build.plumbing import Circuit, Component, Plumbing, Port, Run
from webapp.build.three_point import ThreePoint
from webapp.build.verbs.taking_back import taken_back
from webapp.first_start.check_list import CheckList
from webapp.first_start.list_facts import facts_of

LATER = DAY + dt.timedelta(hours=6)
SEEN = LATER + dt.timedelta(minutes=1)
CIRCUITS = [
    pytest.param(checks, circuit, keys, id=f"{checks.key}-{circuit}")
    for checks in LISTS
    for circuit, keys in checks.falls_when_opened
    if circuit != "papers"
]


def with_pipe(build: BuildInput, circuit: str) -> BuildInput:
    """The build with one run in a circuit, and a task that makes it."""
    ends = tuple(
        Component(
            key=key,
            name=key,
            circuit=circuit,
            ports=(Port(name="p", end="spigot", flow="both", size=20.0),),
        )
        for key in ("one", "other")
    )
    drawn = Circuit(
        key=circuit,
        name=circuit,
        medium="water",
        from_port="one.p",
        to_port="other.p",
        needed_to_start=False,
    )
    run = Run(key="pipe", from_port="one.p", to_port="other.p", tasks=("work",))
    return replace(
        build,
        tasks=(Task(key="work", name="Work on it", hours=ThreePoint.certain(1.0)),),
        plumbing=Plumbing(components=ends, circuits=(drawn,), runs=(run,)),
    )


def begun(build: BuildInput) -> BuildInput:
    return replace(build, tasks=(replace(build.tasks[0], begun_on=LATER),))


def clocked(build: BuildInput) -> BuildInput:
    return replace(build, on_bench=RunningClock(task="work", since=LATER))


def logged(build: BuildInput) -> BuildInput:
    return replace(build, log=(LogEntry(task="work", on=LATER.date(), hours=1.0),))


def task_deleted(build: BuildInput) -> BuildInput:
    runs = tuple(replace(run, tasks=()) for run in build.plumbing.runs)
    return replace(build, tasks=(), plumbing=replace(build.plumbing, runs=runs))


def run_edited(build: BuildInput) -> BuildInput:
    runs = tuple(replace(run, fitted_on=LATER) for run in build.plumbing.runs)
    return replace(build, plumbing=replace(build.plumbing, runs=runs))


def run_deleted(build: BuildInput) -> BuildInput:
    return replace(build, plumbing=replace(build.plumbing, runs=()))


def port_changed(build: BuildInput) -> BuildInput:
    one, other = build.plumbing.components
    wider = replace(one, ports=(replace(one.ports[0], size=25.0),))
    return replace(build, plumbing=replace(build.plumbing, components=(wider, other)))


WAYS = (begun, clocked, logged, task_deleted, run_edited, run_deleted, port_changed)


def whole(checks: CheckList, circuit: str) -> BuildInput:
    """A build with a pipe in a circuit in which everything that is kept is signed."""
    build = with_pipe(start_build(checks), circuit)
    offered = (check.key for check in checks.checks if not check.is_shown_at_first)
    taken = tuple(CheckChange(check=key, at=DAY, name="A", choice="taken in") for key in offered)
    build = replace(build, start=replace(build.start, changes=taken))
    return signed(build, checks, *(stage.key for stage in checks.stages), at=DAY)


def fallen(build: BuildInput, checks: CheckList) -> set[str]:
    return {one.check.key for one in standing(build, checks, at=SEEN).all if one.state == "fallen"}


def expected(build: BuildInput, checks: CheckList, keys: tuple[str, ...]) -> set[str]:
    """The kept checks of the table, and by rule 9 the current where one of them comes before it."""
    facts = facts_of(checks)
    kept = {one.check.key for one in standing(build, checks, at=SEEN).all if one.is_kept}
    early = {
        check.key
        for stage in checks.stages
        if stage.key in facts.current_off
        for check in stage.checks
    }
    found = kept.intersection(keys)
    return found | ({facts.on} if found & (early - {facts.off}) else set())


@pytest.mark.parametrize(("checks", "circuit", "keys"), CIRCUITS)
def test_way_8_each_way_of_opening_makes_exactly_the_table_fall(
    checks: CheckList, circuit: str, keys: tuple[str, ...]
) -> None:
    build = whole(checks, circuit)
    assert fallen(build, checks) == set()
    wanted = expected(build, checks, keys)
    for way in WAYS:
        opened = with_openings(build, way(build), at=LATER)
        assert fallen(opened, checks) == wanted, way.__name__
    said = Opening(
        what=f"circuit:{circuit}",
        name=circuit,
        how="said",
        at=LATER,
        reaches=(f"circuit:{circuit}",),
    )
    start = replace(build.start, openings=(said,))
    assert fallen(replace(build, start=start), checks) == wanted


@pytest.mark.parametrize("way", WAYS)
def test_way_8_taking_the_opening_back_brings_no_signature_back(
    way: Callable[[BuildInput], BuildInput],
) -> None:
    checks = LISTS[0]
    build = whole(checks, "coolant")
    opened = with_openings(build, way(build), at=LATER)
    back = taken_back(opened, before=build, after=opened).build
    assert back.start == build.start  # the verb alone would bring them back
    kept = with_openings(opened, back, at=LATER + dt.timedelta(seconds=30))
    assert fallen(kept, checks) >= fallen(opened, checks) > set()


def test_way_8_a_signature_that_was_taken_out_is_not_put_back_later() -> None:
    checks = LISTS[0]
    build = whole(checks, "coolant")
    one = build.start.signatures[3]
    without = replace(
        build,
        start=replace(
            build.start, signatures=tuple(s for s in build.start.signatures if s is not one)
        ),
    )
    again = with_openings(without, build, at=LATER)
    assert one not in again.start.signatures
    marked = replace(one, taken_back_at=one.at)
    assert [s for s in _marked(build, marked).start.signatures if s.taken_back_at] == [marked]
    kept = with_openings(_marked(build, marked), build, at=LATER)
    assert marked in kept.start.signatures


def _marked(build: BuildInput, marked: Signature) -> BuildInput:
    signatures = tuple(marked if s.key == marked.key else s for s in build.start.signatures)
    return replace(build, start=replace(build.start, signatures=signatures))


def test_a_task_of_the_list_reaches_its_own_circuit_and_another_its_subsystem() -> None:
    from webapp.build.build_input import Subsystem

    checks = LISTS[0]
    build = replace(
        whole(checks, "coolant"),
        subsystems=(Subsystem(key="air", name="Air"), Subsystem(key="x", name="Power steering")),
        tasks=(
            Task(key="breather_route", name="B", hours=ThreePoint.certain(1), subsystem="air"),
            Task(key="mine", name="Mine", hours=ThreePoint.certain(1), subsystem="x"),
            Task(key="free", name="Free", hours=ThreePoint.certain(1)),
        ),
    )
    for place, circuits in ((0, {"vents"}), (1, {"steering"}), (2, set[str]())):
        tasks = list(build.tasks)
        tasks[place] = replace(tasks[place], begun_on=LATER)
        opened = with_openings(build, replace(build, tasks=tuple(tasks)), at=LATER)
        table = dict(checks.falls_when_opened)
        wanted = {key for circuit in circuits for key in table[circuit]}
        assert fallen(opened, checks) - {"battery_on"} == wanted & kept_keys(build, checks)


def kept_keys(build: BuildInput, checks: CheckList) -> set[str]:
    return {one.check.key for one in standing(build, checks, at=SEEN).all if one.is_kept}


def test_an_answer_there_and_back_leaves_no_signature_that_hung_on_it() -> None:
    """Way 7: flipping any answer there and back leaves no signature on a check that hung on it."""
    for checks in LISTS:
        build = whole(checks, checks.groups[0][0])
        for question in checks.questions:
            hang = {
                check.key
                for check in checks.checks
                if any(fall.kind == "answer" and fall.key == question.key for fall in check.falls)
            }
            said = {one.question: one.answer for one in build.start.answers}
            other = next(one for one in question.answers if one != said[question.key])
            flipped = with_openings(build, _answered(build, question.key, other), at=LATER)
            back = with_openings(
                flipped,
                _answered(flipped, question.key, said[question.key]),
                at=LATER + dt.timedelta(seconds=20),
            )
            stand = {
                one.check.key
                for one in standing(back, checks, at=SEEN).all
                if one.state in ("stands", "spent")
            }
            assert not stand & hang, question.key


def _answered(build: BuildInput, question: str, answer: str) -> BuildInput:
    answers = tuple(
        replace(one, answer=answer) if one.question == question else one
        for one in build.start.answers
    )
    return replace(build, start=replace(build.start, answers=answers))


def test_nothing_is_noted_while_nobody_has_signed_anything() -> None:
    build = with_pipe(start_build(LISTS[0]), "coolant")
    assert with_openings(build, begun(build), at=LATER).start.openings == ()


def test_work_finished_on_a_day_without_a_beginning_is_not_opened_by_a_change_elsewhere() -> None:
    checks = LISTS[0]
    build = whole(checks, "coolant")
    done = replace(build.tasks[0], finished_on=DAY - dt.timedelta(days=30))
    other = Task(key="other", name="Sweep the floor", hours=ThreePoint.certain(1.0))
    build = replace(build, tasks=(done, other))
    for after in (
        replace(build, tasks=(done, replace(other, name="Sweep the whole floor"))),
        replace(build, tasks=(done,)),
        replace(build, tasks=(replace(done, notes="by the left wing"), other)),
    ):
        opened = with_openings(build, after, at=LATER).start.openings
        assert [one for one in opened if one.what == "task:work"] == []
    typed = replace(done, begun_on=LATER)
    (one,) = with_openings(build, replace(build, tasks=(typed, other)), at=LATER).start.openings
    assert (one.what, one.how) == ("task:work", "begun")


def test_openings_of_one_thing_do_not_pile_up() -> None:
    build = whole(LISTS[0], "coolant")
    for minute in range(5):
        at = LATER + dt.timedelta(minutes=minute)
        entry = LogEntry(task="work", on=LATER.date(), hours=1.0 + minute)
        build = with_openings(build, replace(build, log=(*build.log, entry)), at=at)
    (one,) = build.start.openings
    assert one.at == LATER + dt.timedelta(minutes=4)


def test_first_start_itself_opens_nothing_when_it_is_begun() -> None:
    build = whole(LISTS[0], "coolant")
    end = replace(build, first_start="work")
    assert with_openings(end, begun(end), at=LATER).start.openings == ()


def test_a_stop_and_its_cause_stay_and_that_it_ran_may_be_unsaid() -> None:
    run = EngineRun(
        key="r1",
        kind="start",
        begun_at=DAY,
        fired_at=DAY,
        ended_at=LATER,
        ending="aborted",
        abort="knock",
        cause="a loose bolt, tightened",
        cause_at=LATER,
        ran_at=LATER,
    )
    build = start_build(LISTS[0])
    done = replace(build, start=replace(build.start, runs=(run,)))
    assert with_openings(done, build, at=LATER).start.runs == (run,)
    bare = EngineRun(key="r1", kind="start", begun_at=DAY)
    undone = replace(build, start=replace(build.start, runs=(bare,)))
    assert with_openings(done, undone, at=LATER).start.runs == (replace(run, ran_at=None),)
