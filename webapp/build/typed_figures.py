"""Figures of the data sheet as they are typed, in any system, each into its own unit, and back.

Exact factors: horsepower is 550 foot-pounds a second (745.69987 W), PS 75 kilogramme-metres a
second (735.49875 W), by the international foot and pound (1959) and the standard gravity; an inch
of water is that of 4 °C (249.082 Pa, conventional). A bare number is in the shop's own unit.
"""

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from webapp.build.data_sheet import FIGURES, FigureName
from webapp.build.units import Amount, ShopUnits, unit_named

_FOOT_M = Fraction("0.3048")
_POUND_KG, _GRAVITY = Fraction("0.45359237"), Fraction("9.80665")
_HP_KW = 550 * _FOOT_M * _POUND_KG * _GRAVITY / 1000
_PS_KW = 75 * _GRAVITY / 1000
_US_GALLON_L, _IMP_GALLON_L = (unit_named(name).factor for name in ("US gal", "imp gal"))
_PSI_BAR = unit_named("psi").factor
_FAHRENHEIT = (Fraction(5, 9), Fraction(-160, 9))
_WHOLE = Fraction(0)
_INTO: dict[str, dict[str, tuple[Fraction, Fraction]]] = {
    "bar": {"kPa": (Fraction(1, 100), _WHOLE), "psi": (_PSI_BAR, _WHOLE)},
    "kPa": {
        "bar": (Fraction(100), _WHOLE),
        "psi": (_PSI_BAR * 100, _WHOLE),
        "inH2O": (Fraction("0.249082"), _WHOLE),
    },
    "°C": {"°F": _FAHRENHEIT},
    "K": {"°C": (Fraction(1), _WHOLE), "°F": (Fraction(5, 9), _WHOLE)},
    "m": {"ft": (_FOOT_M, _WHOLE), "mm": (Fraction(1, 1000), _WHOLE)},
    "mm": {"in": (_FOOT_M * 1000 / 12, _WHOLE), "cm": (Fraction(10), _WHOLE)},
    "m/s": {"ft/s": (_FOOT_M, _WHOLE), "km/h": (Fraction(5, 18), _WHOLE)},
    "kg/s": {"lb/min": (_POUND_KG / 60, _WHOLE)},
    "kW": {"hp": (_HP_KW, _WHOLE), "PS": (_PS_KW, _WHOLE)},
    "g/kWh": {"lb/hph": (_POUND_KG * 1000 / _HP_KW, _WHOLE)},
    "l": {
        "cc": (Fraction(1, 1000), _WHOLE),
        "ml": (Fraction(1, 1000), _WHOLE),
        "cu in": ((_FOOT_M / 12) ** 3 * 1000, _WHOLE),
        "US qt": (_US_GALLON_L / 4, _WHOLE),
        "US gal": (_US_GALLON_L, _WHOLE),
        "imp gal": (_IMP_GALLON_L, _WHOLE),
    },
    "m³/h": {"cfm": (_FOOT_M**3 * 60, _WHOLE), "l/s": (Fraction(18, 5), _WHOLE)},
    "l/h": {
        "l/min": (Fraction(60), _WHOLE),
        "US gal/h": (_US_GALLON_L, _WHOLE),
        "imp gal/h": (_IMP_GALLON_L, _WHOLE),
    },
    "l/min": {"US gal/min": (_US_GALLON_L, _WHOLE), "imp gal/min": (_IMP_GALLON_L, _WHOLE)},
    "mm²/s": {"cSt": (Fraction(1), _WHOLE)},
}
"""By a figure's own unit: other units with how many of it they are, and where they begin."""
_INCHES: dict[str, str] = {
    "bar": "psi",
    "kPa": "psi",
    "°C": "°F",
    "K": "°F",
    "m": "ft",
    "mm": "in",
    "m/s": "ft/s",
    "kg/s": "lb/min",
    "kW": "hp",
    "m³/h": "cfm",
}
_OWN: dict[ShopUnits, dict[str, str]] = {
    "metric": {},
    "us": {**_INCHES, "l": "US gal", "l/h": "US gal/h", "l/min": "US gal/min"},
    "imperial": {**_INCHES, "l": "imp gal", "l/h": "imp gal/h", "l/min": "imp gal/min"},
}
_SWEPT: dict[ShopUnits, str] = {"metric": "l", "us": "cu in", "imperial": "cc"}
"""What displacement is told in: nobody tells it in gallons."""
_AMOUNT = re.compile(r"([-+]?\d+(?:[.,]\d+)?)\s*(\S.*)?")
_PLAIN = {"m3/h": "m³/h", "c": "°C", "f": "°F", "deg c": "°C", "deg f": "°F", "mm2/s": "mm²/s"}
_MINUS = "\N{MINUS SIGN}"
_WIRE_GAUGE = re.compile(r"(?:awg\s*)?(\d+|[1-4]/0|0{2,4})\s*(?:awg|ga)?", re.IGNORECASE)


