"""Whether the bridge of a life is right: only the planted cause moves first start."""

from tests.lives.planted import CAUSE_OF, Pair
from webapp.planning.bridge.bridge import Bridge, bridge

ROUNDING_MINUTES = 1


def false_shares(pair: Pair, way: Bridge | None = None) -> dict[str, int]:
    """Minutes of every cause that has a share and was not planted; none where all is right."""
    way = way or bridge(pair.earlier, pair.later)
    if way.no_answer:
        return {way.no_answer: 0}
    return {
        share.cause: share.minutes
        for share in way.shares
        if share.cause != CAUSE_OF.get(pair.kind) and abs(share.minutes) > ROUNDING_MINUTES
    }
