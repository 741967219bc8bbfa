"""An idea that is not yet in the plan, how it was sized, and what was decided of it."""

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from webapp.build.three_point import ThreePoint

WishWay = Literal["fit now", "rough in", "fit later", "let go"]
WISH_WAYS: tuple[WishWay, ...] = ("fit now", "rough in", "fit later", "let go")


@dataclass(frozen=True, slots=True, kw_only=True)
class WishSize:
    """A quick size for a wish, as a range of hours."""

    key: str
    name: str
    hours: ThreePoint


def _size(key: str, name: str, low: float, likely: float, high: float) -> WishSize:
    hours = ThreePoint(optimistic=low, most_likely=likely, pessimistic=high)
    return WishSize(key=key, name=name, hours=hours)


WISH_SIZES: tuple[WishSize, ...] = (
    _size("hour", "an hour", 0.5, 1, 2),
    _size("evening", "an evening", 1.5, 3, 5),
    _size("saturday", "a Saturday", 4, 7, 11),
    _size("weekend", "a weekend", 9, 14, 22),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WishPart:
    """A part a wish would need: days from order to arrival, and money."""

    name: str
    lead_days: float = 0.0
    cost: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WayFigures:
    """What one way of deciding a wish does, against the build without it.

    `move_days` is the mean move of first start over common draws, as it is told: 0.0 below twice
    its standard error, `move_error_days`. `moved_share` are the draws in which first start comes
    later (None in what was decided before these were kept). `hours` are added over the whole
    build, before and after first start. The dates are None where first start has none, the
    headroom where there is no wanted-by date.
    """

    way: WishWay
    likely: dt.datetime | None
    firm: dt.datetime | None
    move_days: float | None
    move_error_days: float | None = None
    moved_share: float | None = None
    headroom_hours: float | None
    hours: float
    cost: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WishDecision:
    """What was decided, when and why, with the figures that were on the table."""

    way: WishWay
    decided_on: dt.date
    why: str = ""
    figures: tuple[WayFigures, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """An idea not yet in the plan, and what was decided about it.

    Only the text is needed; what else is missing is assumed, and said to be. `after` and
    `before` are task keys; `size` a quick size used where there are no `hours`.
    """

    key: str
    text: str
    logged_on: dt.date
    subsystem: str | None = None
    after: str | None = None
    before: str | None = None
    size: str | None = None
    hours: ThreePoint | None = None
    setup: str | None = None
    rough_in_hours: ThreePoint | None = None
    later_extra_hours: float | None = None
    parts: tuple[WishPart, ...] = ()
    cost: float | None = None
    paid: float | None = None
    decision: WishDecision | None = None
