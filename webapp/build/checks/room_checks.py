"""Faults of rooms: measures that can not be, and things that nobody could tell apart."""

from collections.abc import Iterator

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.fault_words import Thing, shown
from webapp.build.limits import LEAST_LENGTH_MM, MOST_IN_A_ROOM, MOST_LENGTH_MM
from webapp.build.room import HELD_KINDS, Room


def room_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of every room; that a key stands twice is told with the other keys."""
    for number, room in enumerate(build.rooms, start=1):
        thing = Thing(kind="room", key=room.key, name=room.name, number=number)
        yield from thing.key_faults()
        yield from thing.text_faults("name", room.name, required=True)
        yield from thing.number_faults(
            "measured_mm",
            "what was measured, in mm",
            room.measured_mm,
            least=LEAST_LENGTH_MM,
            most=MOST_LENGTH_MM,
        )
        yield from thing.number_faults(
            "plus_minus_mm", "give or take, in mm", room.plus_minus_mm, most=MOST_LENGTH_MM
        )
        yield from _held_faults(thing, room)


def _held_faults(thing: Thing, room: Room) -> Iterator[Fault]:
    yield from thing.count_faults("holds", "pieces and gaps", room.holds, MOST_IN_A_ROOM)
    names = set[str]()
    for number, one in enumerate(room.holds, start=1):
        called = Thing(kind="room", key=room.key, name=f"{room.name}, {shown(one.name) or number}")
        yield from called.text_faults("holds", one.name)
        if not one.name.strip():
            yield called.fault("holds", "it has no name. Enter one: condenser, gap behind it.")
        elif one.name in names:
            yield called.fault("holds", "it stands there twice. Give one of the two another name.")
        names.add(one.name)
        if one.kind not in HELD_KINDS:
            yield called.fault("holds", "it is no piece and no gap. Pick one of the two.")
        yield from called.number_faults("holds", "its mm", one.mm, most=MOST_LENGTH_MM)
        yield from called.number_faults(
            "holds", "give or take, in mm", one.plus_minus_mm, most=MOST_LENGTH_MM
        )
