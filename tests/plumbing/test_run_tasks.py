"""Tasks of runs: what there is to do, in its order, before the fill, and hours that are learned."""

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from tests.build.builds import task
from tests.plumbing.heron import heron
from tests.plumbing.small import DAY, build, circuit, component, hose, port, run, tube
from webapp.build.build_input import BuildInput, LogEntry, Task
from webapp.build.by_key import get_by_key
from webapp.build.checks.input_checks import faults_of
from webapp.build.plumbing import Piece
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.run_hours import RunCounts, RunRates, run_counts, run_rates
from webapp.plumbing.run_tasks import with_circuit_tasks, with_run_tasks

PIECES = (hose(38, 300), tube(38, 400), Piece(piece="elbow", size=38, angle=90))
"""hose on a port, hose on tube, elbow on tube, elbow on a port: two ends to bead, four clamps."""


def shop(
    *runs: str, tasks: tuple[Task, ...] = (), log: tuple[LogEntry, ...] = (), **said: Any
) -> BuildInput:
    """Runs of the same pieces, each between two components of its own."""
    ends = [component(f"a_{key}", port("p", "out")) for key in runs]
    ends += [component(f"b_{key}", port("p", "in")) for key in runs]
    drawn = tuple(run(key, f"a_{key}.p", f"b_{key}.p", *PIECES) for key in runs)
    of = circuit(f"a_{runs[0]}.p", f"b_{runs[0]}.p", **said)
    made = build(tuple(ends), (of,), drawn)
    return replace(made, tasks=tasks, log=log)


def links(of: BuildInput) -> set[tuple[str, str]]:
    return {(one.before, one.after) for one in of.dependencies}


def likely(of: BuildInput, key: str) -> float:
    return get_by_key(of.tasks, key).hours.most_likely


def test_the_work_of_a_run_is_counted() -> None:
    drawing = Drawing(shop("r"))
    assert run_counts(drawing, drawing.plumbing.runs[0]) == RunCounts(
        cuts=2, beads=2, welds=0, bends=1, joints=4, closings=4
    )


def test_a_run_gets_its_tasks_in_their_order_before_what_the_circuit_holds() -> None:
    fill = task("fill", 1)
    of = shop("r", tasks=(fill,), holds=("fill",), test="1.0 bar cold, 10 min")
    made = with_run_tasks(of, "r")
    assert made.keys == ("r-cut", "r-bead", "r-fit", "r-clamp", "c-test")
    assert links(made.build) == {
        *(("r-cut", "r-bead"), ("r-bead", "r-fit"), ("r-fit", "r-clamp")),
        *(("r-clamp", "fill"), ("r-clamp", "c-test"), ("c-test", "fill")),
    }
    assert made.build.plumbing.runs[0].tasks == made.keys[:4]
    assert made.build.plumbing.circuits[0].holds == ("c-test", "fill")
    assert faults_of(made.build) == faults_of(of)


def test_hours_are_counted_by_cut_end_joint_bend_and_clamp() -> None:
    """2 x 0.25; 2 x 0.2; 4 x 0.2 + 0.25; 4 x 0.1."""
    made = with_run_tasks(shop("r"), "r").build
    hours = [likely(made, f"r-{step}") for step in ("cut", "bead", "fit", "clamp")]
    assert hours == pytest.approx([0.5, 0.4, 1.05, 0.4])
    assert all(one.spread_assumed for one in made.tasks)
    assert [step.text for step in get_by_key(made.tasks, "r-cut").steps] == [
        "Piece 1: hose 38 rubber, 300 mm",
        "Piece 2: tube 38 steel, 400 mm",
    ]


def test_once_made_they_are_not_made_twice_nor_where_the_person_has_their_own() -> None:
    made = with_run_tasks(shop("r"), "r")
    again = with_run_tasks(made.build, "r")
    assert (again.build, again.keys) == (made.build, ())
    own = shop("r", tasks=(task("mine", 2),))
    own = replace(
        own,
        plumbing=replace(own.plumbing, runs=(replace(own.plumbing.runs[0], tasks=("mine",)),)),
    )
    assert with_run_tasks(own, "r").keys == ()


def test_the_test_is_made_once_for_all_runs_of_a_circuit() -> None:
    of = shop("r", "s", test="1.0 bar cold", tasks=(task("fill", 1),), holds=("fill",))
    made = with_circuit_tasks(of, "c")
    assert [key for key in made.keys if "test" in key] == ["c-test"]
    assert {("r-clamp", "c-test"), ("s-clamp", "c-test"), ("c-test", "fill")} <= links(made.build)
    theirs = replace(task("t", 1), name="Pressure test")
    there = shop("r", test="1.0 bar", tasks=(theirs,), holds=("t",))
    assert "c-test" not in with_circuit_tasks(there, "c").keys


