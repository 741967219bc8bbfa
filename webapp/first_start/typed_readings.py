"""Readings as they are typed: whether one is there, in its range, and in its unit."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from webapp.build.build_input import Fault
from webapp.build.first_start import SignedReading
from webapp.build.limits import MOST_OF_A_READING
from webapp.first_start.check_list import Check, Wanted

ATMOSPHERE_BAR = 1.013
"""Standard atmosphere; so much an absolute gauge shows where nothing presses."""
NEAR_ATMOSPHERE_BAR = 0.2
PSI_IN_A_BAR = 14.504
KPA_IN_A_BAR = 100.0
HOTTEST_LIKELY_C = 130.0
"""Above it a figure in °C is likely to be one in °F."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedReading:
    """One reading: `value` None where nothing was typed, or nothing that could be read.

    `makers` is what stands after "the maker's figure is"; `is_sure` answers the question about
    an unlikely unit.
    """

    name: str
    value: float | str | None
    makers: str = ""
    is_sure: bool = False


def reading_faults(
    check: Check, typed: tuple[TypedReading, ...], answers: Mapping[str, str]
) -> Iterator[Fault]:
    """What keeps readings from being signed, each beside its field "reading:NAME"."""
    by_name = {one.name: one for one in typed}
    for wanted in check.readings:
        one = by_name.get(wanted.name)
        text = _missing(wanted, one)
        if one is not None and text is None:
            text = _unlikely(wanted, one) or _outside(wanted, one, answers)
        if text is not None:
            yield Fault(kind="check", key=check.key, field=f"reading:{wanted.name}", text=text)


def signed_readings(check: Check, typed: tuple[TypedReading, ...]) -> tuple[SignedReading, ...]:
    """The readings of a check as they are kept, in the order of the list, with their units."""
    by_name = {one.name: one for one in typed}
    return tuple(
        SignedReading(
            name=wanted.name, unit=wanted.unit, value=one.value, makers=one.makers.strip()
        )
        for wanted in check.readings
        if (one := by_name.get(wanted.name)) is not None and one.value is not None
    )


def _missing(wanted: Wanted, one: TypedReading | None) -> str | None:
    label = f"{wanted.name[:1].upper()}{wanted.name[1:]}, {wanted.unit}"
    if one is None or one.value is None or (isinstance(one.value, str) and not one.value.strip()):
        return f"{label}: it is asked for, and nothing was typed. Read it, then type it."
    if wanted.is_words or not isinstance(one.value, str):
        number = one.value
        if isinstance(number, float) and not abs(number) <= MOST_OF_A_READING:
            return f"{label}: that is no reading. Type the number that stands on the gauge."
        return None
    return f"{label}: a number is asked for. Type the number that stands on the gauge."


def _unlikely(wanted: Wanted, one: TypedReading) -> str | None:
    if one.is_sure or isinstance(one.value, str) or one.value is None:
        return None
    value, unit = one.value, wanted.unit
    if unit.startswith("bar"):
        for other, factor in (("psi", PSI_IN_A_BAR), ("kPa", KPA_IN_A_BAR)):
            if _would_fit(wanted, value, factor):
                return (
                    f"{value:g} bar is unlikely: {value:g} {other} would be "
                    f"{value / factor:.2g} bar. Which unit does the gauge show?"
                )
        near = abs(value - ATMOSPHERE_BAR) <= NEAR_ATMOSPHERE_BAR
        if near and "gauge" in unit:
            return (
                f"{value:g} bar is what an absolute gauge shows where nothing presses. "
                "Did the gauge stand at zero before?"
            )
    if unit.startswith("°C") and value > HOTTEST_LIKELY_C:
        return (
            f"{value:g} °C is unlikely: {value:g} °F would be {(value - 32) / 1.8:.0f} °C. "
            "Which unit does the gauge show?"
        )
    return None


def _would_fit(wanted: Wanted, value: float, factor: float) -> bool:
    """Whether a figure is far outside, and in its range were it in the other unit."""
    usual = [end for end in (wanted.low, wanted.high) if end is not None]
    if not usual or value <= 2 * max(usual):
        return False
    least, most = min(usual) / 2, max(usual) * (2 if wanted.high is not None else 20)
    return least <= value / factor <= most


def _outside(wanted: Wanted, one: TypedReading, answers: Mapping[str, str]) -> str | None:
    if isinstance(one.value, str) or one.value is None or one.makers.strip():
        return None
    low, high = wanted.bounds(answers.get("volts"))
    value = one.value
    if math.isnan(value):
        return f"{wanted.name}: that is no reading. Type the number that stands on the gauge."
    if low is not None and value < low:
        return (
            f"{value:g} {wanted.unit} is below the usual {low:g}. "
            "Where the maker says otherwise, type: the maker's figure is …"
        )
    if high is not None and value > high:
        return (
            f"{value:g} {wanted.unit} is above the usual {high:g}. "
            "Where the maker says otherwise, type: the maker's figure is …"
        )
    return None
