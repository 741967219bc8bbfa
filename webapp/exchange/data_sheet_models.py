"""The key `data_sheet` of the build document as models, and what they are read into."""

from collections.abc import Sequence
from typing import Annotated, Any

from pydantic import ConfigDict, Field, PlainValidator, WithJsonSchema

from webapp.build.data_sheet import (
    DRIVES,
    EMPTY_SHEET,
    FIGURE_NAMES,
    FIGURES,
    LIMITED,
    WIRE_USES,
    Belt,
    CheckName,
    DataSheet,
    Drives,
    FigureName,
    OwnLimit,
    Pulley,
    SheetFigure,
    Wire,
    WireUse,
)
from webapp.build.limits import (
    LEAST_WIRE_C,
    MOST_AMPS,
    MOST_BELT_MM,
    MOST_BELTS,
    MOST_OF_A_LIMIT,
    MOST_OWN_LIMITS,
    MOST_PULLEY_MM,
    MOST_PULLEYS,
    MOST_WIRE_C,
    MOST_WIRE_M,
    MOST_WIRE_MM2,
    MOST_WIRES,
)
from webapp.exchange.document_entry import Entry, between, many, said
from webapp.exchange.document_values import Key, Name, ShortText, YesNo
from webapp.exchange.entry_nouns import nouns
from webapp.exchange.value_readers import one_of, read_number, read_text


def read_figure_name(value: object) -> FigureName:
    """What a figure is called."""
    return one_of(FIGURE_NAMES, value)


def read_limited(value: object) -> CheckName:
    """A check that is held against a limit."""
    return one_of(LIMITED, value)


def read_use(value: object) -> WireUse:
    """What a wire is for."""
    return one_of(WIRE_USES, value)


def read_drives(value: object) -> Drives:
    """What a pulley drives."""
    return one_of(DRIVES, value)


def read_figure(value: object) -> float | str:
    """A number or a word."""
    return read_text(value) if isinstance(value, str) else read_number(value)


FigureWord = Annotated[
    FigureName, PlainValidator(read_figure_name), WithJsonSchema({"enum": list(FIGURE_NAMES)})
]
FigureValue = Annotated[
    float | str, PlainValidator(read_figure), WithJsonSchema({"type": ["number", "string"]})
]
LimitedWord = Annotated[
    CheckName, PlainValidator(read_limited), WithJsonSchema({"enum": list(LIMITED)})
]
UseWord = Annotated[WireUse, PlainValidator(read_use), WithJsonSchema({"enum": list(WIRE_USES)})]
DrivesWord = Annotated[Drives, PlainValidator(read_drives), WithJsonSchema({"enum": list(DRIVES)})]
LimitValue = Annotated[
    float, PlainValidator(read_number), between(-MOST_OF_A_LIMIT, MOST_OF_A_LIMIT)
]
Amps = Annotated[float, PlainValidator(read_number), between(0.01, MOST_AMPS)]
WireArea = Annotated[float, PlainValidator(read_number), between(0.01, MOST_WIRE_MM2)]
WireMetres = Annotated[float, PlainValidator(read_number), between(0.01, MOST_WIRE_M)]
WireCelsius = Annotated[float, PlainValidator(read_number), between(LEAST_WIRE_C, MOST_WIRE_C)]
BeltMm = Annotated[float, PlainValidator(read_number), between(1, MOST_BELT_MM)]
TakeUpMm = Annotated[float, PlainValidator(read_number), between(0, MOST_BELT_MM)]
PulleyMm = Annotated[float, PlainValidator(read_number), between(1, MOST_PULLEY_MM)]
PlaceMm = Annotated[float, PlainValidator(read_number), between(-MOST_PULLEY_MM, MOST_PULLEY_MM)]


def _values_by_name(schema: dict[str, Any]) -> None:
    schema["allOf"] = [
        {
            "if": {"properties": {"name": {"const": name}}},
            "then": {
                "properties": {
                    "value": {"enum": list(kind.choices)}
                    if kind.choices
                    else {"type": "number", "minimum": kind.least, "maximum": kind.most}
                }
            },
        }
        for name, kind in FIGURES.items()
    ]


class FigureEntry(Entry):
    """A figure by its name, as it was typed."""

    model_config = ConfigDict(json_schema_extra=_values_by_name)

    name: FigureWord = Field(description="Its unit stands in it.")
    value: FigureValue
    source: ShortText | None = said("Where it was read.", "")


class OwnLimitEntry(Entry):
    """A limit that goes before the usual one."""

    check: LimitedWord
    at: ShortText | None = said("The run, component, circuit, wire or belt; all if left out.", "")
    ok: LimitValue = Field(description="Ok so far.")
    tight: LimitValue | None = said("Tight so far; no further than ok if left out.")
    source: Name = Field(description="Who says so.")


class WireEntry(Entry):
    """A battery cable or a wire."""

    key: Key
    name: Name
    use: UseWord | None = said("A feed if left out.", "feed")
    current_a: Amps
    area_mm2: WireArea
    out_and_back_m: WireMetres
    celsius: WireCelsius | None = said("How warm it is there.")
    fuse_a: Amps | None = said("Its fuse.")
    carries_a: Amps | None = said("What its seller says that it carries where it lies.")


class PulleyEntry(Entry):
    """A pulley by its middle and its diameter at the pitch line."""

    name: Name
    x_mm: PlaceMm
    y_mm: PlaceMm
    diameter_mm: PulleyMm
    is_back: YesNo | None = said("The back of the belt runs on it.", False)
    drives: DrivesWord | None = said("What it is on.", "other")


class BeltEntry(Entry):
    """A belt round pulleys, in the order in which it meets them."""

    key: Key
    name: Name
    length_mm: BeltMm | None = said("Of the belt that was bought.")
    take_up_mm: TakeUpMm | None = said("So much a tensioner takes up.")
    pulleys: list[PulleyEntry] | None = many("In their order.", MOST_PULLEYS)


class DataSheetEntry(Entry):
    """What was typed to check sizes by."""

    figures: list[FigureEntry] | None = said("Figures of the engine and what hangs on it.", ())
    limits: list[OwnLimitEntry] | None = many("Limits of makers.", MOST_OWN_LIMITS)
    wires: list[WireEntry] | None = many("Cables and wires.", MOST_WIRES)
    belts: list[BeltEntry] | None = many("Belts.", MOST_BELTS)


def data_sheet_of(entry: DataSheetEntry | None) -> DataSheet:
    """The data sheet, as far as it could be read."""
    if entry is None:
        return EMPTY_SHEET
    return DataSheet(
        figures=nouns(SheetFigure, entry.figures),
        limits=nouns(OwnLimit, entry.limits),
        wires=nouns(Wire, entry.wires),
        belts=nouns(_belt, entry.belts),
    )


def _belt(*, pulleys: Sequence[PulleyEntry] = (), **said: Any) -> Belt:
    return Belt(**said, pulleys=nouns(Pulley, pulleys))
