"""The values that only plumbing has: how each is read, refused and described."""

from collections.abc import Mapping, Sequence
from typing import Annotated, TypeVar

from pydantic import PlainValidator, WithJsonSchema

from webapp.build.checks.fault_words import shown
from webapp.build.limits import (
    LEAST_FROST_C,
    LEAST_LENGTH_MM,
    LEAST_SIZE_MM,
    MOST_ANGLE,
    MOST_BAR,
    MOST_CLAMPS,
    MOST_CUT_LENGTH_MM,
    MOST_LENGTH_MM,
    MOST_LITRES_INSIDE,
    MOST_NAME_CHARACTERS,
    MOST_ON_THE_SHELF,
    MOST_PLUMBING_KEY_CHARACTERS,
    MOST_SIZE_MM,
    MOST_SIZE_NAME_CHARACTERS,
    MOST_STOCK_PRICE,
    MOST_WALL_MM,
)
from webapp.build.plumbing import (
    ANTIFREEZES,
    ARROWS,
    END_KINDS,
    FLOWS,
    PIECE_KINDS,
    ROLES,
    SHELF_KINDS,
    STOP_KINDS,
    WAIVABLE,
    Antifreeze,
    Arrow,
    End,
    EndKind,
    Flow,
    PieceKind,
    Role,
    ShelfKind,
    Size,
    StopKind,
    Volume,
    Waiver,
)
from webapp.exchange.document_entry import between, whole_between
from webapp.exchange.value_readers import found, read_number, read_text, read_whole_number, refused

Word = TypeVar("Word", bound=str)


def _one_of(words: Sequence[Word], value: object, none_called: str) -> Word:
    for word in words:
        if value == word:
            return word
    if isinstance(value, str):
        raise refused(f"{none_called} “{shown(value)}”. Use one of {', '.join(words)}.")
    raise refused(f"must be one of {', '.join(words)}, not {found(value)}.")


def read_end_kind(value: object) -> EndKind:
    """What kind of end it is."""
    return _one_of(END_KINDS, value, "is no end: no end is called")


def read_piece_kind(value: object) -> PieceKind:
    """What kind of piece of a run it is."""
    return _one_of(PIECE_KINDS, value, "is unknown: no piece is called")


def read_shelf_kind(value: object) -> ShelfKind:
    """What lies on the shelf."""
    return _one_of(SHELF_KINDS, value, "is unknown: nothing on the shelf is called")


def read_flow(value: object) -> Flow:
    """Which way it flows, as seen from the component."""
    return _one_of(FLOWS, value, "is no way to flow:")


def read_role(value: object) -> Role:
    """What a port is for, beyond joining."""
    return _one_of(ROLES, value, "is unknown:")


def read_stop_kind(value: object) -> StopKind:
    """What shuts a port."""
    return _one_of(STOP_KINDS, value, "is no way to shut a port:")


def read_arrow(value: object) -> Arrow:
    """Which way a piece lets through, along the run as it was typed in."""
    return _one_of(ARROWS, value, "is no way of an arrow:")


def read_antifreeze(value: object) -> Antifreeze:
    """What the concentrate of a coolant is."""
    return _one_of(ANTIFREEZES, value, "is unknown: no concentrate is called")


def read_size(value: object) -> Size:
    """Millimetres as a number, or a name: a thread, a dash, a cone, a flange."""
    if isinstance(value, str):
        return read_text(value)
    return read_number(value)


def read_piece_size(value: object) -> float | tuple[float, float]:
    """One size in mm, or two of them."""
    if not isinstance(value, list):
        return read_number(value)
    if len(value) != 2:
        raise refused(f"has {len(value)} numbers. Give one, or the two of both ends.")
    return (read_number(value[0]), read_number(value[1]))


def read_range(value: object) -> tuple[float, float]:
    """From which diameter in mm to which."""
    if not isinstance(value, list) or len(value) != 2:
        raise refused(f"must be two diameters in mm, as [40, 60], not {found(value)}.")
    return (read_number(value[0]), read_number(value[1]))


