"""Room for the coolant to grow in when it gets hot."""

from dataclasses import dataclass

from webapp.sizing.answers import (
    Answer,
    Figure,
    Limit,
    Outside,
    Range,
    first_outside,
    least,
    not_checked,
)
from webapp.sizing.coolant_properties import Coolant, coolant_at

EXPANSION_ROOM = Limit(ok=8.0, tight=5.0, at_least=True)
"""% of what the circuit holds, above the cold mark."""
COLD_C, HOT_C = 20.0, 95.0
HIGHEST = (
    "The tank's cold level lies above every other water; its feed leaves at the foot, and each "
    "high point has a vent line that enters above the cold level. An overflow bottle without "
    "pressure is another thing: its room does not count here."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpansionRoom:
    """What a circuit holds, the room above the cold mark of its tank, and what is in it."""

    circuit_litres: float
    room_litres: float
    coolant: Coolant
    cold_c: float = COLD_C
    hot_c: float = HOT_C


def growth_litres(inputs: ExpansionRoom) -> float | Outside:
    """By how much the coolant grows: volume (density cold / density hot - 1).

    About 5 %: two published sets of densities differ by half a percent of the volume.
    """
    outside = first_outside(
        Range(name="volume", value=inputs.circuit_litres, least=0.2, most=500, unit="l")
    )
    cold = outside or coolant_at(inputs.coolant, inputs.cold_c)
    hot = coolant_at(inputs.coolant, inputs.hot_c)
    if isinstance(cold, Outside):
        return cold
    if isinstance(hot, Outside):
        return hot
    return inputs.circuit_litres * (cold.density_kg_m3 / hot.density_kg_m3 - 1)


def expansion(at: str, inputs: ExpansionRoom, limit: Limit = EXPANSION_ROOM) -> Answer:
    """The room above the cold mark as a share of the circuit in %: 8 is ok, 5 to 8 tight."""
    grows = growth_litres(inputs)
    if isinstance(grows, Outside):
        return not_checked("expansion", at, grows)
    share = 100 * inputs.room_litres / inputs.circuit_litres
    return Answer(
        check="expansion",
        at=at,
        word=least(share, limit),
        value=share,
        unit="%",
        limit=limit,
        used=(
            Figure(name="circuit holds about", value=inputs.circuit_litres, unit="l"),
            Figure(name="room above the tank's cold mark", value=inputs.room_litres, unit="l"),
            Figure(name="share of antifreeze", value=100 * inputs.coolant.share, unit="%"),
        ),
        also=(Figure(name="it grows by about", value=grows, unit="l"),),
        remarks=(HIGHEST,),
    )
