"""Two builds of one person: the first lived by the verbs, the second begun with its record."""

import datetime as dt
from dataclasses import replace
from functools import cache

import pytest

from tests.build.builds import EVENINGS, MONDAY, build_of, task
from tests.lives.living import Truth, lived
from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.build.shop import Setup
from webapp.build.starter.own_list import begun_from, own_list
from webapp.exchange.build_document import read_document, write_document
from webapp.planning.bridge.bridge import bridge
from webapp.planning.bridge.dates import first_start_at_pace
from webapp.planning.chances.factors import Attendance, kind_called
from webapp.planning.chances.pace import paced_seconds
from webapp.planning.record.attendance import attendance_of
from webapp.planning.record.calibration import factors_of, levels_of
from webapp.planning.record.taking_along import earlier_record_of
from webapp.services.forecast_figures import pace_shown

WORK = [f"w{i}" for i in range(12)]
FIRST = dt.date(2026, 1, 5)
"""A Monday; evenings of three hours from Monday to Friday."""
WEEKS = 7
LATER = MONDAY + dt.timedelta(weeks=WEEKS)
TAKEN = kind_called("", is_taken=True)


def fresh(name: str, now: dt.datetime = MONDAY) -> BuildInput:
    """Twelve pieces of work of three hours, four of them with the welder, then first start."""
    tasks = [
        task(key, (2, 3, 4), setup="tig" if place % 3 == 0 else None)
        for place, key in enumerate(WORK)
    ]
    build = build_of(
        [*tasks, task("start", 0)],
        [(key, "start") for key in WORK],
        first_start="start",
        week=EVENINGS,
        setups=(Setup(key="tig", name="TIG welder", hours=0.0),),
        now=now,
    )
    return replace(build, name=name, starts_on=now.date())


def slow(times: float) -> Truth:
    """All work takes so many times its hours, and every Friday nobody comes."""
    fridays = (FIRST + dt.timedelta(days=4 + 7 * week) for week in range(30))
    return Truth(hours=dict.fromkeys(WORK, times), missed=frozenset(fridays))


@cache
def first_build() -> BuildInput:
    """Lived at 1.5 times its hours, four evenings of five, until it ran."""
    return lived(fresh("The Heron"), LATER, slow(1.5))


@cache
def record() -> EarlierRecord:
    found = earlier_record_of(first_build(), key="heron", on=LATER.date())
    assert found is not None
    return found


def second_build(*records: EarlierRecord) -> BuildInput:
    return replace(fresh("The Gull", LATER), earlier_records=records)


def first_start(build: BuildInput) -> dt.datetime:
    """The date that is shown."""
    at = first_start_at_pace(build, pace_shown(build))
    assert at is not None
    return at


def test_the_first_builds_record_is_what_was_lived() -> None:
    none, tig = sorted(record().kinds, key=lambda kind: kind.name)
    assert (none.name, none.tasks, tig.name, tig.tasks) == ("", 8, "TIG welder", 4)
    assert record().times_estimate == pytest.approx(1.5, abs=0.01)
    assert none.worth == 8
    assert none.log_squares == pytest.approx(0, abs=1e-3)
    # 12 x 3 x 1.5 = 54 h, four evenings of 3 h a week: four and a half weeks, four of them whole
    # and one that had work on its first evenings.
    assert record().weeks == 5
    assert record().share_worked == pytest.approx(0.8, abs=0.03)
    text = write_document(second_build(record()))
    assert read_document(text, now=LATER) == (second_build(record()), ())
    assert "w0" not in str(record())


def test_the_second_build_begins_at_the_first_ones_pace_and_off_is_without_it() -> None:
    bare, begun = second_build(), second_build(record())
    assert not faults_of(begun)
    factors = factors_of(begun)
    # Between what the record says, 1.5, and 1: builds of one person differ.
    assert 1.25 < factors.of_kind("").factor < 1.4
    assert factors.of_kind("tig").earlier == 4
    assert 0.82 < factors.attendance.mean < 0.95
    assert first_start(begun) > first_start(bare)
    off = second_build(replace(record(), counts=False))
    assert factors_of(off) == factors_of(bare)
    assert first_start(off) == first_start(bare)
    assert factors_of(begun, calibrated=False, attended=False).attendance == Attendance()
    # The date at once is nearer to what the second build takes where it is lived alike.
    really = first_start(lived(bare, LATER + dt.timedelta(weeks=WEEKS), slow(1.5)))
    assert abs(first_start(begun) - really) < abs(first_start(bare) - really)


def test_the_second_builds_own_record_takes_over() -> None:
    begun = second_build(record())
    found = []
    for weeks in range(4):
        until = LATER + dt.timedelta(weeks=weeks)
        factors = factors_of(lived(begun, until, slow(0.9)))
        found.append(factors.of_kind("").factor)
    assert found == sorted(found, reverse=True)
    assert found[0] > 1.25
    assert found[-1] < 1.1


