"""The demo's story: lived through the verbs, it contradicts itself nowhere and shows something."""

import datetime as dt
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest

from tests.heron_story import PRESENT, figures_on_the_table
from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.checks.input_checks import faults_of
from webapp.build.moments import date_of
from webapp.build.time_units import DAY
from webapp.exchange.build_document import read_document, write_document
from webapp.planning.bridge.bridge import Bridge, bridge
from webapp.planning.bridge.wish_took import real_days
from webapp.planning.chances.pace import Pace
from webapp.planning.order.kept_order import plan_that_holds
from webapp.planning.record.calibration import factors_of
from webapp.planning.record.earned import earned_of
from webapp.services.forecast_figures import forecast_figures
from webapp.services.seed_builds import shipped_story

WEEK = 7 * DAY
WRITE_ANEW = "run `python -m tests.heron_story`"
STORY = shipped_story()
DECIDED = [wish.key for wish in STORY.present.wishes if wish.decision is not None]


def moments() -> tuple[BuildInput, ...]:
    story = STORY
    return (story.baseline, *story.weeks, story.present)


@cache
def pace_of(build: BuildInput) -> Pace:
    figures = forecast_figures(build)
    assert figures is not None
    return Pace(factors=figures.factors, factor=figures.factor)


@cache
def bridge_since_the_baseline() -> Bridge:
    story = STORY
    earlier, later = story.baseline, story.weeks[-1]
    return bridge(earlier, later, earlier_pace=pace_of(earlier), later_pace=pace_of(later))


def test_the_story_runs_from_its_baseline_over_eight_closed_weeks() -> None:
    story = STORY
    assert story.baseline.now == dt.datetime(2025, 12, 14, 20)
    closed = [dt.datetime(2025, 12, 21, 20) + dt.timedelta(weeks=n) for n in range(8)]
    assert [build.now for build in story.weeks] == closed
    assert story.present.now == dt.datetime(2026, 2, 9, 18)


def test_heron_json_is_what_living_the_story_gives() -> None:
    present, _ = read_document(PRESENT.read_bytes(), now=dt.datetime.min)
    assert present == STORY.present, WRITE_ANEW


@pytest.mark.parametrize("build", moments(), ids=lambda build: f"{build.now:%d-%b}")
def test_every_moment_can_be_planned_and_written(build: BuildInput) -> None:
    assert faults_of(build) == ()
    assert plan_that_holds(build).unplanned == ()
    assert read_document(write_document(build), now=dt.datetime.min) == (build, ())


@pytest.mark.parametrize("build", moments(), ids=lambda build: f"{build.now:%d-%b}")
def test_no_moment_knows_of_a_later_one(build: BuildInput) -> None:
    facts = [
        *(entry.on for entry in build.log),
        *(task.begun_on for task in build.tasks),
        *(task.finished_on for task in build.tasks),
        *(task.set_aside_on for task in build.tasks),
        *(part.ordered_on for part in build.parts),
        *(wish.logged_on for wish in build.wishes),
        *(wish.decision.decided_on for wish in build.wishes if wish.decision is not None),
    ]
    assert max(date_of(fact) for fact in facts if fact is not None) <= build.now.date()
    decided = {wish.key for wish in build.wishes if wish.decision is not None}
    assert {task.wish for task in build.tasks} - {None} <= decided
    assert all(part.promised_on is None or part.ordered_on for part in build.parts)


def test_late_parts_are_known_to_be_late_when_the_supplier_says_so_and_no_sooner() -> None:
    told = {}
    for build in moments():
        part = next(part for part in build.parts if part.key == "alloy_bends")
        told[build.now.date()] = (part.promised_on, part.arrives_on)
    promised, late = dt.date(2026, 1, 9), dt.date(2026, 3, 3)
    assert told[dt.date(2025, 12, 14)] == (None, None)
    assert told[dt.date(2026, 1, 25)] == (promised, None)
    assert told[dt.date(2026, 2, 1)] == (promised, late)


@pytest.mark.parametrize("key", DECIDED)
def test_the_figures_of_a_decision_are_what_the_program_said_that_evening(key: str) -> None:
    decision = next(wish.decision for wish in STORY.present.wishes if wish.key == key)
    assert decision is not None
    assert decision.figures == figures_on_the_table(key, decision.decided_on), WRITE_ANEW


def test_the_bridge_since_the_baseline_has_something_to_say_of_most_causes() -> None:
    """Half a day and more counts as a step that a person sees."""
    told = bridge_since_the_baseline()
    assert told.move_minutes is not None
    assert told.move_minutes > 7 * 24 * 60
    assert sum(share.minutes for share in told.shares) == told.move_minutes
    steps = {share.cause for share in told.shares if abs(share.minutes) >= 12 * 60}
    assert len(steps) >= 4
    assert {"scope", "shop_time", "parts"} <= steps


def test_the_two_lost_evenings_stand_in_the_bridge() -> None:
    lost = next(share for share in bridge_since_the_baseline().shares if share.cause == "shop_time")
    hours = {item.key: item.hours for item in lost.items if item.minutes > 0}
    assert hours["2026-01-08"] == hours["2026-01-29"] == 3.0


def test_the_late_bends_are_the_part_that_moved_first_start_most() -> None:
    late = next(share for share in bridge_since_the_baseline().shares if share.cause == "parts")
    assert max(late.items, key=lambda item: item.minutes).key == "alloy_bends"


def test_one_wish_took_more_hours_than_said_and_its_days_were_spent_waiting_for_the_bends() -> None:
    """Its evenings would have been free for other work, and all of that waits for the bends.

    Had these come in time, its hours would have moved first start as they do a build that never
    waits: 8.5 h at the bench against the expected 3.2 h that were said.
    """
    build = STORY.present
    wish = next(wish for wish in build.wishes if wish.key == "electric_fan")
    assert wish.decision is not None
    said = next(figures for figures in wish.decision.figures if figures.way == "fit now")
    worked = sum(entry.hours for entry in build.log if entry.task == "electric_fan")
    assert worked == 8.5 > 1.5 * said.hours
    assert said.move_days is not None
    factors = factors_of(build)
    assert 0 < real_days(build, factors)["electric_fan"].days < said.move_days
    bends = replace(get_by_key(build.parts, "alloy_bends"), arrives_on=build.now.date())
    in_time = replace(build, parts=replaced_by_key(build.parts, bends))
    assert real_days(in_time, factors)["electric_fan"].days > 1.5 * said.move_days


def test_work_is_earned_in_every_week_that_the_shop_was_open() -> None:
    """Earned value since the baseline; the second week, the week away, earns nothing."""
    baseline = STORY.baseline
    earned = earned_of(baseline, plan_that_holds(baseline), STORY.present)
    since = [week for week in earned.weeks if week.ends > baseline.now]
    known = [week.ev for week in since if week.ev is not None and week.ends <= STORY.present.now]
    begun_with = next(week.ev for week in earned.weeks if week.ends > baseline.now - WEEK)
    assert begun_with is not None
    assert len(known) >= 8
    gained = [later - before for before, later in pairwise([begun_with, *known])]
    assert [n for n, hours in enumerate(gained) if hours <= 0] == [2]
