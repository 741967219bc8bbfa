"""The key `plumbing` of the build document as models."""

from typing import Any

from pydantic import ConfigDict, Field

from webapp.build.limits import (
    MOST_CIRCUITS,
    MOST_COMPONENTS,
    MOST_PIECES,
    MOST_PORTS,
    MOST_RUNS,
    MOST_SHELF_LINES,
    MOST_SOLD,
)
from webapp.build.plumbing import BY_LENGTH, HARD, SOFT, WITH_ENDS
from webapp.exchange.document_entry import Entry, many, said
from webapp.exchange.document_values import (
    DayOrMinute,
    Key,
    Keys,
    MediumName,
    Name,
    ShortText,
    YesNo,
)
from webapp.exchange.plumbing_values import (
    Address,
    Angle,
    AntifreezeName,
    ArrowName,
    Bar,
    BoreMm,
    ClampNames,
    ClampRange,
    Count,
    EndName,
    FlowName,
    FrostC,
    LengthMm,
    LitresInside,
    Metres,
    Passages,
    Percent,
    PieceName,
    PieceSize,
    PlumbingKey,
    PortSize,
    Price,
    RoleName,
    ShelfEnds,
    ShelfName,
    StockMm,
    StopName,
    TwoEnds,
    Volumes,
    Waived,
    WallMm,
)


class StopEntry(Entry):
    """What shuts a port: a cap for good, a part, the air on purpose, or a mere cover."""

    kind: StopName
    on: DayOrMinute | None = said("Since when a cap or part is on.")


class PortEntry(Entry):
    """Where something joins on to a component."""

    name: PlumbingKey
    end: EndName
    flow: FlowName = Field(description="As seen from the component.")
    size: PortSize | None = said("In mm or by name; null is not measured yet.")
    role: RoleName | None = said("What it is for, beyond joining.")
    circuit: Key | None = said("Key of its circuit, where it is not the component's.")
    shuts: YesNo | None = said("A thermostat or valve sits there that may shut.", False)
    stop: StopEntry | None = said("What shuts it, where no run joins it.")


class ComponentEntry(Entry):
    """What has ports: a radiator, an engine, a T."""

    key: PlumbingKey
    name: Name
    kind: ShortText | None = said("What kind of thing it is.", "")
    circuit: Key | None = said("Key of the circuit its ports belong to.")
    part: Key | None = said("Key of the part without which it is not here.")
    volumes: Volumes | None = Field(
        default=(), alias="litres", description="Litres it holds, by the keys of circuits."
    )
    passages: Passages | None = said(
        "Pairs of ports joined inside; all of one circuit are, if left out."
    )
    ports: list[PortEntry] = Field(
        json_schema_extra={"maxItems": MOST_PORTS}, description="Its ports."
    )


class CircuitEntry(Entry):
    """A way for one medium from a port to a port, or round a loop."""

    key: PlumbingKey
    name: Name
    medium: MediumName
    from_port: Address = Field(alias="from", description="The port it begins at.")
    to_port: Address = Field(alias="to", description="The port it ends at.")
    subsystem: Key | None = said("Key of its subsystem.")
    hose: ShortText | None = said("What its soft pieces are made of.")
    tube: ShortText | None = said("What its hard pieces are made of.")
    bar: Bar | None = said("Its pressure, gauge.")
    highest: ShortText | None = said("The port at its highest point.")
    waived: Waived | None = said("What it goes without, each with the reason.", ())
    holds: Keys | None = said("Keys of the tasks that wait until it is closed.", ())
    needed_to_start: YesNo | None = said("Whether first start waits for it.", True)
    test: ShortText | None = said("How it is tested, where it has to be.")
    tested_on: DayOrMinute | None = None
    frost_c: FrostC | None = said("The hardest frost its coolant is mixed for.")
    antifreeze: AntifreezeName | None = said("The concentrate of its coolant.")
    full_litres: LitresInside | None = said("What it holds, where not as drawn.")
    there_litres: LitresInside | None = said("What is in it already.")
    there_percent: Percent | None = said("The share of concentrate in that.")


