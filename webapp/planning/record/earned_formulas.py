"""Earned value and earned schedule: the formulas, over plain numbers and weekly series.

The names are the standard ones (earned value management; earned schedule after Lipke 2003, in the
notation of Vanhoucke). A formula that has no answer gives None: nothing spent, nothing planned
yet, nothing left.
"""

from collections.abc import Sequence
from itertools import pairwise

STANDING_STILL = 1e-6
"""Hours of value that are no difference: sums of the same shares in another order."""


def cost_variance(ev: float, ac: float) -> float:
    """CV = EV - AC."""
    return ev - ac


def schedule_variance(ev: float, pv: float) -> float:
    """SV = EV - PV."""
    return ev - pv


def cost_index(ev: float, ac: float) -> float | None:
    """CPI = EV / AC; None while nothing is spent."""
    return _over(ev, ac)


def schedule_index(ev: float, pv: float) -> float | None:
    """SPI = EV / PV; None while nothing was planned."""
    return _over(ev, pv)


def estimate_by_cost_index(bac: float, ev: float, ac: float) -> float | None:
    """EAC = BAC / CPI, where the work goes on as it went; None while nothing is earned."""
    cpi = cost_index(ev, ac)
    return None if cpi is None else _over(bac, cpi)


def estimate_bottom_up(ac: float, etc: float) -> float:
    """EAC = AC + ETC, with the work left estimated anew from the bottom up."""
    return ac + etc


def estimate_atypical(bac: float, ev: float, ac: float) -> float:
    """EAC = AC + BAC - EV, where what went wrong does not come again."""
    return ac + bac - ev


def estimate_by_both_indices(bac: float, pv: float, ev: float, ac: float) -> float | None:
    """EAC = AC + (BAC - EV) / (CPI x SPI); None while an index is missing or zero."""
    cpi, spi = cost_index(ev, ac), schedule_index(ev, pv)
    if cpi is None or spi is None:
        return None
    left = _over(bac - ev, cpi * spi)
    return None if left is None else ac + left


def estimate_to_complete(eac: float | None, ac: float) -> float | None:
    """ETC = EAC - AC."""
    return None if eac is None else eac - ac


def variance_at_completion(bac: float, eac: float | None) -> float | None:
    """VAC = BAC - EAC."""
    return None if eac is None else bac - eac


def to_complete_index(bac: float, ev: float, ac: float) -> float | None:
    """TCPI = (BAC - EV) / (BAC - AC); None when nothing is left to do or to spend."""
    if bac - ev <= 0 or bac - ac <= 0:
        return None
    return (bac - ev) / (bac - ac)


def earned_schedule(
    times: Sequence[float], pv: Sequence[float], ev: float, at: float
) -> float | None:
    """ES: the time nearest to `at` by which EV was planned.

    `pv` is what was planned by each of the ascending `times`, straight in between: at the ends of
    periods 0, 1, 2, ... this is ES = C + (EV - PV_C) / (PV_{C+1} - PV_C). Where the plan stands
    still at EV, for a wait or while a setup is got out, it is met as long as that lasts. What is
    planned in full is reached at the planned duration. None where nothing is planned.
    """
    whole = planned_duration(times, pv)
    if whole is None:
        return None
    if ev >= pv[-1]:
        return whole
    stretches = [
        stretch for stretch in pairwise(zip(times, pv, strict=True)) if stretch[0][0] < whole
    ]
    met = [time for stretch in stretches for time in _met_within(*stretch, ev, at)]
    return min(met, key=lambda time: abs(time - at), default=times[0])


def _met_within(
    begin: tuple[float, float], end: tuple[float, float], ev: float, at: float
) -> tuple[float, ...]:
    """When a straight stretch of the plan is at EV: at most one time, the nearest to `at`."""
    (from_time, from_value), (to_time, to_value) = begin, end
    if abs(to_value - from_value) <= STANDING_STILL and abs(ev - from_value) <= STANDING_STILL:
        return (min(max(at, from_time), to_time),)
    if from_value == to_value or not min(from_value, to_value) <= ev <= max(from_value, to_value):
        return ()
    return (from_time + (ev - from_value) / (to_value - from_value) * (to_time - from_time),)


def planned_duration(times: Sequence[float], pv: Sequence[float]) -> float | None:
    """PD: the first time by which everything is planned; None where nothing is."""
    if not pv or pv[-1] <= 0:
        return None
    return next(
        time for time, value in zip(times, pv, strict=True) if value >= pv[-1] - STANDING_STILL
    )


def time_variance(es: float | None, at: float) -> float | None:
    """SV(t) = ES - AT; AT is the time gone by."""
    return None if es is None else es - at


def time_index(es: float | None, at: float) -> float | None:
    """SPI(t) = ES / AT; None at the very start."""
    return None if es is None else _over(es, at)


def estimate_of_duration(pd: float | None, spi_t: float | None) -> float | None:
    """IEAC(t) = PD / SPI(t); None while nothing is earned."""
    return None if pd is None or spi_t is None else _over(pd, spi_t)


def _over(above: float, below: float) -> float | None:
    return above / below if below > 0 else None
