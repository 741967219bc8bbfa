"""Checks of intake and charge air, from the drawing and the data sheet."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from webapp.build.data_sheet import FigureName
from webapp.build.plumbing import component_at
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.plumbed import PlumbedCircuit
from webapp.sizing.air_demand import FILTER, FilterFlow, air_filter
from webapp.sizing.answers import Answer, Figure, Gap, Missing, held, no_sum, not_checked
from webapp.sizing.charge_heat import HotPart, charge_hose, cooler_heat
from webapp.sizing.engine_air import EngineAir, EngineInAir, engine_air
from webapp.sizing.pipe_air import (
    CHARGE_LOSS,
    INTAKE_LOSS,
    PIPE_SPEED,
    LossCheck,
    PipeLeg,
    PipeSpeed,
    SpeedCheck,
    WayLoss,
    pipe_speed,
    way_loss,
)
from webapp.sizing.sheet import ASSUMED_FOR_HEAT, Sheet, missing
from webapp.sizing.way import Leg, is_behind, legs_of, narrowest_mm, on_the_way

COMPRESSORS = ("turbo", "supercharger")
COOLERS = ("intercooler_air", "intercooler_water", "intercooler")
FILTERS = ("airbox", "air_filter")
OF_ENGINE: tuple[FigureName, ...] = (
    *("displacement_l", "full_power_rpm", "boost_bar", "strokes", "volumetric_efficiency"),
    *("height_m", "intake_c", "filter_loss_kpa"),
)
OF_BOOST: tuple[FigureName, ...] = ("compressor_efficiency",)
OF_COOLER: tuple[FigureName, ...] = ("cooler_effectiveness", "cooler_loss_kpa")
"""What the air of an engine is worked out from: of every one, of one with boost, with a cooler."""
DRAWN = ("narrowest bore", "length", "bends together", "material")
"""Inputs that are from the drawing."""
NO_WAY = "no way leads through the circuit yet"


def air_of(drawing: Drawing, sheet: Sheet) -> EngineAir | Gap:
    """The air through the engine at full power, or what is missing for it."""
    said = sheet.numbers("displacement_l", "full_power_rpm", "boost_bar")
    assumed = sheet.numbers(
        *("strokes", "volumetric_efficiency", "height_m", "intake_c"),
        *("compressor_efficiency", "cooler_effectiveness"),
    )
    if isinstance(said, Missing):
        return said
    if isinstance(assumed, Missing):
        return assumed
    is_cooled, is_pressed = has_cooler(drawing), said["boost_bar"] > 0
    return engine_air(
        EngineInAir(
            displacement_l=said["displacement_l"],
            full_power_rpm=said["full_power_rpm"],
            boost_bar=said["boost_bar"],
            strokes=round(assumed["strokes"]),
            volumetric_efficiency=assumed["volumetric_efficiency"],
            height_m=assumed["height_m"],
            intake_c=assumed["intake_c"],
            intake_loss_kpa=_for_heat(sheet, "filter_loss_kpa"),
            charge_loss_kpa=_for_heat(sheet, "cooler_loss_kpa") if is_cooled and is_pressed else 0,
            compressor_efficiency=assumed["compressor_efficiency"],
            cooler_effectiveness=assumed["cooler_effectiveness"] if is_cooled else 0.0,
        )
    )


def has_cooler(drawing: Drawing) -> bool:
    """Whether a charge cooler is drawn."""
    return any(component.kind in COOLERS for component in drawing.plumbing.components)


def _for_heat(sheet: Sheet, name: FigureName) -> float:
    said = sheet.number(name)
    return ASSUMED_FOR_HEAT[name] if said is None else said


def told_of_air(drawing: Drawing, sheet: Sheet, answer: Answer) -> Answer:
    """An answer with what the air of the engine was worked out from."""
    if answer.word == "not checked":
        return answer
    names = OF_ENGINE
    if sheet.number("boost_bar"):
        names += (*OF_BOOST, *(OF_COOLER if has_cooler(drawing) else ()))
    return sheet.told(answer, *names)


def air_checks(drawing: Drawing, sheet: Sheet, one: PlumbedCircuit) -> Iterator[Answer]:
    """What is checked of a circuit of air: charge where it begins at a compressor, else intake."""
    by_key = {component.key: component for component in drawing.plumbing.components}
    air = air_of(drawing, sheet)
    if by_key[component_at(one.circuit.from_port)].kind in COMPRESSORS:
        found = _charge_checks(drawing, sheet, one, air)
    else:
        found = _intake_checks(drawing, sheet, one, air)
    for answer in found:
        yield told_of_air(drawing, sheet, answer.marked("drawn", *DRAWN))


# --- intake --------------------------------------------------------------------------------------


def _intake_checks(
    drawing: Drawing, sheet: Sheet, one: PlumbedCircuit, air: EngineAir | Gap
) -> Iterator[Answer]:
    placed = drawing.ports_by_circuit[one.circuit.key]
    filters = dict.fromkeys(p.component.key for p in placed if p.component.kind in FILTERS)
    for key in filters:
        yield _filter_check(sheet, key, air)
    legs = legs_of(drawing, one.way)
    if not legs:
        yield no_sum("intake_loss", one.circuit.key, NO_WAY)
        return
    for leg in legs:
        yield _speed_check(sheet, leg, _Air.before(air), is_charge=False)
    fitted = sheet.number("filter_loss_kpa") if filters else 0.0
    yield _loss_check(
        sheet,
        one,
        [(leg, _Air.before(air)) for leg in legs],
        fitted if fitted is not None else missing("filter_loss_kpa"),
        is_charge=False,
    )


def _filter_check(sheet: Sheet, at: str, air: EngineAir | Gap) -> Answer:
    rated = sheet.numbers("filter_m3_h")
    if not isinstance(air, EngineAir):
        return not_checked("air_filter", at, air)
    if isinstance(rated, Missing):
        return not_checked("air_filter", at, rated)
    flow = FilterFlow(free_air_m3_h=air.free_m3_h, filter_m3_h=rated["filter_m3_h"])
    answer = air_filter(at, flow, held(sheet.limit("air_filter", at), FILTER))
    return sheet.told(answer, "filter_m3_h")


# --- charge --------------------------------------------------------------------------------------


def _charge_checks(
    drawing: Drawing, sheet: Sheet, one: PlumbedCircuit, air: EngineAir | Gap
) -> Iterator[Answer]:
    legs = legs_of(drawing, one.way)
    coolers = [part for part in on_the_way(drawing, one.way) if part.kind in COOLERS]
    if not legs:
        yield no_sum("charge_loss", one.circuit.key, NO_WAY)
        return
    states = [
        (leg, _Air.behind_cooler(air) if is_behind(leg, COOLERS) else _Air.behind(air))
        for leg in legs
    ]
    for leg, state in states:
        yield _speed_check(sheet, leg, state, is_charge=True)
        if leg.soft_pieces and not is_behind(leg, COOLERS):
            yield _hose_check(sheet, one, leg, air)
    fitted = sheet.number("cooler_loss_kpa") if coolers else 0.0
    yield _loss_check(
        sheet,
        one,
        states,
        fitted if fitted is not None else missing("cooler_loss_kpa"),
        is_charge=True,
    )
    for cooler in coolers:
        if sheet.word("cooler_tanks") != "metal":
            yield _cooler_check(sheet, cooler.key, air)


def _cooler_check(sheet: Sheet, at: str, air: EngineAir | Gap) -> Answer:
    """Plastic tanks bear what their maker says; of metal ones nothing is asked."""
    rated = sheet.number("cooler_tank_c")
    if rated is None:
        unsaid: tuple[FigureName, ...] = () if sheet.word("cooler_tanks") else ("cooler_tanks",)
        return not_checked("cooler_heat", at, missing(*unsaid, "cooler_tank_c"))
    if not isinstance(air, EngineAir):
        return not_checked("cooler_heat", at, air)
    part = HotPart(charge_c=air.compressor_c, rated_c=rated)
    source, limit = sheet.source("cooler_tank_c"), sheet.limit("cooler_heat", at)
    return _with_ratio(cooler_heat(at, part, source, limit), air)


def _hose_check(sheet: Sheet, one: PlumbedCircuit, leg: Leg, air: EngineAir | Gap) -> Answer:
    at, rated = leg.run.key, sheet.numbers("charge_hose_c")
    if not isinstance(air, EngineAir):
        return not_checked("charge_hose", at, air)
    if isinstance(rated, Missing):
        return not_checked("charge_hose", at, rated)
    made_of = dict.fromkeys(piece.of or one.circuit.hose or "" for piece in leg.soft_pieces)
    material = next((of for of in made_of if of.strip().lower() == "coolant"), "")
    part = HotPart(
        charge_c=air.compressor_c,
        rated_c=rated["charge_hose_c"],
        material=material or ", ".join(of for of in made_of if of),
    )
    answer = charge_hose(at, part, sheet.source("charge_hose_c"), sheet.limit("charge_hose", at))
    return _with_ratio(answer, air)


def _with_ratio(answer: Answer, air: EngineAir) -> Answer:
    ratio = Figure(name="pressure ratio", value=air.pressure_ratio)
    return replace(answer, used=(ratio, *answer.used)).marked("typed", "rated for")


# --- both ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Air:
    """The air in one part of the way, or what is missing for it."""

    kg_s: float = 0.0
    kpa: float = 0.0
    celsius: float = 0.0
    gap: Gap | None = None

    @classmethod
    def before(cls, air: EngineAir | Gap) -> "_Air":
        if not isinstance(air, EngineAir):
            return cls(gap=air)
        return cls(kg_s=air.kg_s, kpa=air.intake_kpa, celsius=air.intake_c)

    @classmethod
    def behind(cls, air: EngineAir | Gap) -> "_Air":
        if not isinstance(air, EngineAir):
            return cls(gap=air)
        return cls(kg_s=air.kg_s, kpa=air.compressor_kpa, celsius=air.compressor_c)

    @classmethod
    def behind_cooler(cls, air: EngineAir | Gap) -> "_Air":
        if not isinstance(air, EngineAir):
            return cls(gap=air)
        return cls(kg_s=air.kg_s, kpa=air.manifold_kpa, celsius=air.manifold_c)


def _speed_check(sheet: Sheet, leg: Leg, air: _Air, *, is_charge: bool) -> Answer:
    name: SpeedCheck = "charge_speed" if is_charge else "intake_speed"
    at, stretches = leg.run.key, leg.stretches
    if air.gap is not None:
        return not_checked(name, at, air.gap)
    if isinstance(stretches, Missing):
        return not_checked(name, at, stretches)
    bore_mm = narrowest_mm(stretches)
    if bore_mm is None:
        return no_sum(name, at, "it is bolted straight together")
    inputs = PipeSpeed(kg_s=air.kg_s, kpa=air.kpa, celsius=air.celsius, bore_mm=bore_mm)
    return pipe_speed(name, at, inputs, held(sheet.limit(name, at), PIPE_SPEED))


def _longest_run(states: list[tuple[Leg, _Air]]) -> str:
    """The run in which a length is to be drawn first: the one with the most pieces."""
    return max((leg.run for leg, _ in states), key=lambda run: len(run.pieces)).key


def _loss_check(
    sheet: Sheet,
    one: PlumbedCircuit,
    states: list[tuple[Leg, _Air]],
    fitted: float | Missing,
    *,
    is_charge: bool,
) -> Answer:
    at, usual = one.circuit.key, CHARGE_LOSS if is_charge else INTAKE_LOSS
    check: LossCheck = "charge_loss" if is_charge else "intake_loss"
    legs = list[PipeLeg]()
    for leg, air in states:
        stretches = leg.stretches
        if air.gap is not None:
            return not_checked(check, at, air.gap)
        if isinstance(stretches, Missing):
            return not_checked(check, at, stretches)
        legs.append(PipeLeg(kg_s=air.kg_s, kpa=air.kpa, celsius=air.celsius, stretches=stretches))
    if isinstance(fitted, Missing):
        return not_checked(check, at, fitted)
    if not any(stretch.length_mm for leg in legs for stretch in leg.stretches):
        gone = Missing(names=("length of its pipes",), at=_longest_run(states))
        return not_checked(check, at, gone)
    inputs = WayLoss(
        legs=tuple(legs),
        fitted_kpa=fitted,
        fitted_name="intercooler's loss" if is_charge else "clean filter's loss",
    )
    return way_loss(check, at, inputs, held(sheet.limit(check, at), usual))
