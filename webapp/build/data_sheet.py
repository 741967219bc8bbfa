"""What a person types once so that pipes, hoses, wires and belts can be checked.

Figures of the engine and what hangs on it, each with where it was read; limits of makers that go
before the usual ones; wires and belts. Units stand in the names: lengths mm, boost and caps bar
(gauge), temperatures °C.
"""

from dataclasses import dataclass
from typing import Literal

FigureName = Literal[
    "fuel",
    "strokes",
    "displacement_l",
    "full_power_rpm",
    "power_kw",
    "fuel_g_kwh",
    "volumetric_efficiency",
    "boost_bar",
    "height_m",
    "intake_c",
    "compressor_efficiency",
    "cooler_effectiveness",
    "filter_m3_h",
    "filter_loss_kpa",
    "cooler_loss_kpa",
    "charge_hose_c",
    "cooler_tanks",
    "cooler_tank_c",
    "coolant_heat_kw",
    "heat_share_percent",
    "coolant_rise_k",
    "antifreeze",
    "antifreeze_percent",
    "frost_c",
    "hottest_coolant_c",
    "cap_bar",
    "weakest_coolant_bar",
    "tank_room_l",
    "coolant_l",
    "radiator_core",
    "radiator_air",
    "fuel_pump",
    "pump_flow_l_h",
    "fuel_lift_m",
    "fuel_mm2_s",
    "exhaust_gas_c",
    "silencers_kpa",
    "exhaust_bore_mm",
    "exhaust_length_m",
    "exhaust_bends_deg",
    "exhaust_metal",
    "exhaust_joint",
    "battery_v",
]
CheckName = Literal[
    "air_filter",
    "intake_speed",
    "intake_loss",
    "charge_speed",
    "charge_loss",
    "charge_hose",
    "cooler_heat",
    "coolant_speed",
    "radiator",
    "mixture",
    "expansion",
    "boiling",
    "cap",
    "fuel_suction",
    "fuel_return",
    "voltage_drop",
    "fuse",
    "exhaust_loss",
    "belt_length",
    "belt_wrap",
    "growth",
    "left_to_others",
]
CHECK_NAMES: tuple[CheckName, ...] = (
    *("air_filter", "intake_speed", "intake_loss", "charge_speed", "charge_loss", "charge_hose"),
    *("cooler_heat", "coolant_speed", "radiator", "mixture", "expansion", "boiling", "cap"),
    *("fuel_suction", "fuel_return", "voltage_drop", "fuse", "exhaust_loss", "belt_length"),
    *("belt_wrap", "growth", "left_to_others"),
)
WITHOUT_LIMITS: frozenset[CheckName] = frozenset(
    ("radiator", "cap", "mixture", "belt_length", "left_to_others")
)
"""Checks that are held against what is typed itself, or are no sums."""
LIMITED: tuple[CheckName, ...] = tuple(one for one in CHECK_NAMES if one not in WITHOUT_LIMITS)
AT_LEAST: frozenset[CheckName] = frozenset(("expansion", "boiling", "fuel_return", "belt_wrap"))
"""Checks whose number has to be so much at least."""
ONE_PLACE: frozenset[CheckName] = frozenset(("voltage_drop",))
"""Checks whose limit is of one place alone: a starter's drop is in V, a feed's in %."""
LIMIT_UNITS: dict[CheckName, str] = {
    "air_filter": "%",
    "intake_speed": "m/s",
    "intake_loss": "kPa",
    "charge_speed": "m/s",
    "charge_loss": "kPa",
    "charge_hose": "°C",
    "cooler_heat": "°C",
    "coolant_speed": "m/s",
    "expansion": "%",
    "boiling": "K",
    "fuel_suction": "kPa",
    "fuel_return": "mm",
    "voltage_drop": "%",
    "fuse": "A",
    "exhaust_loss": "kPa",
    "belt_wrap": "°",
    "growth": "mm",
}
"""What the number of a check is in, where it has a limit; the drop of a starter's cable is in V."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureKind:
    """What a figure is called, its unit, and from where to where nobody takes it for a slip.

    A figure with `choices` is one of these words.
    """

    words: str
    unit: str = ""
    least: float = 0.0
    most: float = 0.0
    choices: tuple[str, ...] = ()


def _number(words: str, unit: str, least: float, most: float) -> FigureKind:
    return FigureKind(words=words, unit=unit, least=least, most=most)


def _choice(words: str, *choices: str) -> FigureKind:
    return FigureKind(words=words, choices=choices)


FIGURES: dict[FigureName, FigureKind] = {
    "fuel": _choice("fuel", "diesel", "petrol"),
    "strokes": _number("number of strokes", "", 2, 4),
    "displacement_l": _number("displacement", "l", 0.05, 40),
    "full_power_rpm": _number("speed at full power", "rpm", 300, 12_000),
    "power_kw": _number("power", "kW", 0.5, 2_000),
    "fuel_g_kwh": _number("fuel for power", "g/kWh", 150, 600),
    "volumetric_efficiency": _number("volumetric efficiency", "", 0.3, 1.5),
    "boost_bar": _number("boost (gauge)", "bar", 0, 4),
    "height_m": _number("height above sea", "m", -500, 6_000),
    "intake_c": _number("intake air", "°C", -40, 80),
    "compressor_efficiency": _number("compressor's efficiency", "", 0.3, 0.95),
    "cooler_effectiveness": _number("cooler's effectiveness", "", 0, 0.95),
    "filter_m3_h": _number("filter's rated flow", "m³/h", 1, 50_000),
    "filter_loss_kpa": _number("clean filter's loss", "kPa", 0, 20),
    "cooler_loss_kpa": _number("intercooler's loss", "kPa", 0, 50),
    "charge_hose_c": _number("rating of the hot charge hose", "°C", 50, 400),
    "cooler_tanks": _choice("charge cooler's tanks", "plastic", "metal"),
    "cooler_tank_c": _number("rating of the charge cooler's tanks", "°C", 50, 400),
    "coolant_heat_kw": _number("heat into the coolant", "kW", 0.5, 1_000),
    "heat_share_percent": _number("share of the fuel's heat in the coolant", "%", 5, 60),
    "coolant_rise_k": _number("rise across the engine", "K", 1, 30),
    "antifreeze": _choice("antifreeze", "ethylene", "propylene"),
    "antifreeze_percent": _number("share of antifreeze", "%", 0, 100),
    "frost_c": _number("hardest frost", "°C", -60, 20),
    "hottest_coolant_c": _number("hottest coolant", "°C", 60, 150),
    "cap_bar": _number("pressure cap", "bar", 0, 3),
    "weakest_coolant_bar": _number("lowest rating in the coolant circuit", "bar", 0, 10),
    "tank_room_l": _number("room above the tank's cold mark", "l", 0, 50),
    "coolant_l": _number("coolant in the whole circuit", "l", 0.2, 500),
    "radiator_core": _choice("radiator's core beside the donor's", "same or more", "less"),
    "radiator_air": _choice("radiator's air beside the donor's", "same or more", "less"),
    "fuel_pump": _choice("kind of the first fuel pump", "mechanical", "electric"),
    "pump_flow_l_h": _number("fuel pump's flow", "l/h", 0.5, 2_000),
    "fuel_lift_m": _number("lift of the fuel", "m", -3, 3),
    "fuel_mm2_s": _number("fuel's viscosity, cold", "mm²/s", 0.3, 50),
    "exhaust_gas_c": _number("exhaust gas", "°C", 100, 1_050),
    "silencers_kpa": _number("silencers' loss", "kPa", 0, 60),
    "exhaust_bore_mm": _number("bore of the exhaust", "mm", 10, 300),
    "exhaust_length_m": _number("length of the exhaust", "m", 0.05, 20),
    "exhaust_bends_deg": _number("bends of the exhaust together", "°", 0, 2_000),
    "exhaust_metal": _choice("metal of the exhaust", "steel", "stainless"),
    "exhaust_joint": _choice("flexible or slip joint in the exhaust", "yes", "no"),
    "battery_v": _number("battery", "V", 6, 48),
}
FIGURE_NAMES: tuple[FigureName, ...] = tuple(FIGURES)

WireUse = Literal["starter", "feed"]
WIRE_USES: tuple[WireUse, ...] = ("starter", "feed")
Drives = Literal["crank", "alternator", "other", "idler"]
DRIVES: tuple[Drives, ...] = ("crank", "alternator", "other", "idler")


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetFigure:
    """A figure as it was typed, and where it was read; "" where nobody said."""

    name: FigureName
    value: float | str
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnLimit:
    """A limit that goes before the usual one: ok to `ok`, tight to `tight` (None: no further).

    `at` is the run, component, circuit, wire or belt it is for; "" is everywhere.
    """

    check: CheckName
    ok: float
    source: str
    at: str = ""
    tight: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """A battery cable or a wire: its current, copper and length out and back.

    `carries_a` is what its seller says that it carries where it lies; `celsius` how warm it is
    there, None where nobody said.
    """

    key: str
    name: str
    current_a: float
    area_mm2: float
    out_and_back_m: float
    use: WireUse = "feed"
    celsius: float | None = None
    fuse_a: float | None = None
    carries_a: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pulley:
    """A pulley by its middle and its diameter at the pitch line; `is_back`: the back of the belt
    runs on it."""

    name: str
    x_mm: float
    y_mm: float
    diameter_mm: float
    is_back: bool = False
    drives: Drives = "other"

    @property
    def radius_mm(self) -> float:
        """Below zero where the belt turns the other way round it."""
        return (-0.5 if self.is_back else 0.5) * self.diameter_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Belt:
    """A belt round pulleys, in the order in which it meets them; the length that was bought and
    how much its tensioner takes up."""

    key: str
    name: str
    pulleys: tuple[Pulley, ...] = ()
    length_mm: float | None = None
    take_up_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DataSheet:
    """All of it; empty where nobody has typed anything."""

    figures: tuple[SheetFigure, ...] = ()
    limits: tuple[OwnLimit, ...] = ()
    wires: tuple[Wire, ...] = ()
    belts: tuple[Belt, ...] = ()


EMPTY_SHEET = DataSheet()
