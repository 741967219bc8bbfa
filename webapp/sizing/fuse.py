"""Fuses: a fuse guards its wire, and still carries its load."""

from dataclasses import dataclass

from webapp.sizing.answers import (
    Answer,
    Figure,
    Limit,
    Outside,
    Range,
    Word,
    first_outside,
    held,
    not_checked,
)

BLADES_A = (1.0, 2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0)
"""Sizes of blade fuses, ISO 8820-3, cited."""
LOADED_TO = 0.8
NEAR = "As near the battery as can be, within 200 mm."
OWN_LINE = "Winch, fan, glow relay: each has a fuse of its own in its own line."
FUSED_AT_BATTERY = (
    "The alternator's cable is fused at the battery's end, about 1.25 times its rated amps, and"
    " the cable is for that fuse."
)
SLOW = "A fan takes two to three times its current for a second: a slow fuse."
WIRE_TOO_THIN = "The wire carries less than its fuse lets through: thicker wire or a smaller fuse."
FUSE_TOO_SMALL = "The fuse is smaller than its load."


@dataclass(frozen=True, slots=True, kw_only=True)
class FuseOnWire:
    """A load, what its wire may carry where it lies (its seller's figure for the bundle, the heat
    and the insulation), and its fuse; None: the next size is looked for."""

    load_a: float
    wire_carries_a: float
    fuse_a: float | None = None


def next_fuse_a(load_a: float) -> float | Outside:
    """The smallest blade fuse that its load fills to no more than four fifths: load / 0.8."""
    wanted = load_a / LOADED_TO
    fitting = [size for size in BLADES_A if size >= wanted - 1e-9]
    if load_a <= 0 or not fitting:
        return Outside(
            name="load for a blade fuse",
            least=0.01,
            most=BLADES_A[-1] * LOADED_TO,
            unit="A",
            value=load_a,
        )
    return fitting[0]


def fuse(at: str, inputs: FuseOnWire, limit: Limit | None = None) -> Answer:
    """Load / 0.8 <= fuse <= what the wire carries: common practice. Tight where the fuse carries
    its load, and is filled by it to more than four fifths."""
    outside = first_outside(
        Range(name="load", value=inputs.load_a, least=0.01, most=1000, unit="A"),
        Range(name="wire's current", value=inputs.wire_carries_a, least=0.1, most=1000, unit="A"),
    )
    size = outside or (next_fuse_a(inputs.load_a) if inputs.fuse_a is None else inputs.fuse_a)
    if isinstance(size, Outside):
        return not_checked("fuse", at, size)
    usual = Limit(
        ok=inputs.wire_carries_a,
        tight=inputs.wire_carries_a,
        origin="typed",
        source="what the wire's seller says that it carries",
    )
    against = held(limit, usual)
    is_filled, remarks = size < inputs.load_a / LOADED_TO - 1e-9, [NEAR]
    word: Word = "tight" if is_filled or size > against.ok else "ok"
    if size > against.tight:
        word, remarks = "too small", [WIRE_TOO_THIN, *remarks]
    elif size < inputs.load_a:
        word, remarks = "too small", [FUSE_TOO_SMALL, *remarks]
    return Answer(
        check="fuse",
        at=at,
        word=word,
        value=size,
        unit="A",
        limit=against,
        used=(
            Figure(name="load", value=inputs.load_a, unit="A"),
            Figure(name="wire carries", value=inputs.wire_carries_a, unit="A"),
            Figure(name="fuse", value="the next size" if inputs.fuse_a is None else "as typed"),
        ),
        also=(Figure(name="load over four fifths", value=inputs.load_a / LOADED_TO, unit="A"),),
        remarks=tuple(remarks),
    )