@pytest.mark.parametrize(
    ("done", "keys"),
    [
        ({"cut_on": DAY}, ("r-fit", "r-clamp")),
        ({"cut_on": DAY, "fitted_on": DAY}, ("r-clamp",)),
        ({"cut_on": DAY, "fitted_on": DAY, "clamped_on": DAY}, ()),
    ],
)
def test_what_is_done_gets_no_task(done: dict[str, Any], keys: tuple[str, ...]) -> None:
    of = shop("r")
    drawn = replace(of.plumbing.runs[0], **done)
    of = replace(of, plumbing=replace(of.plumbing, runs=(drawn,)))
    assert with_run_tasks(of, "r").keys == keys


def test_what_somebody_licensed_makes_is_outside_work() -> None:
    of = shop("r")
    drawn = replace(of.plumbing.runs[0], licensed="a hydraulics shop")
    of = replace(of, plumbing=replace(of.plumbing, runs=(drawn,)))
    made = with_run_tasks(of, "r")
    assert made.keys == ("r-made-outside", "r-fit", "r-clamp")
    outside = get_by_key(made.build.tasks, "r-made-outside")
    assert outside.outside_days == 7
    assert "a hydraulics shop" in outside.notes
    assert "licensed practice" in outside.caution


# --- what the record says ------------------------------------------------------------------------


def worked(of: BuildInput, hours: dict[str, float]) -> BuildInput:
    """With these tasks finished, each after so many hours."""
    on = dt.date(2026, 1, 9)
    return replace(
        of,
        tasks=tuple(
            replace(one, begun_on=on, finished_on=on) if one.key in hours else one
            for one in of.tasks
        ),
        log=tuple(LogEntry(task=key, on=on, hours=took) for key, took in hours.items()),
    )


def test_without_a_record_nothing_is_learned() -> None:
    assert run_rates(shop("r")) == RunRates()


def test_a_step_that_took_longer_draws_that_step_most() -> None:
    """Cut: 1.5 h for 0.5 assumed, fit: 1.05 for 1.05. Of all (2.55 + 4) / (1.55 + 4) = 1.180; of
    cutting (1.5 + 4 x 1.180) / (0.5 + 4) = 1.382; of fitting (1.05 + 4.72) / 5.05 = 1.143."""
    of = worked(with_circuit_tasks(shop("r", "s"), "c").build, {"r-cut": 1.5, "r-fit": 1.05})
    rates = run_rates(of)
    assert rates.factor == pytest.approx(6.55 / 5.55)
    assert rates.of("cut") == pytest.approx((1.5 + 4 * 6.55 / 5.55) / 4.5)
    assert rates.of("fit") == pytest.approx((1.05 + 4 * 6.55 / 5.55) / 5.05)
    assert rates.of("clamp") == rates.factor
    assert rates.runs == 1
    assert rates.hours == pytest.approx(2.55)


def test_new_tasks_take_the_hours_that_were_learned_and_are_not_stretched_twice() -> None:
    of = worked(with_run_tasks(shop("r", "s"), "r").build, {"r-cut": 1.5})
    rate = run_rates(of).of("cut")
    made = with_run_tasks(of, "s").build
    assert likely(made, "s-cut") == pytest.approx(0.5 * rate, abs=0.01)
    stretched = with_run_tasks(of, "s", stretched_by=1.25).build
    assert likely(stretched, "s-cut") == pytest.approx(0.5 * rate / 1.25, abs=0.01)


def test_tasks_of_their_own_that_runs_share_count_once_all_of_them_are_finished() -> None:
    """Both runs in one task: 2 x (0.5 + 0.4 + 1.05 + 0.4) = 4.7 assumed, 9.4 taken."""
    of = shop("r", "s", tasks=(task("both", 3), task("late", 1)))
    runs = tuple(replace(one, tasks=("both", "late")) for one in of.plumbing.runs)
    of = replace(of, plumbing=replace(of.plumbing, runs=runs))
    assert run_rates(worked(of, {"both": 9.0})) == RunRates()  # one of the two is still open
    rates = run_rates(worked(of, {"both": 9.0, "late": 0.4}))
    assert rates.factor == pytest.approx((9.4 + 4) / (4.7 + 4))
    assert rates.runs == 2


def test_the_demo_can_have_the_tasks_of_every_run_made() -> None:
    of = heron()
    bare = tuple(replace(one, tasks=()) for one in of.plumbing.runs)
    of = replace(of, plumbing=replace(of.plumbing, runs=bare))
    made = of
    for one in bare:
        made = with_run_tasks(made, one.key).build
    assert len(made.tasks) > len(of.tasks) + len(bare)
    assert faults_of(made) == faults_of(of)