def read_ends(value: object) -> tuple[End, ...]:
    """The two ends of a piece, each a pair of kind and size."""
    if not isinstance(value, list):
        raise refused(
            f'must be a list of two ends like ["bead", 19], not {found(value)}. Name both.'
        )
    if len(value) > 2:
        raise refused(
            f"are {len(value)}: a piece has two. What has three is a component: put in a T."
        )
    return tuple(_end(one) for one in value)


def _end(value: object) -> End:
    if not isinstance(value, list) or len(value) != 2:
        raise refused(
            f'must each be a pair of kind and size like ["bead", 19], not {found(value)}.'
        )
    kind, size = value
    return End(kind=read_end_kind(kind), size=None if size is None else read_size(size))


def read_volumes(value: object) -> tuple[Volume, ...]:
    """Litres by the keys of circuits; null is not known."""
    if not isinstance(value, dict):
        raise refused(f'must be an object like {{"coolant": 5.2}}, not {found(value)}.')
    return tuple(
        Volume(circuit=read_text(key), litres=None if litres is None else read_number(litres))
        for key, litres in value.items()
    )


def read_passages(value: object) -> tuple[tuple[str, str], ...]:
    """Pairs of names of ports that are joined inside."""
    if not isinstance(value, list):
        raise refused(f'must be a list of pairs like [["in", "out"]], not {found(value)}.')
    pairs = []
    for pair in value:
        if not isinstance(pair, list) or len(pair) != 2:
            raise refused(f'must each be a pair of ports like ["in", "out"], not {found(pair)}.')
        pairs.append((read_text(pair[0]), read_text(pair[1])))
    return tuple(pairs)


def read_clamps(value: object) -> tuple[str, ...]:
    """The names of clamps."""
    if not isinstance(value, list):
        raise refused(f'must be a list of names like ["clamp 40-60"], not {found(value)}.')
    return tuple(read_text(name) for name in value)


def read_waived(value: object) -> tuple[Waiver, ...]:
    """What a circuit may go without, each with the reason."""
    if not isinstance(value, dict):
        raise refused(f'must be an object like {{"no drain": "why"}}, not {found(value)}.')
    return tuple(
        Waiver(why=_one_of(WAIVABLE, why, "can not waive"), reason=read_text(reason))
        for why, reason in value.items()
    )


# --- what the schema says of them --------------------------------------------------------------

_SIZE = {"type": "number", "minimum": LEAST_SIZE_MM, "maximum": MOST_SIZE_MM}
_NAME_OF_SIZE = {"type": "string", "minLength": 1, "maxLength": MOST_SIZE_NAME_CHARACTERS}
_ANY_SIZE = {"anyOf": [_SIZE, _NAME_OF_SIZE]}
_TWO_SIZES = {"type": "array", "items": _SIZE, "minItems": 2, "maxItems": 2}
_TWO_TEXTS = {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2}


def _end_entry(kind: Mapping[str, object], size: Mapping[str, object]) -> dict[str, object]:
    return {
        "type": "array",
        "prefixItems": [kind, size],
        "minItems": 2,
        "maxItems": 2,
        "items": False,
    }


_END_ENTRY = {
    "anyOf": [
        _end_entry({"enum": list(END_KINDS)}, _ANY_SIZE),
        _end_entry({"const": "open"}, {"type": "null"}),
    ]
}
_KEY = rf"[^.]{{1,{MOST_PLUMBING_KEY_CHARACTERS}}}"
_LITRES = {"type": ["number", "null"], "minimum": 0, "maximum": MOST_LITRES_INSIDE}
_TEXT = {"type": "string", "minLength": 1, "maxLength": MOST_NAME_CHARACTERS}


def _ends(least: int) -> dict[str, object]:
    return {"type": "array", "items": _END_ENTRY, "minItems": least, "maxItems": 2}


def _over_zero(most: float) -> dict[str, object]:
    return {"type": "number", "exclusiveMinimum": 0, "maximum": most}