def shop_unit(unit: str, units: ShopUnits = "metric") -> str:
    """What a shop calls a quantity that is held in this unit: bar, psi."""
    return _OWN[units].get(unit, unit)


def own_unit(name: FigureName, units: ShopUnits = "metric") -> str:
    """What a shop types a figure in: boost in bar, or in psi."""
    return _SWEPT[units] if name == "displacement_l" else shop_unit(FIGURES[name].unit, units)


def _size_of(unit: str, called: str) -> tuple[Fraction, Fraction]:
    return (Fraction(1), _WHOLE) if called == unit else _INTO[unit][called]


def in_unit(value: float, unit: str, called: str) -> float:
    """So many of a unit in another that it can be typed in: 1.2 bar is 17.4 psi."""
    factor, zero = _size_of(unit, called)
    return float((Fraction(value) - zero) / factor)


def read_in(text: str, unit: str, own: str) -> Amount:
    """A number in a unit, typed bare in `own` or with any that belongs to it: "17.4 psi"."""
    plain = " ".join(text.replace(_MINUS, "-").split())
    match = _AMOUNT.fullmatch(plain)
    if match is None:
        where = f", in {own}" if own else ""
        return Amount(value=None, fault=f"“{text.strip()[:60]}” is no number. Enter one{where}.")
    known = {unit: (Fraction(1), _WHOLE), **_INTO.get(unit, {})}
    by_name = {called.lower(): size for called, size in known.items()}
    said = (match[2] or own).lower()
    size = by_name.get(_PLAIN.get(said, said).lower())
    if size is None:
        names = ", ".join(called for called in known if called) or "none"
        return Amount(value=None, fault=f"“{match[2][:60]}” is no unit here. Use one of {names}.")
    return Amount(value=float(Fraction(match[1].replace(",", ".")) * size[0] + size[1]))


def read_figure(text: str, name: FigureName, units: ShopUnits = "metric") -> Amount:
    """A figure that is a number, in its own unit: "17.4 psi" for a boost is 1.2 (bar)."""
    return read_in(text, FIGURES[name].unit, own_unit(name, units))


def figure_text(value: float, unit: str, own: str) -> str:
    """A number as a field shows it in the unit of the shop, which stands beside it: "1.2"."""
    if own == unit:
        text = f"{value:.6f}"
    else:
        converted = in_unit(value, unit, own)
        text = f"{float(f'{converted:.6g}'):.8f}"
    text = text.rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


def wire_mm2(gauge: str) -> float | None:
    """The copper of an American wire gauge in mm², by its area and never by its name.

    The diameter is 0.127 mm x 92^((36 - n) / 39) (ASTM B258, cited); 0, 2/0, 3/0, 4/0 are 0, -1,
    -2, -3. None for what is no gauge.
    """
    match = _WIRE_GAUGE.fullmatch(gauge.strip())
    if match is None:
        return None
    said = match[1]
    if "/" in said or (len(said) > 1 and not said.strip("0")):
        number = 1 - (int(said[0]) if "/" in said else len(said))
    else:
        number = int(said)
    if number > 40:
        return None
    diameter_mm = 0.127 * 92 ** ((36 - number) / 39)
    return float(math.pi / 4 * diameter_mm**2)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Likely:
    """From where to where a figure is likely, and what is asked beyond."""

    least: float
    most: float
    asks: str


