"""What waits for circuits: fills and tests for closed ones, first start also for tested ones."""

from dataclasses import replace

from tests.plumbing.small import DAY, build, circuit, component, done, port, run
from webapp.build.build_input import BuildInput, Dependency
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.checks.input_checks import faults_of
from webapp.build.circuit_dependencies import with_circuit_dependencies
from webapp.build.plumbing import Circuit, Run
from webapp.plumbing.plumbed import plumbed


def shop(
    one: Run | None = None, of: Circuit | None = None, *, tasks: tuple[str, ...] = ("fit", "fill")
) -> BuildInput:
    """One run of the task `fit`; the circuit holds the task `fill`."""
    drawn = one or run("r", "a.out", "b.in", tasks=("fit",))
    ends = (component("a", port("out", "out")), component("b", port("in", "in")))
    return build(ends, (of or circuit("a.out", "b.in", holds=("fill",)),), (drawn,), tasks=tasks)


CLOSED = replace(done("r", "a.out", "b.in"), tasks=("fit",))


def held(of: BuildInput) -> dict[str, list[tuple[str, str]]]:
    return {one.task: [(hold.circuit, hold.why) for hold in one.by] for one in plumbed(of).held}


def test_an_open_circuit_holds_its_fill_and_first_start() -> None:
    assert held(shop()) == {"fill": [("c", "open")], "start": [("c", "open")]}
    assert held(shop(CLOSED)) == {}


def test_first_start_waits_for_the_test_where_there_is_one_and_the_fill_does_not() -> None:
    asked = circuit("a.out", "b.in", holds=("fill",), test="1 bar, 10 min")
    assert held(shop(CLOSED, asked)) == {"start": [("c", "not tested")]}
    assert held(shop(CLOSED, replace(asked, tested_on=DAY))) == {}


def test_a_circuit_that_is_not_needed_to_start_holds_its_fill_alone() -> None:
    sealed = circuit("a.out", "b.in", holds=("fill",), needed_to_start=False, test="nitrogen")
    assert held(shop(of=sealed)) == {"fill": [("c", "open")]}
    assert held(shop(CLOSED, sealed)) == {}


def test_a_finished_task_waits_for_nothing() -> None:
    of = shop()
    filled = replace(get_by_key(of.tasks, "fill"), finished_on=DAY)
    assert [*held(replace(of, tasks=replaced_by_key(of.tasks, filled)))] == ["start"]


# --- the order of work ---------------------------------------------------------------------------


def pairs(of: BuildInput) -> list[tuple[str, str, str]]:
    return [(one.before, one.after, one.why) for one in with_circuit_dependencies(of).dependencies]


def test_the_tasks_of_a_run_come_before_what_its_circuit_holds() -> None:
    assert pairs(shop()) == [("fit", "fill", "circuit c"), ("fit", "start", "circuit c")]


def test_a_pair_that_is_entered_stays_as_it_was_entered() -> None:
    entered = Dependency(before="fit", after="fill", wait_hours=24, why="sealant")
    of = replace(shop(), dependencies=(entered,))
    assert with_circuit_dependencies(of).dependencies[0] == entered
    assert pairs(of) == [("fit", "fill", "sealant"), ("fit", "start", "circuit c")]


def test_what_is_finished_comes_before_nothing() -> None:
    of = shop()
    fitted = replace(get_by_key(of.tasks, "fit"), finished_on=DAY)
    assert pairs(replace(of, tasks=replaced_by_key(of.tasks, fitted))) == []


def test_a_build_without_circuits_stays_the_very_build() -> None:
    of = replace(shop(), plumbing=type(shop().plumbing)())
    assert with_circuit_dependencies(of) is of


def test_circuits_that_would_wait_for_one_another_are_a_fault() -> None:
    """c holds x, d holds y; the run of c needs y first, the run of d needs x first: no pair of
    them is wrong, and together nothing could begin."""
    ends = (
        component("a", port("out", "out"), port("o2", "out", circuit="d")),
        component("b", port("in", "in"), port("i2", "in", circuit="d")),
    )
    of = build(
        ends,
        (
            circuit("a.out", "b.in", holds=("x",)),
            circuit("a.o2", "b.i2", key="d", holds=("y",)),
        ),
        (
            run("r", "a.out", "b.in", tasks=("fit_c",)),
            run("s", "a.o2", "b.i2", tasks=("fit_d",)),
        ),
        tasks=("fit_c", "fit_d", "x", "y"),
    )
    assert faults_of(of) == ()
    crossed = (Dependency(before="y", after="fit_c"), Dependency(before="x", after="fit_d"))
    (fault,) = faults_of(replace(of, dependencies=crossed))
    assert "circuit c and circuit d" in fault.text or "circuit d and circuit c" in fault.text
    assert "would wait for itself" in fault.text
    assert faults_of(replace(of, dependencies=crossed[:1])) == ()
