"""What the page of rooms shows: each measured space with its stack, and what is left of it."""

from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.room import Room, RoomWord, room_left
from webapp.pages import addresses
from webapp.pages.words import sizes
from webapp.pages.words.amounts import count
from webapp.pages.words.how import How

SAYS: dict[RoomWord, str] = {
    "ok": "it goes in, even where everything goes against it at once",
    "tight": "it goes in as things usually fall, not where everything goes against it at once",
    "too small": "it does not go in",
    "not measured": "the space is not measured yet",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomLine:
    """One room: what became of it, and its figures by name."""

    name: str
    address: str
    says: str
    figures: tuple[tuple[str, str], ...]
    how: How


def room_lines(build: BuildInput, slug: str) -> tuple[RoomLine, ...]:
    """Every room in its order."""
    return tuple(_line(room, slug) for room in build.rooms)


def _left(mm: float) -> str:
    return f"{sizes.length(mm)} left" if mm >= 0 else f"{sizes.length(-mm)} missing"


def _line(room: Room, slug: str) -> RoomLine:
    left = room_left(room)
    figures = [(count(len(room.holds), "piece or gap", "pieces and gaps"), left.taken_mm)]
    told = [(name, sizes.length(mm)) for name, mm in figures]
    if room.measured_mm is not None:
        told.insert(0, ("Measured", sizes.length(room.measured_mm)))
    for name, mm in (
        ("As it is said", left.left_mm),
        ("At the worst", left.worst_mm),
        ("Root sum square", left.likely_mm),
    ):
        if mm is not None:
            told.append((name, _left(mm)))
    return RoomLine(
        name=room.name,
        address=addresses.room(slug, room.key),
        says=SAYS[left.word],
        figures=tuple(told),
        how=_how(room),
    )


def _how(room: Room) -> How:
    gives = [mm for mm in (room.plus_minus_mm, *(one.plus_minus_mm for one in room.holds)) if mm]
    sums = " + ".join(sizes.bare(one.mm) for one in room.holds) or "nothing"
    squares = " + ".join(f"{sizes.bare(mm)}²" for mm in gives) or "0"
    return How(
        figures=("room",),
        of=f"what is left of {room.name}",
        sentences=(
            f"In {sizes.unit('length')}: the space less {sums}. At the worst every give and take"
            f" goes against it: {' + '.join(map(sizes.bare, gives)) or '0'} less again. Root sum"
            f" square: they go either way by themselves, √({squares}) less.",
        ),
    )
