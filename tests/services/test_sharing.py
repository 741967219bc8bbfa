"""Builds that share their hours, lived side by side: each planned hour belongs to one of them."""

import datetime as dt
from dataclasses import replace

import pytest

from tests.lives.sharing import SharedLife, bridges, shared_life
from webapp.build.sharing import HandedOver, SharingWay
from webapp.build.shop import GivenAway
from webapp.build.time.given_away import falls_on
from webapp.planning.proof.shared_hours import shared_hours_faults

DAYS = 7
WAYS: tuple[SharingWay, ...] = ("week", "order")


def live(life: SharedLife, days: int) -> None:
    for _ in range(days):
        assert life.faults() == ()
        life.live_a_day()
    assert life.faults() == ()


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("seed", [0, 15])
def test_as_planned_no_hour_is_planned_twice_and_every_bridge_is_empty(
    seed: int, way: SharingWay
) -> None:
    life = shared_life(seed, way)
    before = life.whole()
    live(life, DAYS)
    for name, found in bridges(before, life.whole()).items():
        assert not found.no_answer
        moved = [(share.cause, share.minutes) for share in found.shares if abs(share.minutes) > 1]
        assert not moved, (name, moved)


@pytest.mark.parametrize("way", WAYS)
def test_an_evening_given_by_hand_is_the_other_s_and_no_hour_is_planned_twice(
    way: SharingWay,
) -> None:
    life = shared_life(0, way)
    live(life, 2)
    shared = life.shared()
    session = next(one for one in shared.coming(20) if len(one.builds) > 1)
    owner = shared.owner(session)
    other = next(slug for slug in session.builds if slug != owner)
    given = HandedOver(
        date=session.date,
        opens_minute=session.opens_minute,
        closes_minute=session.closes_minute,
        slug=other,
    )
    rule = life.stored.sharing
    rule = replace(rule, handed_over=(*rule.handed_over, given))
    life.stored = replace(life.stored, sharing=rule)
    assert life.shared().owner(session) == other
    live(life, 5)
    assert life.now.date() > session.date
    for name in session.builds:
        there = _on(life.whole()[name].shop.given, session.date)
        assert (session.opens_minute, other) in there or name == other


def test_the_proof_finds_an_hour_that_two_builds_plan() -> None:
    life = shared_life(0, "week")
    found = {}
    for name, planned in life.shared().planned.items():
        alone = life.shared().alone(name)
        plan = alone.plan()
        assert plan is not None
        found[name] = alone.whole, plan
        assert planned.whole.shop.given != alone.whole.shop.given
    assert any("works on" in fault for fault in shared_hours_faults(found))


def test_the_proof_finds_work_in_a_session_that_is_given_away() -> None:
    life = shared_life(0, "week")
    name, planned = next(iter(life.shared().planned.items()))
    plan = life.shared().alone(name).plan()
    assert plan is not None
    assert any("in its own" in one for one in shared_hours_faults({name: (planned.whole, plan)}))


def test_what_is_over_stays_when_the_rule_is_another() -> None:
    life = shared_life(3, "week")
    live(life, 7)
    then = life.now
    was = {name: build.shop.given for name, build in life.whole().items()}
    life.stored = replace(
        life.stored, sharing=replace(life.stored.sharing, way="order"), since=then
    )
    for name, build in life.whole().items():
        for number in range(1, 8):
            day = then.date() - dt.timedelta(days=number)
            assert _on(build.shop.given, day) == _on(was[name], day)


def _on(given: tuple[GivenAway, ...], day: dt.date) -> set[tuple[int, str]]:
    return {(one.opens_minute, one.belongs_to) for one in given if falls_on(one, day)}
