"""One table of exact conversion factors, and numbers in the shop's own units.

Inside, lengths are mm, pressures bar (gauge), temperatures °C and volumes litres. Factors are
fractions of whole numbers: inch, pound and gallons are defined so (international yard and pound,
1959; the US gallon is 231 cubic inches; the imperial one 4.54609 l, UK Weights and Measures Act
1985), the standard acceleration of gravity is 9.80665 m/s² (CGPM 1901).
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Quantity = Literal["length", "pressure", "temperature", "volume"]
ShopUnits = Literal["metric", "us", "imperial"]
SHOP_UNITS: tuple[ShopUnits, ...] = ("metric", "us", "imperial")
"""us and imperial differ in their gallons alone; a gallon is never written without saying which."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """A unit: so many of the inner one, `zero` of it at its own zero; `decimals` it is shown to."""

    name: str
    quantity: Quantity
    factor: Fraction
    zero: Fraction = Fraction(0)
    decimals: int = 2
    also: tuple[str, ...] = ()


MM_IN_AN_INCH = Fraction("25.4")
_POUND_FORCE_N = Fraction("0.45359237") * Fraction("9.80665")
_PSI_PA = _POUND_FORCE_N / (MM_IN_AN_INCH / 1000) ** 2
_BAR_PA = 100_000
_US_GALLON_L = 231 * (MM_IN_AN_INCH / 100) ** 3
UNITS: tuple[Unit, ...] = (
    Unit(name="mm", quantity="length", factor=Fraction(1), decimals=1),
    Unit(name="cm", quantity="length", factor=Fraction(10)),
    Unit(name="m", quantity="length", factor=Fraction(1000), decimals=3),
    Unit(name="in", quantity="length", factor=MM_IN_AN_INCH, decimals=3, also=("inch", '"')),
    Unit(name="ft", quantity="length", factor=12 * MM_IN_AN_INCH, also=("foot", "feet", "'")),
    Unit(name="bar", quantity="pressure", factor=Fraction(1)),
    Unit(name="kPa", quantity="pressure", factor=Fraction(1, 100), decimals=0),
    Unit(name="psi", quantity="pressure", factor=_PSI_PA / _BAR_PA, decimals=1),
    Unit(name="°C", quantity="temperature", factor=Fraction(1), decimals=1, also=("c", "deg c")),
    Unit(
        name="°F",
        quantity="temperature",
        factor=Fraction(5, 9),
        zero=Fraction(-160, 9),
        decimals=1,
        also=("f", "deg f"),
    ),
    Unit(name="l", quantity="volume", factor=Fraction(1), also=("litre", "litres", "liter")),
    Unit(name="ml", quantity="volume", factor=Fraction(1, 1000), decimals=0),
    Unit(name="US gal", quantity="volume", factor=_US_GALLON_L, also=("us gallon", "us gallons")),
    Unit(name="US qt", quantity="volume", factor=_US_GALLON_L / 4, also=("us quart",)),
    Unit(
        name="imp gal",
        quantity="volume",
        factor=Fraction("4.54609"),
        also=("imperial gallon", "imperial gallons", "uk gal"),
    ),
)
"""Every unit that is read; the shop's own are those of `unit_of`."""

_OWN: dict[ShopUnits, dict[Quantity, str]] = {
    "metric": {"length": "mm", "pressure": "bar", "temperature": "°C", "volume": "l"},
    "us": {"length": "in", "pressure": "psi", "temperature": "°F", "volume": "US gal"},
    "imperial": {"length": "in", "pressure": "psi", "temperature": "°F", "volume": "imp gal"},
}
_BY_NAME = {name.lower(): unit for unit in UNITS for name in (unit.name, *unit.also)}
_AMOUNT = re.compile(r"([-+]?\d+(?:[.,]\d+)?)\s*(\S.*)?")
_GALLONS = ("gal", "gallon", "gallons")


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """A number in the inner unit; None, and a sentence that says why, where none could be read."""

    value: float | None
    fault: str = ""


def unit_named(name: str) -> Unit:
    """A unit by one of its names. KeyError without such a unit."""
    return _BY_NAME[name.strip().lower()]


def unit_of(quantity: Quantity, units: ShopUnits) -> Unit:
    """What a shop measures a quantity in."""
    return unit_named(_OWN[units][quantity])


def inner(value: float, unit: str) -> float:
    """So many of a unit in mm, bar, °C or litres: inner(1, "in") is 25.4."""
    of = unit_named(unit)
    return float(Fraction(value) * of.factor + of.zero)


def outer(value: float, unit: str) -> float:
    """So many mm, bar, °C or litres in a unit: outer(25.4, "in") is 1."""
    of = unit_named(unit)
    return float((Fraction(value) - of.zero) / of.factor)


def read_amount(text: str, quantity: Quantity, units: ShopUnits = "metric") -> Amount:
    """What was typed, "1.2 bar", "15 psi" or a bare number in the shop's own unit."""
    own = unit_of(quantity, units)
    match = _AMOUNT.fullmatch(" ".join(text.split()))
    if match is None:
        return Amount(value=None, fault=f"“{text.strip()}” is no number. Enter one, in {own.name}.")
    number, called = Fraction(match[1].replace(",", ".")), (match[2] or own.name).lower()
    if called in _GALLONS:
        return Amount(value=None, fault="There are two gallons: write US gal or imp gal.")
    unit = _BY_NAME.get(called)
    if unit is None or unit.quantity != quantity:
        known = ", ".join(one.name for one in UNITS if one.quantity == quantity)
        return Amount(value=None, fault=f"“{match[2]}” is no unit here. Use one of {known}.")
    return Amount(value=float(number * unit.factor + unit.zero))


def amount_words(value: float, quantity: Quantity, units: ShopUnits = "metric") -> str:
    """A number with its unit, as the shop writes it: "1.1 bar", "16 psi"."""
    unit = unit_of(quantity, units)
    number = f"{outer(value, unit.name):.{unit.decimals}f}"
    if "." in number:
        number = number.rstrip("0").rstrip(".")
    return f"{'0' if number == '-0' else number} {unit.name}"
