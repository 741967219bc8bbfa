"""The bridge, measured: from one first-start date to another, one step per cause.

Steps run from the earlier date on, to the right where first start comes later and to the left
where it comes sooner; each begins where the one above it ends.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.pictures.labels import width_of


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgeStep:
    """One cause: its name, its minutes (later is above zero) and these in words."""

    name: str
    minutes: int
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A text; `ends_here` where it ends at x rather than begins there."""

    x: float
    y: float
    text: str
    ends_here: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    x: float
    y: float
    width: float
    height: float
    sooner: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgePicture:
    """Bars, the lines that lead from one to the next, and texts, in units of the view box.

    `beginning` and `end` are the lines at the two dates.
    """

    upright: bool
    width: float
    height: float
    names: tuple[Words, ...]
    amounts: tuple[Words, ...]
    bars: tuple[Bar, ...]
    leads: str
    beginning: str
    end: str
    dates: tuple[Words, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """Where things stand: names beside the bars, or above them on an upright sheet."""

    upright: bool
    width: float
    left: float
    right: float
    pitch: float
    bar_height: float


BROAD = _Sheet(upright=False, width=760, left=236, right=640, pitch=36, bar_height=18)
UPRIGHT = _Sheet(upright=True, width=360, left=24, right=250, pitch=52, bar_height=18)
TOP = 34.0
LEAST_BAR = 1.0
TEXT_SCALE = 1.35
"""Widths are known for condensed type of 12.5 units; the words here are larger and broader."""


def bridge_picture(
    steps: Sequence[BridgeStep], *, begins: str, ends: str, upright: bool = False
) -> BridgePicture:
    """The bridge from the date `begins` to the date `ends`, both in words."""
    sheet = UPRIGHT if upright else BROAD
    levels = [0]
    for step in steps:
        levels.append(levels[-1] + step.minutes)
    low, high = min(levels), max(levels)
    span = max(high - low, 1)

    def x(minutes: int) -> float:
        return sheet.left + (sheet.right - sheet.left) * (minutes - low) / span

    bars, names, amounts, leads = [], [], [], []
    for i, step in enumerate(steps):
        before, after = x(levels[i]), x(levels[i + 1])
        middle = TOP + sheet.pitch * (i + 0.5) + (9 if upright else 0)
        top = middle - sheet.bar_height / 2
        if step.minutes:
            width = max(abs(after - before), LEAST_BAR)
            bars.append(
                Bar(
                    x=min(before, after),
                    y=top,
                    width=width,
                    height=sheet.bar_height,
                    sooner=step.minutes < 0,
                )
            )
        if upright:
            names.append(Words(x=sheet.left + 6, y=top - 8, text=step.name))
        else:
            names.append(Words(x=sheet.left - 14, y=middle + 5, text=step.name, ends_here=True))
        amounts.append(Words(x=max(before, after) + 8, y=middle + 5, text=step.words))
        leads.append(f"M{after:.1f} {middle:.1f}V{middle + sheet.pitch:.1f}")
    foot = TOP + sheet.pitch * (len(steps) + 0.5)
    last = x(levels[-1])
    return BridgePicture(
        upright=upright,
        width=sheet.width,
        height=foot + 34,
        names=tuple(names),
        amounts=tuple(amounts),
        bars=tuple(bars),
        leads="".join(leads[:-1]),
        beginning=f"M{x(0):.1f} {TOP - 8:.1f}V{foot:.1f}",
        end=f"M{last:.1f} {foot - sheet.pitch / 2:.1f}V{foot + 10:.1f}",
        dates=(_date(begins, x(0), TOP - 14, sheet), _date(ends, last, foot + 26, sheet)),
    )


def _date(text: str, x: float, y: float, sheet: _Sheet) -> Words:
    """A date at its line, to the left of it where the sheet would end."""
    ends_here = x + width_of(text) * TEXT_SCALE > sheet.width - 8
    return Words(x=x + (4 if ends_here else -4), y=y, text=text, ends_here=ends_here)
