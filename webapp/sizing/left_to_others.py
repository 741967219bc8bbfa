"""What is left to licensed practice: never sized here. Only: is it connected, and who does it.

Each matter says why, what the caution is, who does it, and what to ask.
"""

from dataclasses import dataclass
from typing import Literal

from webapp.sizing.answers import Answer, Figure

Matter = Literal[
    "brakes",
    "clutch",
    "refrigerant",
    "steering_pressure",
    "injection",
    "gas_fuel",
    "gearbox_cooler",
    "turbo_oil",
    "high_voltage",
    "airbags",
    "welds",
    "propshaft",
]
MATTERS: tuple[Matter, ...] = (
    *("brakes", "clutch", "refrigerant", "steering_pressure", "injection", "gas_fuel"),
    *("gearbox_cooler", "turbo_oil", "high_voltage", "airbags", "welds", "propshaft"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftToOthers:
    """A matter that is not sized: whole sentences for the screen."""

    matter: Matter
    name: str
    caution: str
    who: str
    asks: str = ""


NOT_SIZED: dict[Matter, LeftToOthers] = {
    one.matter: one
    for one in (
        LeftToOthers(
            matter="brakes",
            name="brakes",
            caution=(
                "Brake lines, hoses, servo and its reservoir are type-approved parts (FMVSS 106, "
                "UNECE R13). Have them made and tested. Local codes come first."
            ),
            who="someone licensed to make and test them",
            asks="A diesel has no manifold vacuum: what makes the servo's vacuum now?",
        ),
        LeftToOthers(
            matter="clutch",
            name="clutch hydraulics",
            caution="Made from brake-grade parts and filled with brake fluid alone.",
            who="someone licensed to work on brakes",
        ),
        LeftToOthers(
            matter="refrigerant",
            name="refrigerant",
            caution=(
                "Opening a charged circuit and charging one is licensed work (40 CFR 82.34, "
                "(EU) 2024/573). Caps stay on; no charge is worked out here."
            ),
            who="a certified technician",
        ),
        LeftToOthers(
            matter="steering_pressure",
            name="steering, pressure side",
            caution=(
                "Up to 10.3 MPa: a fine jet pierces skin. Crimped and tested, no worm clamps. "
                "The return is oil of 80 to 135 °C: oil-rated return hose with a spring band or a "
                "lined worm clamp, never coolant or fuel hose."
            ),
            who="a hydraulics shop",
        ),
        LeftToOthers(
            matter="injection",
            name="injection lines and rail",
            caution=(
                "Jets pierce skin. Fitted as the maker made them, and nothing of the high side is "
                "opened to bleed it."
            ),
            who="their maker",
        ),
        LeftToOthers(
            matter="gas_fuel",
            name="gas as fuel, fuel heaters",
            caution=(
                "LPG, natural gas, hydrogen and fuel-fired heaters are type-approved installations."
            ),
            who="a licensed gas shop",
        ),
        LeftToOthers(
            matter="gearbox_cooler",
            name="cooler of an automatic gearbox",
            caution="To 10 bar with pulses: crimped hose, no worm clamps.",
            who="a hydraulics shop",
        ),
        LeftToOthers(
            matter="turbo_oil",
            name="oil feed of the turbo",
            caution=(
                "Restrictor and line by the turbo maker's figure alone. The drain falls all the "
                "way, ends above the sump's oil and not under a rod's splash, and is nowhere "
                "narrower than at the turbo."
            ),
            who="the turbo's maker",
        ),
        LeftToOthers(
            matter="high_voltage",
            name="high voltage",
            caution="It kills. Licensed work in most places; local codes come first.",
            who="someone licensed for it",
        ),
        LeftToOthers(
            matter="airbags",
            name="airbags and brake electronics",
            caution="Airbags, belt tensioners and the wiring of anti-lock brakes are left alone.",
            who="someone licensed for them",
        ),
        LeftToOthers(
            matter="welds",
            name="welds that carry",
            caution="Mounts, cross-members, lifting eyes, steering column, seat belts.",
            who="a certified welder",
        ),
        LeftToOthers(
            matter="propshaft",
            name="balance of the propeller shaft",
            caution="Shortened and balanced on a machine.",
            who="a propshaft shop",
        ),
    )
}


def left_to_others(matter: Matter, at: str) -> Answer:
    """That something is not sized here, its caution and who does it."""
    of = NOT_SIZED[matter]
    return Answer(
        check="left_to_others",
        at=at,
        word="not checked",
        because=f"{of.name}: left to {of.who}",
        used=(Figure(name="matter", value=of.name), Figure(name="done by", value=of.who)),
        remarks=tuple(line for line in (of.caution, of.asks) if line),
    )