def test_a_list_of_the_first_build_is_not_corrected_twice() -> None:
    made = own_list(first_build(), "As it took")
    begun = begun_from(made, name="The Gull", now=LATER, starts_on=LATER.date())
    heard = replace(begun, earlier_records=(record(),))
    work = [one for one in heard.tasks if one.key in WORK]
    # 3 h lasted 4.5 h; the list has that as its mean.
    assert all(one.hours_taken for one in work)
    assert [one.hours.expected for one in work] == pytest.approx([4.5] * 12, abs=0.02)
    factors = factors_of(heard)
    assert factors.of_kind(TAKEN).factor == pytest.approx(1.0)
    assert paced_seconds(heard, levels_of(heard)) == paced_seconds(begun, levels_of(begun))
    # Attendance counts as ever, and work that was never lived is an estimate.
    assert factors.attendance == attendance_of(second_build(record()))
    typed = replace(heard, tasks=(task("new", 3), *heard.tasks))
    assert paced_seconds(typed, levels_of(typed))["new"] == pytest.approx(
        3 * 3600 * factors.of_kind("").factor, abs=1
    )


def test_tasks_at_hours_once_taken_say_nothing_of_estimates_and_are_not_taken_along() -> None:
    made = own_list(first_build(), "As it took")
    begun = begun_from(made, name="The Gull", now=LATER, starts_on=LATER.date())
    begun = replace(begun, tasks=(*begun.tasks, task("typed", 2), task("typed2", 2)))
    truth = Truth(hours={"typed": 1.5, "typed2": 1.5})
    done = lived(begun, LATER + dt.timedelta(weeks=8), truth)
    factors = factors_of(done)
    assert factors.of_kind(TAKEN).factor == pytest.approx(1.0, abs=0.03)
    assert factors.of_kind("").factor > 1.05
    assert (factors.of_kind(TAKEN).count, factors.of_kind("").count) == (8, 2)
    onward = earlier_record_of(done, key="gull", on=done.now.date())
    assert onward is not None
    assert onward.tasks == 2
    assert onward.times_estimate == pytest.approx(1.5, abs=0.01)


def test_an_unchanged_build_has_an_empty_bridge_and_the_record_is_its_own_cause() -> None:
    begun = second_build(record())
    morning = replace(begun, now=begun.now + dt.timedelta(hours=9))
    pace = pace_shown(begun)
    still = bridge(begun, morning, earlier_pace=pace, later_pace=pace_shown(morning))
    assert [share.minutes for share in still.shares] == [0] * len(still.shares)
    off = replace(morning, earlier_records=(replace(record(), counts=False),))
    way = bridge(begun, off, earlier_pace=pace, later_pace=pace_shown(off))
    assert way.move_minutes is not None
    assert way.move_minutes < 0
    assert way.minutes_of("record") == way.move_minutes


def test_setups_of_one_name_are_one_kind_and_what_was_taken_along_stays_out() -> None:
    two = (
        Setup(key="tig", name="TIG welder", hours=0.0),
        Setup(key="t2", name="tig  Welder", hours=0),
    )
    build = first_build()
    moved = replace(
        build,
        shop=replace(build.shop, setups=two),
        tasks=tuple(replace(one, setup="t2") if one.key == "w3" else one for one in build.tasks),
        earlier_records=(replace(record(), key="before"),),
    )
    again = earlier_record_of(moved, key="heron", on=LATER.date())
    assert again is not None
    assert [(kind.name, kind.tasks) for kind in again.kinds] == [("", 8), ("TIG welder", 4)]


def test_a_build_that_has_shown_nothing_has_no_record_to_take() -> None:
    assert earlier_record_of(fresh("New"), key="new", on=FIRST) is None


def test_attendance_of_two_earlier_builds_by_hand() -> None:
    # The person's half of 0.04 is 0.02. 4 weeks at 0.7: v = 0.02 + 0.0625 / 4 = 0.035625; 10 weeks
    # at 0.9: v = 0.02 + 0.00625 = 0.02625. p = 50 + 28.0702 + 38.0952 = 116.1654;
    # mean = (50 + 0.7 x 28.0702 + 0.9 x 38.0952) / p = 103.9348 / 116.1654 = 0.894714.
    def worked(key: str, weeks: int, share: float) -> EarlierRecord:
        return EarlierRecord(
            key=key,
            name=key,
            taken_on=FIRST,
            weeks=weeks,
            workable_hours=10.0 * weeks,
            worked_hours=share * 10 * weeks,
        )

    build = second_build(worked("a", 4, 0.7), worked("b", 10, 0.9))
    found = attendance_of(build)
    assert found.mean == pytest.approx(0.894714, abs=1e-6)
    assert found.sd == pytest.approx((1 / 116.1654 + 0.02) ** 0.5, abs=1e-6)
    assert (found.weeks, found.earlier) == (0, 14)


def test_an_earlier_kind_of_no_name_is_work_without_a_setup() -> None:
    kind = EarlierKind(tasks=3, actual_hours=6.0, expected_hours=3.0, worth=3.0)
    build = second_build(EarlierRecord(key="a", name="A", taken_on=FIRST, kinds=(kind,)))
    factors = levels_of(build)
    assert [one.kind for one in factors.kinds] == [""]
    assert factors.of_kind("").factor > factors.of_kind("tig").factor > 1
