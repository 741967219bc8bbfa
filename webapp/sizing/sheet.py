"""The data sheet as checks see it: what was typed, else what is assumed, and whose limit holds."""

from dataclasses import dataclass, replace

from webapp.build.data_sheet import (
    FIGURES,
    CheckName,
    DataSheet,
    FigureName,
    SheetFigure,
)
from webapp.sizing.answers import Answer, Figure, Limit, Missing
from webapp.sizing.coolant_heat import FUELS, Fuel
from webapp.sizing.exhaust import GAS_C
from webapp.sizing.fuel_line import COLD_VISCOSITY_MM2_S

AT_LEAST: frozenset[CheckName] = frozenset(("expansion", "boiling", "fuel_return", "belt_wrap"))
"""Checks whose number has to be so much at least."""
ASSUMED: dict[FigureName, float] = {
    "strokes": 4,
    "volumetric_efficiency": 0.85,
    "height_m": 0.0,
    "intake_c": 25.0,
    "compressor_efficiency": 0.70,
    "cooler_effectiveness": 0.65,
    "heat_share_percent": 25.0,
    "coolant_rise_k": 8.0,
    "fuel_lift_m": 0.0,
    "battery_v": 12.0,
}
"""What is reckoned with where nobody typed it: common practice, and said to be assumed."""
ASSUMED_BY_FUEL: dict[FigureName, dict[Fuel, float]] = {
    "fuel_g_kwh": {"diesel": 230.0, "petrol": 280.0},
    "exhaust_gas_c": GAS_C,
    "fuel_mm2_s": COLD_VISCOSITY_MM2_S,
}
ASSUMED_FILTER_LOSS_KPA, ASSUMED_COOLER_LOSS_KPA = 5.0, 8.0
"""For the temperature of the charge alone, which hardly hangs on them."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """The figures of a data sheet by name."""

    sheet: DataSheet

    def typed(self, name: FigureName) -> SheetFigure | None:
        """A figure as it was typed."""
        return next((one for one in self.sheet.figures if one.name == name), None)

    @property
    def fuel(self) -> Fuel | None:
        """What the engine burns."""
        word = self.word("fuel")
        return next((fuel for fuel in FUELS if fuel == word), None)

    def word(self, name: FigureName) -> str | None:
        """A figure that is a word."""
        one = self.typed(name)
        return one.value if one is not None and isinstance(one.value, str) else None

    def number(self, name: FigureName) -> float | None:
        """A figure that is a number: as typed, else as assumed, else None."""
        one = self.typed(name)
        if one is not None and not isinstance(one.value, str):
            return one.value
        if self.fuel is not None and name in ASSUMED_BY_FUEL:
            return ASSUMED_BY_FUEL[name][self.fuel]
        return ASSUMED.get(name)

    def numbers(self, *names: FigureName) -> dict[FigureName, float] | Missing:
        """Several numbers by name, or all that are missing."""
        found = {name: self.number(name) for name in names}
        known = {name: value for name, value in found.items() if value is not None}
        gone = self.missing(*(name for name in names if name not in known))
        return gone or known

    def missing(self, *names: FigureName) -> Missing | None:
        """Figures by their own words as missing; None where there are none."""
        return Missing(names=tuple(FIGURES[name].words for name in names)) if names else None

    def source(self, name: FigureName) -> str:
        """Where a figure was read."""
        one = self.typed(name)
        return one.source if one is not None and one.source else FIGURES[name].words

    def limit(self, check: CheckName, at: str) -> Limit | None:
        """The person's own limit of a check: of that very place, else of everywhere."""
        mine = {one.at: one for one in self.sheet.limits if one.check == check}
        one = mine.get(at) or mine.get("")
        if one is None:
            return None
        tight = one.ok if one.tight is None else one.tight
        return Limit(
            ok=one.ok,
            tight=tight,
            origin="typed",
            source=one.source,
            at_least=check in AT_LEAST,
        )

    def with_assumed(self, answer: Answer, *names: FigureName) -> Answer:
        """An answer that says which of its inputs nobody typed."""
        used = list(answer.used)
        for name in names:
            value = self.number(name)
            if value is None or self.typed(name) is not None:
                continue
            kind = FIGURES[name]
            assumed = Figure(name=kind.words, value=value, unit=kind.unit, is_assumed=True)
            there = next((at for at, one in enumerate(used) if one.name == kind.words), None)
            if there is None:
                used.append(assumed)
            else:
                used[there] = replace(used[there], is_assumed=True)
        return replace(answer, used=tuple(used))
