"""A planned build: what is asked of an earlier state is answered as it was shown."""

from dataclasses import replace

from tests.pages.conftest import HERON, NOW
from webapp.build.build_input import BuildInput
from webapp.exchange.build_document import read_document
from webapp.services.background import Background
from webapp.services.planned_build import PACES_KEPT, Paces, PlannedBuild


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
