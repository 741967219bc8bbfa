"""The air on its way through an engine at full power: before and behind compressor and cooler."""

from dataclasses import dataclass

from webapp.sizing.air_demand import AirDemand, air_kg_s, free_air_m3_h
from webapp.sizing.answers import Outside, Range, first_outside
from webapp.sizing.charge_heat import (
    Compressor,
    Cooler,
    compressor_outlet_c,
    cooler_outlet_c,
    density_ratio,
)
from webapp.sizing.state_of_air import absolute_kpa, air_kpa, height_range


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineInAir:
    """What is said of an engine and of the air round it; boost is gauge, in the manifold.

    Losses are those before the compressor (filter, pipes) and between it and the manifold.
    """

    displacement_l: float
    full_power_rpm: float
    boost_bar: float
    strokes: int = 4
    volumetric_efficiency: float = 0.85
    height_m: float = 0.0
    intake_c: float = 25.0
    intake_loss_kpa: float = 0.0
    charge_loss_kpa: float = 0.0
    compressor_efficiency: float = 0.70
    cooler_effectiveness: float = 0.0
    """0 where there is no cooler."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineAir:
    """The air on its way: flow, and absolute pressures and temperatures."""

    kg_s: float
    free_m3_h: float
    intake_c: float
    intake_kpa: float
    compressor_kpa: float
    compressor_c: float
    pressure_ratio: float
    manifold_kpa: float
    manifold_c: float
    density_ratio: float


def engine_air(engine: EngineInAir) -> EngineAir | Outside:
    """The air through an engine; an engine without boost has no compressor."""
    outside = first_outside(
        height_range(engine.height_m),
        Range(name="boost (gauge)", value=engine.boost_bar, least=0, most=4, unit="bar"),
        Range(name="intake loss", value=engine.intake_loss_kpa, least=0, most=20, unit="kPa"),
        Range(name="charge loss", value=engine.charge_loss_kpa, least=0, most=50, unit="kPa"),
    )
    if outside is not None:
        return outside
    intake_kpa = air_kpa(engine.height_m) - engine.intake_loss_kpa
    if engine.boost_bar == 0:
        manifold_kpa, outlet_kpa = intake_kpa - engine.charge_loss_kpa, intake_kpa
    else:
        manifold_kpa = absolute_kpa(engine.boost_bar, engine.height_m)
        outlet_kpa = manifold_kpa + engine.charge_loss_kpa
    compressor = Compressor(
        inlet_c=engine.intake_c,
        inlet_kpa=intake_kpa,
        outlet_kpa=outlet_kpa,
        efficiency=engine.compressor_efficiency,
    )
    hot_c = compressor_outlet_c(compressor)
    if isinstance(hot_c, Outside):
        return hot_c
    cool_c = cooler_outlet_c(
        Cooler(
            inlet_c=hot_c,
            cooled_by_c=engine.intake_c,
            effectiveness=engine.cooler_effectiveness,
        )
    )
    if isinstance(cool_c, Outside):
        return cool_c
    return _with_flow(engine, compressor, hot_c, manifold_kpa, cool_c)


def _with_flow(
    engine: EngineInAir, compressor: Compressor, hot_c: float, manifold_kpa: float, cool_c: float
) -> EngineAir | Outside:
    kg_s = air_kg_s(
        AirDemand(
            displacement_l=engine.displacement_l,
            rpm=engine.full_power_rpm,
            manifold_kpa=manifold_kpa,
            manifold_c=cool_c,
            volumetric_efficiency=engine.volumetric_efficiency,
            strokes=engine.strokes,
        )
    )
    if isinstance(kg_s, Outside):
        return kg_s
    return EngineAir(
        kg_s=kg_s,
        free_m3_h=free_air_m3_h(kg_s, engine.intake_c, engine.height_m),
        intake_c=engine.intake_c,
        intake_kpa=compressor.inlet_kpa,
        compressor_kpa=compressor.outlet_kpa,
        compressor_c=hot_c,
        pressure_ratio=compressor.pressure_ratio,
        manifold_kpa=manifold_kpa,
        manifold_c=cool_c,
        density_ratio=density_ratio(manifold_kpa, cool_c, engine.intake_c, engine.height_m),
    )
