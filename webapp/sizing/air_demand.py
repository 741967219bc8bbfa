"""Air that a four-stroke engine asks for, and whether its filter lets so much through."""

from dataclasses import dataclass

from webapp.sizing.answers import Answer, Figure, Limit, Outside, Range, first_outside, most
from webapp.sizing.state_of_air import air_kpa, density_kg_m3

SECONDS_IN_AN_HOUR = 3600
FREE_AIR_C = 25.0
"""The temperature of free air in m³/h where none is said."""
FOUR = 4
TWO_STROKES = "the air of a two-stroke is not worked out: nobody can say what its scavenging takes"
FILTER = Limit(ok=80.0, tight=100.0)
"""Share of the maker's rated flow in %."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AirDemand:
    """An engine at the speed where it asks for most, and the air in its manifold (absolute)."""

    displacement_l: float
    rpm: float
    manifold_kpa: float
    manifold_c: float
    volumetric_efficiency: float = 0.85
    strokes: int = 4


def air_kg_s(engine: AirDemand) -> float | Outside:
    """Air in kg/s: efficiency x density in the manifold x displacement x rev/s / 2.

    Heywood, Internal Combustion Engine Fundamentals (1988), section 2.10, cited from memory.
    Four-strokes alone, volumetric efficiency 0.75 to 0.95 as related to the manifold.
    """
    if engine.strokes != FOUR:
        return Outside(
            name="number of strokes", least=FOUR, most=FOUR, value=engine.strokes, words=TWO_STROKES
        )
    outside = first_outside(
        Range(name="displacement", value=engine.displacement_l, least=0.05, most=40, unit="l"),
        Range(name="speed at full power", value=engine.rpm, least=300, most=12_000, unit="rpm"),
        Range(
            name="volumetric efficiency", value=engine.volumetric_efficiency, least=0.75, most=0.95
        ),
        Range(
            name="absolute pressure in the manifold",
            value=engine.manifold_kpa,
            least=40,
            most=600,
            unit="kPa",
        ),
        Range(
            name="temperature in the manifold",
            value=engine.manifold_c,
            least=-40,
            most=200,
            unit="°C",
        ),
    )
    if outside is not None:
        return outside
    density = density_kg_m3(engine.manifold_kpa, engine.manifold_c)
    turns_s = engine.rpm / 60
    return engine.volumetric_efficiency * density * engine.displacement_l / 1000 * turns_s / 2


def free_air_m3_h(kg_s: float, celsius: float = FREE_AIR_C, height_m: float = 0.0) -> float:
    """The same air as it is outside, in m³/h: filters are rated by it, not by what is in the
    manifold, where it takes half the room or less."""
    return kg_s * SECONDS_IN_AN_HOUR / density_kg_m3(air_kpa(height_m), celsius)


@dataclass(frozen=True, slots=True, kw_only=True)
class FilterFlow:
    """Free air that an engine asks for, and what its filter is rated for by its maker."""

    free_air_m3_h: float
    filter_m3_h: float


def air_filter(at: str, inputs: FilterFlow, limit: Limit = FILTER) -> Answer:
    """Whether a filter is rated for the air that is asked for: the share of its rating in %."""
    share = 100 * inputs.free_air_m3_h / inputs.filter_m3_h
    return Answer(
        check="air_filter",
        at=at,
        word=most(share, limit),
        value=share,
        unit="%",
        limit=limit,
        used=(
            Figure(name="free air asked for", value=inputs.free_air_m3_h, unit="m³/h"),
            Figure(name="filter's rated flow", value=inputs.filter_m3_h, unit="m³/h"),
        ),
    )