_FAHRENHEIT_ASKED = "Is it in °C, and not in °F? Write the unit beside it."
_LIKELY: dict[FigureName, _Likely] = {
    "boost_bar": _Likely(
        least=0.15,
        most=1.99,
        asks=(
            "Is it gauge, and in that unit? Absolute pressure has the air's own 1 bar (14.7 psi)"
            " in it: take that off."
        ),
    ),
    "cap_bar": _Likely(
        least=0.2,
        most=1.7,
        asks="Is it gauge, and in that unit? Caps have 0.25 to 1.4 bar (4 to 20 psi).",
    ),
    "weakest_coolant_bar": _Likely(
        least=0.2, most=5.0, asks="Is it gauge, and in that unit? 1 bar is 14.5 psi."
    ),
    "intake_c": _Likely(least=-25.0, most=50.0, asks=_FAHRENHEIT_ASKED),
    "hottest_coolant_c": _Likely(least=80.0, most=125.0, asks=_FAHRENHEIT_ASKED),
    "frost_c": _Likely(
        least=-45.0,
        most=0.0,
        asks="Is it a frost, with its minus, and in that unit? -25 °C is -13 °F.",
    ),
    "charge_hose_c": _Likely(least=90.0, most=260.0, asks=_FAHRENHEIT_ASKED),
    "cooler_tank_c": _Likely(least=90.0, most=260.0, asks=_FAHRENHEIT_ASKED),
    "exhaust_gas_c": _Likely(least=300.0, most=900.0, asks=_FAHRENHEIT_ASKED),
    "displacement_l": _Likely(
        least=0.2, most=16.0, asks="Is it in litres? Cubic inches are written “134 cu in”."
    ),
    "height_m": _Likely(
        least=-100.0, most=3000.0, asks="Is it in that unit? 1,000 m are 3,281 ft."
    ),
    "antifreeze_percent": _Likely(
        least=0.0,
        most=60.0,
        asks=(
            "Above 60 % it freezes sooner again and carries heat worse, and nothing here holds for"
            " it: the checks of the coolant stay open."
        ),
    ),
    "volumetric_efficiency": _Likely(
        least=0.75, most=0.95, asks="The formula holds from 0.75 to 0.95: outside it stays open."
    ),
}
"""Outside it is asked about: gauge or absolute, °C or °F, bar or psi. Common practice."""
_PETROL_BOOST_BAR = 1.3


def doubt_of(name: FigureName, value: float, fuel: str = "") -> str:
    """What to ask where a figure is unlikely: gauge or absolute, °C or °F; "" where nothing is.

    No boost at all is no slip, nor is a share of 0.
    """
    likely = _LIKELY.get(name)
    if likely is None or (name in ("boost_bar", "cap_bar", "antifreeze_percent") and value == 0):
        return ""
    is_much = name == "boost_bar" and fuel == "petrol" and value > _PETROL_BOOST_BAR
    return likely.asks if is_much or not likely.least <= value <= likely.most else ""


def outside_of(name: FigureName, value: float, units: ShopUnits = "metric") -> str:
    """Why a figure can not be so; "" where it can. A unit that was mixed up is the usual slip."""
    kind, own = FIGURES[name], own_unit(name, units)
    if kind.least <= value <= kind.most:
        return ""
    said, least, most = (
        f"{in_unit(each, kind.unit, own):,.4g}" for each in (value, kind.least, kind.most)
    )
    unit = f" {own}" if own else ""
    others = [called for called in (kind.unit, *_INTO.get(kind.unit, {})) if called != own]
    mixed = f" If it is in {others[0]}, write that beside it." if others else ""
    if name == "frost_c" and value > 0:
        mixed = f" A frost has its minus: -{said}{unit}.{mixed}"
    return f"{said}{unit} lies outside {least} to {most}{unit}.{mixed}"
