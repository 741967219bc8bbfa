"""Whether the bridge of a life is right: only the planted cause moves first start."""

from tests.lives.planted import CAUSE_OF, Pair
from webapp.planning.bridge.bridge import Bridge, bridge
from webapp.planning.chances.factors import Attendance, Factors
from webapp.planning.chances.pace import Pace

ROUNDING_MINUTES = 1
EIGHT_IN_TEN = Pace(factors=Factors(attendance=Attendance(mean=0.8)))
"""The pace of somebody who works eight in ten of the promised hours."""


def bridge_of(pair: Pair) -> Bridge:
    """The bridge of a life, at the one pace it was lived at."""
    return bridge(pair.earlier, pair.later, earlier_pace=pair.pace, later_pace=pair.pace)


def false_shares(
    pair: Pair, way: Bridge | None = None, *, at_least: int = ROUNDING_MINUTES
) -> dict[str, int]:
    """Minutes of every cause with a share above some that was not planted; none if it is right."""
    way = way or bridge_of(pair)
    if way.no_answer:
        return {way.no_answer: 0}
    return {
        share.cause: share.minutes
        for share in way.shares
        if share.cause != CAUSE_OF.get(pair.kind) and abs(share.minutes) > at_least
    }
