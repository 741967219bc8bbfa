"""What no plan hangs on: a tick, a torque and the moment; all else counts."""

import datetime as dt
from dataclasses import replace

from tests.build.builds import build_of, task
from webapp.build.build_input import Measure, Step
from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.build.for_planning import are_planned_alike
from webapp.planning.order.job_order import make_plan

STEP = Step(text="Cut")
BUILD = build_of([task("a", 1, steps=(STEP,)), task("b", 2)], [("a", "b")], first_start="b")


def test_steps_torques_sizes_and_the_moment_do_not_count() -> None:
    bolts = Measure(kind="torque", name="Bolts", value="45 Nm")
    other = replace(
        BUILD,
        tasks=(
            replace(BUILD.tasks[0], steps=(replace(STEP, done=True),), measures=(bolts,)),
            BUILD.tasks[1],
        ),
    )
    assert are_planned_alike(BUILD, other)
    assert are_planned_alike(BUILD, replace(BUILD, now=BUILD.now + dt.timedelta(hours=1)))
    assert make_plan(BUILD) == make_plan(other)


def test_an_earlier_record_counts_by_its_figures_and_while_it_is_on() -> None:
    kind = EarlierKind(tasks=1, actual_hours=3.0, expected_hours=2.0, worth=1.0)
    record = EarlierRecord(key="one", name="One", taken_on=dt.date(2026, 1, 1), kinds=(kind,))
    with_it = replace(BUILD, earlier_records=(record,))
    assert not are_planned_alike(BUILD, with_it)
    renewed = replace(record, name="The one", taken_on=dt.date(2026, 1, 2))
    assert are_planned_alike(with_it, replace(BUILD, earlier_records=(renewed,)))
    off = replace(BUILD, earlier_records=(replace(record, counts=False),))
    assert are_planned_alike(BUILD, off)


def test_everything_else_counts() -> None:
    task_a = BUILD.tasks[0]
    for facts in ({"name": "Other"}, {"hours_left": 1.0}, {"notes": "Sharp."}, {"people": 2}):
        other = replace(BUILD, tasks=(replace(task_a, **facts), BUILD.tasks[1]))
        assert not are_planned_alike(BUILD, other), facts
    assert not are_planned_alike(BUILD, replace(BUILD, wanted_by=dt.date(2026, 6, 1)))
