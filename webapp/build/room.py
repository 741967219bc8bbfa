"""Room: pieces and gaps stacked in one measured space, and whether they go in.

Condenser, intercooler, radiator, fan, each with the gap behind it. Every measure is so many mm give
or take some. Worst case: all of them go against it at once. Root sum square: they go either way by
themselves, and the take-and-give of a sum is the root of the sum of the squares (independent
deviations add up by their variances). Lengths are mm.
"""

import math
from dataclasses import dataclass
from typing import Literal

HeldKind = Literal["piece", "gap"]
HELD_KINDS: tuple[HeldKind, ...] = ("piece", "gap")
RoomWord = Literal["ok", "tight", "too small", "not measured"]
_FINE_MM = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class InRoom:
    """A piece or a gap, so many mm give or take some; within its room it is told by its name."""

    name: str
    mm: float
    plus_minus_mm: float = 0.0
    kind: HeldKind = "piece"


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A space with what is stacked in it, in its order; `measured_mm` None is not measured yet."""

    key: str
    name: str
    measured_mm: float | None = None
    plus_minus_mm: float = 0.0
    holds: tuple[InRoom, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomLeft:
    """What is left of a room; below zero is missing, None where it is not measured.

    word : ok where it goes in at the worst, tight where it does by the root sum square alone,
        too small where it does by neither
    taken_mm : pieces and gaps as they are said
    left_mm : as it is said; worst_mm : at the worst; likely_mm : by the root sum square
    """

    word: RoomWord
    taken_mm: float
    left_mm: float | None = None
    worst_mm: float | None = None
    likely_mm: float | None = None


def room_left(room: Room) -> RoomLeft:
    """Stack what is in a room against the room."""
    taken = sum(one.mm for one in room.holds)
    if room.measured_mm is None:
        return RoomLeft(word="not measured", taken_mm=taken)
    either_way = [room.plus_minus_mm, *(one.plus_minus_mm for one in room.holds)]
    left = room.measured_mm - taken
    worst, likely = left - sum(either_way), left - math.hypot(*either_way)
    word: RoomWord = "ok" if worst >= -_FINE_MM else "tight" if likely >= -_FINE_MM else "too small"
    return RoomLeft(word=word, taken_mm=taken, left_mm=left, worst_mm=worst, likely_mm=likely)
