"""The data sheet as checks see it: what was typed, else what is assumed, and whose limit holds."""

from dataclasses import dataclass, replace

from webapp.build.data_sheet import (
    AT_LEAST,
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
ASSUMED_WORDS: dict[FigureName, str] = {"antifreeze": "ethylene"}
ASSUMED_BY_FUEL: dict[FigureName, dict[Fuel, float]] = {
    "fuel_g_kwh": {"diesel": 230.0, "petrol": 280.0},
    "exhaust_gas_c": GAS_C,
    "fuel_mm2_s": COLD_VISCOSITY_MM2_S,
}
ASSUMED_FOR_HEAT: dict[FigureName, float] = {"filter_loss_kpa": 5.0, "cooler_loss_kpa": 8.0}
"""For the air's own pressure and heat, which hardly hang on them; never for a loss."""


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
        gone = tuple(name for name in names if name not in known)
        return missing(*gone) if gone else known

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

    def told(self, answer: Answer, *names: FigureName) -> Answer:
        """An answer with these figures among its inputs, each with where it is from."""
        used = list(answer.used)
        for name in names:
            figure = self.figure(name)
            if figure is None:
                continue
            there = next((at for at, one in enumerate(used) if one.name == figure.name), None)
            if there is None:
                used.append(figure)
            else:
                used[there] = replace(used[there], came=figure.came, source=figure.source)
        return replace(answer, used=tuple(used))

    def figure(self, name: FigureName) -> Figure | None:
        """A figure as an input: typed, with where it was read, or assumed; None for neither."""
        kind, one = FIGURES[name], self.typed(name)
        if one is not None:
            return Figure(
                name=kind.words, value=one.value, unit=kind.unit, came="typed", source=one.source
            )
        value: float | str | None = self.number(name)
        if value is None:
            value = ASSUMED_WORDS.get(name, ASSUMED_FOR_HEAT.get(name))
        if value is None:
            return None
        return Figure(name=kind.words, value=value, unit=kind.unit, came="assumed")


def missing(*names: FigureName) -> Missing:
    """Figures of the data sheet by their own words as missing."""
    return Missing(names=tuple(FIGURES[name].words for name in names), figures=names)
