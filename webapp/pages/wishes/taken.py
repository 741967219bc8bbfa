"""What took the headroom besides accepted wishes: late parts, lost hours, estimates."""

from dataclasses import dataclass

from webapp.build.time_units import DAY_MINUTES
from webapp.pages.frame.context import PageContext
from webapp.pages.week.bridges import TODAY, bridge_answer, side_of, side_of_snapshot
from webapp.pages.words.bridge import CAUSE_NAMES
from webapp.planning.bridge.bridge import Bridge, Cause
from webapp.planning.chances.headroom import headroom_hours_a_day
from webapp.services.program import Services
from webapp.services.snapshots import headings_of

TAKING: tuple[Cause, ...] = ("parts", "shop_time", "estimates")
"""Accepted wishes stand on the stick one by one; the pace and the order of work take no hours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseHours:
    """One cause of the bridge since the baseline, in hours of headroom; won is below zero."""

    name: str
    hours: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What the causes took since the baseline, none where there is no baseline to tell it from.

    `hours_a_day` is how much headroom a day is; `working` while the bridge is worked out.
    """

    causes: tuple[CauseHours, ...] = ()
    hours_a_day: float = 0.0
    working: bool = False


NOTHING_TAKEN = Taken()


def taken_since_baseline(services: Services, page: PageContext) -> Taken:
    """What late parts, lost hours and estimates took, by the bridge that Week shows as well."""
    figures, wanted = page.figures, page.build.wanted_by
    if figures is None or wanted is None:
        return NOTHING_TAKEN
    headings = headings_of(services, page.slug)
    if headings.baseline is None:
        return NOTHING_TAKEN
    today = side_of(services, page, headings, TODAY)
    assert today is not None
    answer = bridge_answer(page, side_of_snapshot(services, page, headings.baseline), today)
    if answer is None or (answer.ready and answer.value is None):
        return NOTHING_TAKEN
    if not answer.ready or answer.value is None:
        return Taken(working=True)
    a_day = headroom_hours_a_day(page.build, wanted, figures.factors)
    return Taken(causes=_causes(answer.value, a_day), hours_a_day=a_day)


def _causes(way: Bridge, hours_a_day: float) -> tuple[CauseHours, ...]:
    return tuple(
        CauseHours(name=CAUSE_NAMES[cause], hours=minutes / DAY_MINUTES * hours_a_day)
        for cause in TAKING
        if (minutes := way.minutes_of(cause))
    )
