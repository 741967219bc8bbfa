"""The figures of earned value and earned schedule by their standard names."""

from dataclasses import dataclass
from typing import Literal

from webapp.planning.record import earned_formulas as formulas
from webapp.planning.record.planned_value import PlannedValue

Unit = Literal["hours", "weeks", "ratio"]
UNITS: dict[str, Unit] = {
    "PV": "hours",
    "EV": "hours",
    "AC": "hours",
    "BAC": "hours",
    "CV": "hours",
    "SV": "hours",
    "CPI": "ratio",
    "SPI": "ratio",
    "EAC": "hours",
    "EAC (bottom-up)": "hours",
    "EAC (atypical)": "hours",
    "EAC (CPI x SPI)": "hours",
    "ETC": "hours",
    "VAC": "hours",
    "VAC (bottom-up)": "hours",
    "TCPI": "ratio",
    "AT": "weeks",
    "ES": "weeks",
    "SV(t)": "weeks",
    "SPI(t)": "ratio",
    "PD": "weeks",
    "IEAC(t)": "weeks",
}
"""What each figure is counted in, by its standard name, in the order they are told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EarnedFigure:
    """One figure by its standard name; None: no answer yet."""

    name: str
    unit: Unit
    value: float | None


def figures_of(
    *,
    plan: PlannedValue,
    pv: float,
    ev: float,
    ac: float,
    etc: float,
    hours_gone: float,
    week_hours: float,
) -> tuple[EarnedFigure, ...]:
    """Every figure.

    Those in time are worked out in promised shop hours, and told in weeks of `week_hours`; where
    the shop week has none they are None.
    """
    bac = plan.value[-1]
    eac = formulas.estimate_by_cost_index(bac, ev, ac)
    bottom_up = formulas.estimate_bottom_up(ac, etc)
    es = formulas.earned_schedule(plan.hours, plan.value, ev, hours_gone)
    if es is not None:
        # A plan that was laid down early may begin before the build does.
        es = max(0.0, es)
    spi_t = formulas.time_index(es, hours_gone)
    pd = formulas.planned_duration(plan.hours, plan.value)

    def in_weeks(hours: float | None) -> float | None:
        return hours / week_hours if hours is not None and week_hours > 0 else None

    values: dict[str, float | None] = {
        "PV": pv,
        "EV": ev,
        "AC": ac,
        "BAC": bac,
        "CV": formulas.cost_variance(ev, ac),
        "SV": formulas.schedule_variance(ev, pv),
        "CPI": formulas.cost_index(ev, ac),
        "SPI": formulas.schedule_index(ev, pv),
        "EAC": eac,
        "EAC (bottom-up)": bottom_up,
        "EAC (atypical)": formulas.estimate_atypical(bac, ev, ac),
        "EAC (CPI x SPI)": formulas.estimate_by_both_indices(bac, pv, ev, ac),
        "ETC": formulas.estimate_to_complete(eac, ac),
        "VAC": formulas.variance_at_completion(bac, eac),
        "VAC (bottom-up)": formulas.variance_at_completion(bac, bottom_up),
        "TCPI": formulas.to_complete_index(bac, ev, ac),
        "AT": in_weeks(hours_gone),
        "ES": in_weeks(es),
        "SV(t)": in_weeks(formulas.time_variance(es, hours_gone)),
        "SPI(t)": spi_t,
        "PD": in_weeks(pd),
        "IEAC(t)": in_weeks(formulas.estimate_of_duration(pd, spi_t)),
    }
    return tuple(
        EarnedFigure(name=name, unit=unit, value=values[name]) for name, unit in UNITS.items()
    )
