"""Each weakness of a plan is found, named and answered, and a sound plan has none."""

import datetime as dt
from dataclasses import replace
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from tests.build.builds import EVENINGS, MONDAY, build_of, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, LogEntry, Part, Subsystem, Task
from webapp.planning.order.job_order import make_plan
from webapp.planning.record.finding import Finding
from webapp.planning.record.soundness import findings_of

DAY = dt.timedelta(days=1)
SPREAD = (1.0, 2.0, 4.0)


def sound(*more: Task, links: tuple[tuple[str, str], ...] = (), **facts: Any) -> BuildInput:
    """Three tasks in a line to first start, each with a spread."""
    tasks = [task("a", SPREAD), task("b", SPREAD), task("start", SPREAD), *more]
    chain = [("a", "b"), ("b", "start"), *links]
    return build_of(tasks, chain, first_start="start", week=EVENINGS, **facts)


def found(build: BuildInput, baseline: BuildInput | None = None) -> dict[str, Finding]:
    return {f.kind: f for f in findings_of(build, make_plan(build), baseline)}


def test_a_sound_plan_has_no_finding() -> None:
    assert found(sound()) == {}


def test_a_task_that_leads_nowhere() -> None:
    finding = found(sound(task("shelf", SPREAD)))["leads_nowhere"]
    assert finding.keys == ("shelf",)


def test_work_after_first_start_may_be_the_last_of_its_line() -> None:
    build = sound(task("polish", SPREAD), links=(("start", "polish"),))
    assert "leads_nowhere" not in found(build)


def test_tasks_that_nothing_comes_before() -> None:
    build = sound(task("x", SPREAD), task("y", SPREAD), links=(("x", "b"), ("y", "b")))
    assert found(build)["follows_nothing"].keys == ("a", "x", "y")
    # One beginning is no weakness, and a part is something to wait for.
    parts = tuple(
        Part(key=key, name=key, serves=(key,), arrives_on=MONDAY.date()) for key in ("x", "y")
    )
    assert "follows_nothing" not in found(replace(build, parts=parts))


def test_tasks_with_no_hours_and_with_no_spread() -> None:
    kinds = found(sound(task("zero", 0), task("sure", 3), links=(("zero", "b"), ("sure", "b"))))
    assert kinds["no_estimate"].keys == ("zero",)
    assert kinds["no_spread"].keys == ("sure",)


def test_a_task_longer_than_two_shop_weeks() -> None:
    # 15 h a week: the limit is 30 h, and a task of just that is not longer.
    build = sound(task("rust", (20, 31, 60)), task("fit", (30, 30, 30)), links=(("rust", "b"),))
    assert found(build)["long_task"].keys == ("rust",)


def test_float_over_44_working_days() -> None:
    # Evenings of 3 h: 44 days are 132 shop hours. `quick` may wait 145 - 2 = 143 of them.
    long = [task(f"l{i}", (29, 29, 29.0)) for i in range(5)]
    chain = (("l0", "l1"), ("l1", "l2"), ("l2", "l3"), ("l3", "l4"), ("l4", "start"))
    build = sound(*long, task("quick", 2), links=(*chain, ("quick", "start")))
    assert "quick" in found(build)["far_float"].keys
    shorter = sound(*long[:4], task("quick", 2), links=(*chain[:3], ("l3", "start")))
    assert "far_float" not in found(shorter)


def test_first_start_that_nothing_leads_up_to() -> None:
    tasks = [task("a", SPREAD), task("b", SPREAD), task("start", SPREAD)]
    build = build_of(tasks, [("a", "b")], first_start="start", week=EVENINGS)
    assert found(build)["no_driver"].keys == ("start",)


def test_parts_with_no_date_and_parts_overdue() -> None:
    pump = Part(key="pump", name="Pump", serves=("a",))
    assert found(sound(parts=(pump,)))["undated_part"].keys == ("pump",)
    due = replace(pump, arrives_on=MONDAY.date() - 2 * DAY)
    assert found(sound(parts=(due,)))["overdue_part"].keys == ("pump",)
    assert "overdue_part" not in found(sound(parts=(replace(due, arrived=True),)))
    today = replace(pump, arrives_on=MONDAY.date())
    assert found(sound(parts=(today,))) == {}


def test_a_subsystem_without_tasks() -> None:
    build = replace(sound(), subsystems=(Subsystem(key="air", name="Air"),))
    assert found(build)["empty_subsystem"].keys == ("air",)


def test_hours_logged_after_the_task_was_finished() -> None:
    build = sound(task("x", SPREAD, begun_on=MONDAY.date(), finished_on=MONDAY.date()))
    build = replace(build, now=MONDAY + 3 * DAY)
    on_the_day = LogEntry(task="x", on=MONDAY.date(), hours=2)
    after = replace(on_the_day, on=MONDAY.date() + DAY)
    fine = replace(build, log=(on_the_day,))
    assert "unplanned_work" not in found(fine)
    assert found(replace(build, log=(on_the_day, after)))["unplanned_work"].keys == ("x",)


def test_work_begun_that_has_gone_silent() -> None:
    build = sound(task("x", SPREAD, begun_on=MONDAY.date()), links=(("x", "b"),))
    entry = LogEntry(task="x", on=MONDAY.date() + DAY, hours=1)
    build = replace(build, log=(entry,))
    baseline = build
    assert "silent_work" not in found(replace(build, now=MONDAY + 15 * DAY), baseline)
    assert found(replace(build, now=MONDAY + 16 * DAY), baseline)["silent_work"].keys == ("x",)


def test_a_log_without_a_baseline_and_a_baseline_the_plan_has_left() -> None:
    logged = LogEntry(task="a", on=MONDAY.date(), hours=1)
    build = sound(task("idea", SPREAD), links=(("idea", "start"),), log=(logged,))
    build = replace(build, now=MONDAY + 92 * DAY)
    assert "no_baseline" in found(build)
    finding = found(build, sound())["old_baseline"]
    assert finding.keys == ("idea",)
    assert finding.days_old == 92
    young = replace(sound(), now=MONDAY + 30 * DAY)
    assert "old_baseline" not in found(build, young)
    assert "old_baseline" not in found(build, build)


@given(builds(), st.booleans())
def test_every_finding_names_things_of_the_build(build: BuildInput, with_baseline: bool) -> None:
    keys = {t.key for t in build.tasks} | {p.key for p in build.parts}
    keys |= {s.key for s in build.subsystems}
    for finding in findings_of(build, make_plan(build), build if with_baseline else None):
        assert set(finding.keys) <= keys
