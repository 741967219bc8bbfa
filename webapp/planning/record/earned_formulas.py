"""Earned value and earned schedule: the formulas, over plain numbers and weekly series.

The names are the standard ones (earned value management; earned schedule after Lipke 2003, in the
notation of Vanhoucke). A formula that has no answer gives None: nothing spent, nothing planned
yet, nothing left.
"""

from collections.abc import Sequence


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


def earned_schedule(pv: Sequence[float], ev: float) -> float | None:
    """ES = C + (EV - PV_C) / (PV_{C+1} - PV_C): the time by which EV was planned, in periods.

    `pv` is cumulative, its first value that of the end of period 1; PV_0 = 0. C is the last
    period whose PV is reached; what is planned in full is reached at the first period with all
    of it. None where nothing is planned.
    """
    if not pv or pv[-1] <= 0:
        return None
    periods = planned_periods(pv)
    if ev >= pv[-1]:
        return float(periods)
    curve = [0.0, *pv[:periods]]
    c = max(i for i, value in enumerate(curve) if value <= max(0.0, ev))
    return c + (max(0.0, ev) - curve[c]) / (curve[c + 1] - curve[c])


def planned_periods(pv: Sequence[float]) -> int:
    """PD, the planned duration: the first period by whose end everything is planned."""
    return next(i for i, value in enumerate(pv, start=1) if value >= pv[-1])


def time_variance(es: float | None, at: float) -> float | None:
    """SV(t) = ES - AT, in periods; AT is the time gone by."""
    return None if es is None else es - at


def time_index(es: float | None, at: float) -> float | None:
    """SPI(t) = ES / AT; None at the very start."""
    return None if es is None else _over(es, at)


def estimate_of_duration(pd: float, spi_t: float | None) -> float | None:
    """IEAC(t) = PD / SPI(t), in periods; None while nothing is earned."""
    return None if spi_t is None else _over(pd, spi_t)


def _over(above: float, below: float) -> float | None:
    return above / below if below > 0 else None
