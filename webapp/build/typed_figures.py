"""Figures of the data sheet as they are typed, in any system, each into its own unit.

Exact factors: horsepower is 550 foot-pounds a second (745.69987 W), PS 75 kilogramme-metres a
second (735.49875 W), by the international foot and pound (1959) and the standard gravity; an inch
of water is that of 4 °C (249.082 Pa, conventional). A bare number is in the shop's own unit.
"""

import math
import re
from fractions import Fraction

from webapp.build.data_sheet import FIGURES, FigureName
from webapp.build.units import Amount, ShopUnits, unit_named, unit_of

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
    "mm²/s": {"cSt": (Fraction(1), _WHOLE)},
}
"""By a figure's own unit: other units with how many of it they are, and where they begin."""
_OWN: dict[ShopUnits, dict[str, str]] = {
    "metric": {},
    "us": {"bar": "psi", "°C": "°F", "m": "ft", "kW": "hp", "m³/h": "cfm", "l/h": "US gal/h"},
    "imperial": {
        "bar": "psi",
        "°C": "°F",
        "m": "ft",
        "kW": "hp",
        "m³/h": "cfm",
        "l/h": "imp gal/h",
    },
}
_AMOUNT = re.compile(r"([-+]?\d+(?:[.,]\d+)?)\s*(\S.*)?")
_PLAIN = {"m3/h": "m³/h", "c": "°C", "f": "°F", "deg c": "°C", "deg f": "°F", "mm2/s": "mm²/s"}
_WIRE_GAUGE = re.compile(r"(?:awg\s*)?(\d+|[1-4]/0|0{2,4})\s*(?:awg|ga)?", re.IGNORECASE)


def own_unit(name: FigureName, units: ShopUnits = "metric") -> str:
    """What a shop types a figure in: boost in bar, or in psi."""
    unit = FIGURES[name].unit
    if name == "tank_room_l":
        return unit_of("volume", units).name
    return _OWN[units].get(unit, unit)


def read_figure(text: str, name: FigureName, units: ShopUnits = "metric") -> Amount:
    """A figure that is a number, in its own unit: "17.4 psi" for a boost is 1.2 (bar)."""
    unit, own = FIGURES[name].unit, own_unit(name, units)
    match = _AMOUNT.fullmatch(" ".join(text.split()))
    if match is None:
        where = f", in {own}" if own else ""
        return Amount(value=None, fault=f"“{text.strip()[:60]}” is no number. Enter one{where}.")
    known = {unit: (Fraction(1), _WHOLE), **_INTO.get(unit, {})}
    by_name = {called.lower(): size for called, size in known.items()}
    said = (match[2] or own).lower()
    size = by_name.get(_PLAIN.get(said, said).lower())
    if size is None:
        names = ", ".join(called for called in known if called) or "none"
        return Amount(value=None, fault=f"“{match[2]}” is no unit here. Use one of {names}.")
    return Amount(value=float(Fraction(match[1].replace(",", ".")) * size[0] + size[1]))


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


_UNLIKELY: dict[FigureName, tuple[float, str]] = {
    "boost_bar": (2.2, "Is it gauge? Absolute pressure has the air's own 1 bar in it."),
    "cap_bar": (1.7, "Is it in bar, and gauge? Caps have 0.3 to 1.4 bar (4 to 20 psi)."),
    "intake_c": (50.0, "Is it in °C, and not in °F?"),
    "hottest_coolant_c": (125.0, "Is it in °C, and not in °F?"),
    "frost_c": (5.0, "Is it a frost, in °C and not in °F?"),
}


def doubt_of(name: FigureName, value: float) -> str:
    """What to ask where a figure is unlikely: gauge or absolute, °C or °F; "" where nothing is."""
    above, asks = _UNLIKELY.get(name, (float("inf"), ""))
    return asks if value > above else ""
