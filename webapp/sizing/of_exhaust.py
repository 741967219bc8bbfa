"""Checks of the exhaust, from the drawing and the data sheet."""

from collections.abc import Iterator

from webapp.build.data_sheet import FigureName
from webapp.build.plumbing import Circuit
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.plumbed import PlumbedCircuit
from webapp.sizing.answers import Answer, Missing, held, no_sum, not_checked
from webapp.sizing.engine_air import EngineAir
from webapp.sizing.exhaust import BACK_PRESSURE, ExhaustWay, exhaust_loss
from webapp.sizing.growth import GROWTH_PER_K, HotPipe, growth
from webapp.sizing.of_air import NO_WAY, air_of, told_of_air
from webapp.sizing.pipe_loss import Stretch
from webapp.sizing.sheet import Sheet, missing
from webapp.sizing.way import Leg, kinds_in, legs_of, on_the_way

EXHAUST_KINDS = frozenset(("manifold_ex", "silencer", "catalyst", "downpipe"))
GIVING_WAY = ("flex", "bellow", "slip")
"""Words in the name or kind of what takes growth up."""


DRAWN = ("length", "bends together", "material", "gives way")
OF_TYPED: tuple[FigureName, ...] = ("exhaust_bore_mm", "exhaust_length_m", "exhaust_bends_deg")
BY_TYPING = "exhaust"
"""What the exhaust that was typed is called."""


def exhaust_checks(drawing: Drawing, sheet: Sheet, one: PlumbedCircuit) -> Iterator[Answer]:
    """What is checked of a circuit of burnt gas; other gases have nothing here."""
    if not EXHAUST_KINDS & kinds_in(drawing, one.circuit):
        return
    legs, at = legs_of(drawing, one.way), one.circuit.key
    if not legs:
        yield no_sum("exhaust_loss", at, NO_WAY)
        return
    stretches = list[Stretch]()
    for leg in legs:
        found = leg.stretches
        if isinstance(found, Missing):
            yield not_checked("exhaust_loss", at, found)
            return
        stretches += found
    yield _loss_check(drawing, sheet, at, tuple(stretches)).marked("drawn", *DRAWN)
    yield _growth_check(drawing, sheet, one, legs).marked("drawn", *DRAWN)


def is_exhaust_drawn(drawing: Drawing) -> bool:
    """Whether any circuit is an exhaust."""
    return any(EXHAUST_KINDS & kinds_in(drawing, one) for one in drawing.plumbing.circuits)


def typed_exhaust_checks(drawing: Drawing, sheet: Sheet) -> Iterator[Answer]:
    """The exhaust by what was typed of it, where none is drawn; nothing where nothing was."""
    if is_exhaust_drawn(drawing) or not any(sheet.typed(name) for name in OF_TYPED):
        return
    said = sheet.numbers(*OF_TYPED)
    if isinstance(said, Missing):
        yield not_checked("exhaust_loss", BY_TYPING, said)
        return
    stretch = Stretch(
        bore_mm=said["exhaust_bore_mm"],
        length_mm=1000 * said["exhaust_length_m"],
        turn_deg=said["exhaust_bends_deg"],
    )
    loss = _loss_check(drawing, sheet, BY_TYPING, (stretch,))
    yield sheet.told(loss.marked("typed", "length", "bends together"), "exhaust_bore_mm")
    yield _typed_growth(sheet, stretch.length_mm)


def _typed_growth(sheet: Sheet, length_mm: float) -> Answer:
    of: tuple[FigureName, ...] = ("exhaust_metal", "exhaust_joint")
    gone = [name for name in of if sheet.word(name) is None]
    hot_c = sheet.number("exhaust_gas_c")
    if hot_c is None:
        gone.append("fuel")
    if gone or hot_c is None:
        return not_checked("growth", BY_TYPING, missing(*gone))
    pipe = HotPipe(
        length_mm=length_mm,
        material=sheet.word("exhaust_metal") or "",
        hot_c=hot_c,
        gives_way=sheet.word("exhaust_joint") == "yes",
    )
    answer = growth(BY_TYPING, pipe, sheet.limit("growth", BY_TYPING))
    return sheet.told(answer.marked("typed", *DRAWN), "exhaust_gas_c")


def _loss_check(drawing: Drawing, sheet: Sheet, at: str, stretches: tuple[Stretch, ...]) -> Answer:
    air, fuel, gas_c = air_of(drawing, sheet), sheet.fuel, sheet.number("exhaust_gas_c")
    if fuel is None or gas_c is None:
        return not_checked("exhaust_loss", at, missing("fuel"))
    if not isinstance(air, EngineAir):
        return not_checked("exhaust_loss", at, air)
    if not stretches:
        return no_sum("exhaust_loss", at, "no pipe is drawn in it")
    inputs = ExhaustWay(
        air_kg_s=air.kg_s,
        stretches=stretches,
        fuel=fuel,
        gas_c=gas_c,
        fitted_kpa=sheet.number("silencers_kpa"),
        height_m=sheet.number("height_m") or 0.0,
    )
    answer = exhaust_loss(at, inputs, held(sheet.limit("exhaust_loss", at), BACK_PRESSURE))
    answer = sheet.told(answer, "fuel", "exhaust_gas_c", "silencers_kpa")
    return told_of_air(drawing, sheet, answer)


def _growth_check(
    drawing: Drawing, sheet: Sheet, one: PlumbedCircuit, legs: tuple[Leg, ...]
) -> Answer:
    at, hot_c = one.circuit.key, sheet.number("exhaust_gas_c")
    if hot_c is None:
        return not_checked("growth", at, missing("fuel"))
    length_mm = sum(piece.length_mm or 0.0 for leg in legs for piece in leg.run.pieces)
    if not length_mm:
        return no_sum("growth", at, "no pipe is drawn in it")
    pipe = HotPipe(
        length_mm=length_mm,
        material=_metal(one.circuit),
        hot_c=hot_c,
        gives_way=_gives_way(drawing, one, legs),
    )
    return sheet.told(growth(at, pipe, sheet.limit("growth", at)), "exhaust_gas_c")


def _metal(circuit: Circuit) -> str:
    said = (circuit.tube or "").lower()
    return next((metal for metal in ("stainless", *GROWTH_PER_K) if metal in said), said)


def _gives_way(drawing: Drawing, one: PlumbedCircuit, legs: tuple[Leg, ...]) -> bool:
    parts = on_the_way(drawing, one.way)
    named = [f"{part.name} {part.kind}" for part in parts]
    named += [piece.name or "" for leg in legs for piece in leg.run.pieces]
    is_named = any(word in name.lower() for name in named for word in GIVING_WAY)
    return is_named or any(
        leg.soft_pieces or any(piece.piece == "sleeve" for piece in leg.run.pieces) for leg in legs
    )