def _needs(kinds: frozenset[str], field: str, kind_of_value: str) -> dict[str, object]:
    return {
        "if": {"properties": {"piece": {"enum": sorted(kinds)}}},
        "then": {"required": [field], "properties": {field: {"type": kind_of_value}}},
    }


def _what_a_piece_needs(schema: dict[str, Any]) -> None:
    schema["allOf"] = [
        _needs(frozenset(BY_LENGTH), "length_mm", "number"),
        _needs(frozenset(WITH_ENDS), "ends", "array"),
        {
            "if": {"properties": {"piece": {"enum": sorted(SOFT | HARD)}}},
            "then": {
                "anyOf": [
                    {"required": ["size"], "properties": {"size": {"type": ["number", "array"]}}},
                    {"required": ["ends"], "properties": {"ends": {"type": "array"}}},
                ]
            },
        },
    ]


class PieceFields(Entry):
    """What pieces of a run and things on the shelf both say."""

    size: PieceSize | None = said("Bore or diameter in mm, two where the ends differ.")
    length_mm: LengthMm | None = None
    angle: Angle | None = said("Degrees, of an elbow or bend.")
    of: ShortText | None = said("What it is made of, where it is not its circuit's own.")
    wall_mm: WallMm | None = None
    bore_mm: BoreMm | None = None
    name: ShortText | None = said("What it is called: of a line, a valve, a filter.")
    arrow: ArrowName | None = said("Lets through only to, or only from, where its run ends.")


class PieceEntry(PieceFields):
    """One piece of a run: it has two ends."""

    model_config = ConfigDict(json_schema_extra=_what_a_piece_needs)

    piece: PieceName
    ends: TwoEnds | None = said("Its two ends, where its kind does not say them.", ())


class RunEntry(Entry):
    """What joins two ports: pieces in a row, none where they are bolted straight together."""

    key: PlumbingKey
    from_port: Address = Field(alias="from", description="The port it begins at.")
    to_port: Address = Field(alias="to", description="The port it ends at.")
    name: ShortText | None = said("What it is called.", "")
    pieces: list[PieceEntry] | None = many("In their order.", MOST_PIECES)
    cut_on: DayOrMinute | None = said("Every piece is made and lies there.")
    fitted_on: DayOrMinute | None = said("It is on, perhaps dry.")
    clamped_on: DayOrMinute | None = said("It is on for good.")
    clamps: ClampNames | None = said("The clamps that went on with that, by name.", ())
    tasks: Keys | None = said("Keys of the tasks that make and fit it.", ())
    licensed: ShortText | None = said("Who makes it, where not everybody may.")


class ShelfEntry(PieceFields):
    """So many of one thing that lie unused."""

    piece: ShelfName
    ends: ShelfEnds | None = said("Its ends, or the one it shuts.", ())
    range_mm: ClampRange | None = Field(
        default=None, alias="range", description="Of a clamp: from which diameter to which, in mm."
    )
    count: Count | None = said("How many.", 1)


class OrderedEntry(Entry):
    """What a part brings for the plumbing."""

    what: ShortText = Field(description="As the buy list calls it.")
    count: Count | None = None
    metres: Metres | None = None
    litres: LitresInside | None = None


class SoldEntry(Entry):
    """A length in which a hose or tube is sold."""

    what: ShortText = Field(description="As the buy list calls it.")
    length_mm: StockMm = Field(description="How long one is.")
    price: Price | None = said("What one costs.", 0.0)
    count: Count | None = said("How many there are; left out: as many as wanted.")


class PlumbingEntry(Entry):
    """All that is plumbed."""

    components: list[ComponentEntry] | None = many("What has ports.", MOST_COMPONENTS)
    circuits: list[CircuitEntry] | None = many("The ways of the media.", MOST_CIRCUITS)
    runs: list[RunEntry] | None = many("What joins the ports.", MOST_RUNS)
    shelf: list[ShelfEntry] | None = many("What lies unused.", MOST_SHELF_LINES)
    sold: list[SoldEntry] | None = many("Lengths that are sold, with prices.", MOST_SOLD)
