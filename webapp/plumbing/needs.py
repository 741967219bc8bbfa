"""So much of one thing: by count, or by length in metres."""

from collections.abc import Iterable
from dataclasses import dataclass

MM_IN_A_METRE = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What is lacking of one thing: a count, or a length in mm where it is sold by the metre."""

    what: str
    count: int = 0
    length_mm: float = 0.0

    @property
    def metres(self) -> float | None:
        """The length in metres; None for what is counted."""
        return round(self.length_mm / MM_IN_A_METRE, 3) if self.length_mm else None


def gathered(needs: Iterable[Need]) -> tuple[Need, ...]:
    """Each thing once, in the order in which they are first named."""
    counts: dict[str, int] = {}
    lengths: dict[str, float] = {}
    for need in needs:
        counts[need.what] = counts.get(need.what, 0) + need.count
        lengths[need.what] = lengths.get(need.what, 0.0) + need.length_mm
    return tuple(
        Need(what=what, count=count, length_mm=lengths[what]) for what, count in counts.items()
    )
