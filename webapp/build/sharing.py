"""Several builds that are worked on in the same hours: who has which session.

The rule is of the data file, not of a build. A build is named by the last part of its address.
"""

import datetime as dt
from dataclasses import dataclass
from typing import Literal

SharingWay = Literal["order", "week"]
"""In an order of builds, or by so many sessions of a week for each."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SharingBuild:
    """A build that shares, and its share of the sessions of a week (no matter in an order)."""

    slug: str
    sessions: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedOver:
    """The session of a date, from minute to minute, given to one build by hand."""

    date: dt.date
    opens_minute: int
    closes_minute: int
    slug: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sharing:
    """How the builds of a data file share their hours; no `builds`: each has all of its own.

    In an order the first of `builds` goes first. What was handed over by hand goes before both.
    """

    way: SharingWay = "order"
    builds: tuple[SharingBuild, ...] = ()
    handed_over: tuple[HandedOver, ...] = ()

    @property
    def slugs(self) -> tuple[str, ...]:
        return tuple(one.slug for one in self.builds)


NOTHING_SHARED = Sharing()
