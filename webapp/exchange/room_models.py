"""The key `rooms` of the build document as models."""

from typing import Annotated

from pydantic import PlainValidator, WithJsonSchema

from webapp.build.limits import LEAST_LENGTH_MM, MOST_IN_A_ROOM, MOST_LENGTH_MM
from webapp.build.room import HELD_KINDS, HeldKind
from webapp.exchange.document_entry import Entry, between, many, said
from webapp.exchange.document_values import Key, Name
from webapp.exchange.value_readers import one_of, read_number


def read_held_kind(value: object) -> HeldKind:
    """A piece or a gap."""
    return one_of(HELD_KINDS, value)


MeasuredMm = Annotated[float, PlainValidator(read_number), between(LEAST_LENGTH_MM, MOST_LENGTH_MM)]
Mm = Annotated[float, PlainValidator(read_number), between(0, MOST_LENGTH_MM)]
HeldWord = Annotated[
    HeldKind, PlainValidator(read_held_kind), WithJsonSchema({"enum": list(HELD_KINDS)})
]


class InRoomEntry(Entry):
    """A piece or a gap, told by its name."""

    name: Name
    mm: Mm
    plus_minus_mm: Mm | None = said("Give or take.", 0)
    kind: HeldWord | None = said("A piece if left out.", "piece")


class RoomEntry(Entry):
    """A measured space with what is stacked in it."""

    key: Key
    name: Name
    measured_mm: MeasuredMm | None = said("The space; null is not measured yet.")
    plus_minus_mm: Mm | None = said("Give or take.", 0)
    holds: list[InRoomEntry] | None = many("Pieces and gaps in their order.", MOST_IN_A_ROOM)
