"""A planned build: what is asked of an earlier state is answered as it was shown."""

import datetime as dt
from collections.abc import Hashable
from dataclasses import replace
from typing import Any

import pytest

from tests.build.builds import build_of, task
from tests.pages.conftest import HERON, NOW
from webapp.build.build_input import BuildInput, Fault
from webapp.exchange.build_document import read_document
from webapp.services import plan_cache
from webapp.services.background import Answer, Background
from webapp.services.plan_cache import PlanCache
from webapp.services.planned_build import PlannedBuild
from webapp.services.planned_state import PACES_KEPT, Paces


def heron() -> BuildInput:
    build, faults = read_document(HERON.read_bytes(), now=NOW)
    assert build is not None
    assert not faults
    return build


def test_the_date_before_a_change_is_the_one_that_was_shown() -> None:
    """Whatever pace the changed build is laid out at since: the factor of a version is its own."""
    paces, background, before = Paces(PACES_KEPT), Background(), heron()
    earlier = PlannedBuild(before, slug="the-heron", background=background, paces=paces)
    assert earlier.forecast(wait_seconds=60).ready
    shown = earlier.plan()
    assert shown is not None
    changed = replace(before, tasks=before.tasks[::-1])
    later = PlannedBuild(changed, slug="the-heron", background=background, paces=paces)
    paces.keep("the-heron", 1.5 * earlier.factor)
    at_later_pace = later.plan()
    assert at_later_pace is not None
    assert at_later_pace.first_start_at != shown.first_start_at
    was = later.as_it_was(before).plan()
    assert was is not None
    assert was.first_start_at == shown.first_start_at
    background.close()


def test_a_state_that_is_at_hand_is_not_worked_out_again_unless_it_differs() -> None:
    before = heron()
    later = PlannedBuild(replace(before, tasks=before.tasks[::-1]), slug="the-heron")
    at_hand = PlannedBuild(before, slug="the-heron")
    assert later.as_it_was(before, at_hand) is at_hand
    assert later.as_it_was(replace(before, name="The Grebe"), at_hand) is not at_hand
    then = PlannedBuild(replace(before, now=NOW - dt.timedelta(minutes=1)), slug="the-heron")
    found = later.as_it_was(before, then)
    assert found is not then
    assert found.build == before


@pytest.mark.parametrize("hours", [{"a": 0}, {"a": 2}])
def test_where_nothing_can_be_drawn_no_forecast_is_waited_for(hours: dict[str, float]) -> None:
    """First start has no hours and nothing comes before it; or no task is named so."""
    first_start = None if hours["a"] else "a"
    build = build_of([task("a", hours["a"])], first_start=first_start)
    planned = PlannedBuild(build, background=NoWork())
    assert planned.forecast(wait_seconds=60) == Answer(ready=True, value=None)


class NoWork(Background):
    """Fails whoever asks it."""

    def ask(self, key: Hashable, *_: object, **__: object) -> Answer[Any]:
        raise AssertionError(f"{key} is worked out")


def test_a_build_is_looked_through_for_faults_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """By the change that stores it and the page that shows it; of another moment once more."""
    looked_through: list[BuildInput] = []

    def counted(build: BuildInput) -> tuple[Fault, ...]:
        looked_through.append(build)
        return ()

    monkeypatch.setattr(plan_cache, "faults_of", counted)
    plans, stored = PlanCache(), heron()
    assert plans.faults_of(stored) == ()
    planned = plans.get("the-heron", 1, NOW, lambda: replace(stored))
    assert planned is not None
    assert planned.faults == ()
    assert plans.aside("the-heron", stored).faults == ()
    assert len(looked_through) == 1
    later = replace(stored, now=NOW + dt.timedelta(minutes=1))
    assert plans.aside("the-heron", later).faults == ()
    assert len(looked_through) == 2
