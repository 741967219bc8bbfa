"""Whether two ends fit, and what they need to be made tight.

Stretch of hoses and slack of slip joints: common practice, no source; silicone hardly stretches.
Clamp diameter: rubber keeps its volume, so D_c = sqrt(D^2 + OD^2 - d^2) with OD = d + 2 wall.
"""

import math
from dataclasses import dataclass
from typing import Literal

from webapp.build.plumbing import Circuit, End
from webapp.build.threads import thread_of
from webapp.plumbing.ends import HARD_ENDS, Joining, is_measured
from webapp.plumbing.look_alikes import look_alike_words
from webapp.plumbing.names import (
    gasket_name,
    o_ring_name,
    slip_clamp_name,
    v_clamp_name,
    washer_name,
)

FitWord = Literal["ok", "tight", "loose", "weld", "no", "not measured"]

_FINE_MM = 1e-6
"""Below what anybody measures: 38.1 - 38 is 0.1 to it."""
_SILICONE_SHARE = 0.03
_OK_SHARE, _OK_MM = 0.05, 1.0
_TIGHT_SHARE, _TIGHT_MM = 0.10, 1.5
_OK_SLACK_MM = 0.3
_LOOSE_MM, _LOOSE_LARGE_MM, _LARGE_FROM_MM = 0.5, 0.8, 40.0
_LOOSE_BELOW_BAR = 0.5
_SLIP_TIGHT_MM, _SLIP_WIDE_MM = 0.3, 1.0
_WELD_MM, _BAND_MM, _NUMBER_MM = 0.5, 0.5, 0.3
_WALLS_MM = ((5.0, 2.0), (13.0, 3.0), (25.0, 4.0))
_THICKEST_WALL_MM = 5.0
_WELDED_PIECES = ("tube", "bend", "step", "inline")
_FAMILIES = ("flare37", "flare45", "cone24", "oring", "quick")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How two ends fit, and what they ask for.

    `clamp_over_mm` is the diameter that a hose clamp has to hold, None where none is needed;
    `seals` are bought by name; `alike` says why ends that do not fit may seem to.
    """

    word: FitWord
    clamp_over_mm: float | None = None
    seals: tuple[str, ...] = ()
    alike: str | None = None

    @property
    def is_joined(self) -> bool:
        """Whether the two go together, loose and tight ones too."""
        return self.word in ("ok", "tight", "loose", "weld")


def fit_of(one: Joining, other: Joining, circuit: Circuit | None) -> Fit:
    """How two neighbouring ends fit, whichever of them comes first."""
    if "open" in (one.end.kind, other.end.kind):
        return Fit(word="ok")
    if not (is_measured(one.end) and is_measured(other.end)):
        return Fit(word="not measured")
    for here, there in ((one, other), (other, one)):
        fit = _fit(here, there, circuit)
        if fit is not None:
            if fit.word != "no":
                return fit
            break
    return Fit(word="no", alike=look_alike_words(one.end, other.end))


def _fit(one: Joining, other: Joining, circuit: Circuit | None) -> Fit | None:
    """By the table, read one way round; None where it has no line for the two."""
    kind, facing = one.end.kind, other.end.kind
    if kind == "hose" and facing in HARD_ENDS:
        return _hose_fit(one, other, circuit)
    if kind == "socket" and facing == "spigot":
        slack = _mm(one.end) - _mm(other.end)
        if _at_least(slack, -_SLIP_TIGHT_MM) and _at_most(slack, _SLIP_WIDE_MM):
            return Fit(word="ok", seals=(slip_clamp_name(one.end),))
        return Fit(word="no")
    if kind == "weld" and facing in ("weld", "spigot"):
        return _weld_fit(one, other)
    if kind == facing == "spigot" and _are_welded(one, other):
        return _weld_fit(one, other)
    if kind == facing == "flange":
        is_same = _same_name(one.end, other.end)
        return Fit(word="ok", seals=(gasket_name(one.end),)) if is_same else Fit(word="no")
    if kind == facing == "vband":
        is_same = _within(one.end, other.end, _BAND_MM)
        return Fit(word="ok", seals=(v_clamp_name(one.end),)) if is_same else Fit(word="no")
    if kind == "female" and facing in ("banjo", "male"):
        return _thread_fit(one.end, other.end)
    return _coupling_fit(one.end, other.end)


def _weld_fit(one: Joining, other: Joining) -> Fit:
    return Fit(word="weld" if _within(one.end, other.end, _WELD_MM) else "no")


def _are_welded(one: Joining, other: Joining) -> bool:
    return one.piece in _WELDED_PIECES and other.piece in _WELDED_PIECES


def _thread_fit(female: End, facing: End) -> Fit:
    if female.size != facing.size:
        return Fit(word="no")
    washer = washer_name(female)
    if facing.kind == "banjo":
        return Fit(word="ok", seals=(washer, washer))
    thread = thread_of(female.size)
    seals = thread is not None and thread.system in ("M", "G")
    return Fit(word="ok", seals=(washer,) if seals else ())


def _coupling_fit(one: End, other: End) -> Fit | None:
    family = one.kind.rpartition("_")[0]
    if family not in _FAMILIES or {one.kind, other.kind} != {f"{family}_male", f"{family}_female"}:
        return None
    if not (_within(one, other, _NUMBER_MM) or _same_name(one, other)):
        return Fit(word="no")
    return Fit(word="ok", seals=(o_ring_name(one),) if family == "oring" else ())


# --- hoses -----------------------------------------------------------------------------------


def _hose_fit(hose: Joining, hard: Joining, circuit: Circuit | None) -> Fit:
    bore, over = _mm(hose.end), _mm(hard.end)
    word = _stretch_word(bore, over, is_silicone="silicone" in hose.of.lower(), circuit=circuit)
    if word == "no" or hard.end.kind == "nipple":
        return Fit(word=word)
    wall = hose.wall_mm if hose.wall_mm is not None else usual_wall_mm(bore)
    return Fit(word=word, clamp_over_mm=clamp_diameter_mm(bore, wall, over))


def _stretch_word(
    bore_mm: float, over_mm: float, *, is_silicone: bool, circuit: Circuit | None
) -> FitWord:
    wider = over_mm - bore_mm
    if wider >= 0:
        if is_silicone:
            return "ok" if _at_most(wider, _SILICONE_SHARE * bore_mm) else "no"
        if _at_most(wider, max(_OK_SHARE * bore_mm, _OK_MM)):
            return "ok"
        return "tight" if _at_most(wider, max(_TIGHT_SHARE * bore_mm, _TIGHT_MM)) else "no"
    if _at_least(wider, -_OK_SLACK_MM):
        return "ok"
    slack = _LOOSE_MM if over_mm < _LARGE_FROM_MM else _LOOSE_LARGE_MM
    return "loose" if _at_least(wider, -slack) and _may_be_loose(circuit) else "no"


def _may_be_loose(circuit: Circuit | None) -> bool:
    """Water, or air of less than half a bar, alone: elsewhere a clamp can not make up for it."""
    if circuit is None:
        return False
    if circuit.medium == "air":
        return (circuit.bar or 0.0) < _LOOSE_BELOW_BAR
    return circuit.medium == "water"


def usual_wall_mm(bore_mm: float) -> float:
    """The wall a hose of this bore usually has: common practice, no source."""
    return next((wall for below, wall in _WALLS_MM if bore_mm < below), _THICKEST_WALL_MM)


def clamp_diameter_mm(bore_mm: float, wall_mm: float, over_mm: float) -> float:
    """The outside of a hose that is pushed over something: its ring of rubber keeps its area."""
    outside = bore_mm + 2 * wall_mm
    return math.sqrt(over_mm**2 + outside**2 - bore_mm**2)


# --- comparing -------------------------------------------------------------------------------


def _mm(end: End) -> float:
    """A size that is measured; kinds by mm carry no names (a fault of the build else)."""
    return end.size if isinstance(end.size, int | float) else math.nan


def _at_most(value: float, most: float) -> bool:
    return value <= most + _FINE_MM


def _at_least(value: float, least: float) -> bool:
    return value >= least - _FINE_MM


def _within(one: End, other: End, most_mm: float) -> bool:
    return _at_most(abs(_mm(one) - _mm(other)), most_mm)


def _same_name(one: End, other: End) -> bool:
    return (isinstance(one.size, str) and one.size == other.size) or (
        isinstance(one.size, int | float) and one.size == other.size
    )