PlumbingKey = Annotated[
    str,
    PlainValidator(read_text),
    WithJsonSchema({"type": "string", "pattern": f"^{_KEY}$"}),
]
Address = Annotated[
    str,
    PlainValidator(read_text),
    WithJsonSchema({"type": "string", "pattern": rf"^{_KEY}\.{_KEY}$"}),
]
EndName = Annotated[
    EndKind, PlainValidator(read_end_kind), WithJsonSchema({"enum": list(END_KINDS)})
]
PieceName = Annotated[
    PieceKind, PlainValidator(read_piece_kind), WithJsonSchema({"enum": list(PIECE_KINDS)})
]
ShelfName = Annotated[
    ShelfKind, PlainValidator(read_shelf_kind), WithJsonSchema({"enum": list(SHELF_KINDS)})
]
FlowName = Annotated[Flow, PlainValidator(read_flow), WithJsonSchema({"enum": list(FLOWS)})]
RoleName = Annotated[Role, PlainValidator(read_role), WithJsonSchema({"enum": list(ROLES)})]
StopName = Annotated[
    StopKind, PlainValidator(read_stop_kind), WithJsonSchema({"enum": list(STOP_KINDS)})
]
ArrowName = Annotated[Arrow, PlainValidator(read_arrow), WithJsonSchema({"enum": list(ARROWS)})]
PortSize = Annotated[Size, PlainValidator(read_size), WithJsonSchema(_ANY_SIZE)]
PieceSize = Annotated[
    float | tuple[float, float],
    PlainValidator(read_piece_size),
    WithJsonSchema({"anyOf": [_SIZE, _TWO_SIZES]}),
]
ClampRange = Annotated[tuple[float, float], PlainValidator(read_range), WithJsonSchema(_TWO_SIZES)]
TwoEnds = Annotated[tuple[End, ...], PlainValidator(read_ends), WithJsonSchema(_ends(2))]
ShelfEnds = Annotated[tuple[End, ...], PlainValidator(read_ends), WithJsonSchema(_ends(1))]
LengthMm = Annotated[float, PlainValidator(read_number), between(LEAST_LENGTH_MM, MOST_LENGTH_MM)]
Angle = Annotated[float, PlainValidator(read_number), WithJsonSchema(_over_zero(MOST_ANGLE))]
WallMm = Annotated[float, PlainValidator(read_number), WithJsonSchema(_over_zero(MOST_WALL_MM))]
BoreMm = Annotated[float, PlainValidator(read_number), WithJsonSchema(_over_zero(MOST_SIZE_MM))]
Bar = Annotated[float, PlainValidator(read_number), between(0, MOST_BAR)]
FrostC = Annotated[float, PlainValidator(read_number), between(LEAST_FROST_C, 0)]
AntifreezeName = Annotated[
    Antifreeze, PlainValidator(read_antifreeze), WithJsonSchema({"enum": list(ANTIFREEZES)})
]
LitresInside = Annotated[float, PlainValidator(read_number), between(0, MOST_LITRES_INSIDE)]
Percent = Annotated[float, PlainValidator(read_number), between(0, 100)]
Count = Annotated[int, PlainValidator(read_whole_number), whole_between(0, MOST_ON_THE_SHELF)]
Metres = Annotated[float, PlainValidator(read_number), between(0, MOST_LENGTH_MM)]
StockMm = Annotated[
    float, PlainValidator(read_number), WithJsonSchema(_over_zero(MOST_CUT_LENGTH_MM))
]
Price = Annotated[float, PlainValidator(read_number), between(0, MOST_STOCK_PRICE)]
Volumes = Annotated[
    tuple[Volume, ...],
    PlainValidator(read_volumes),
    WithJsonSchema({"type": "object", "additionalProperties": _LITRES}),
]
Passages = Annotated[
    tuple[tuple[str, str], ...],
    PlainValidator(read_passages),
    WithJsonSchema({"type": "array", "items": _TWO_TEXTS}),
]
ClampNames = Annotated[
    tuple[str, ...],
    PlainValidator(read_clamps),
    WithJsonSchema({"type": "array", "maxItems": MOST_CLAMPS, "items": _TEXT}),
]
Waived = Annotated[
    tuple[Waiver, ...],
    PlainValidator(read_waived),
    WithJsonSchema(
        {
            "type": "object",
            "properties": dict.fromkeys(WAIVABLE, _TEXT),
            "additionalProperties": False,
        }
    ),
]
