"""Planned value over promised shop hours: how much a baseline wanted done by when.

One clock for all of it: the hours that the baseline's shop week promised since the build began,
its day exceptions applied. Between its corners the curve runs straight in those hours.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from webapp.build.build_input import BuildInput
from webapp.build.moments import moment_at_start
from webapp.build.time.shop_calendar import calendar_of, last_closing
from webapp.planning.order.plan import Plan

Floats = NDArray[np.float64]
Steps = list[tuple[dt.date, float]]


class PromisedHours:
    """Hours that a baseline's shop promised since the day a build began."""

    def __init__(self, baseline: BuildInput, began: dt.date, until: dt.datetime) -> None:
        first = moment_at_start(began)
        origin = min(first, baseline.now)
        self._shop = baseline.shop
        self._calendar = calendar_of(baseline, shop_hours=0, until=until, since=origin)
        self._before = 0.0
        self._before = self.by(first)

    def by(self, moment: dt.datetime) -> float:
        """Hours gone by at a moment; negative before the build began.

        A moment past the last closing has seen all shop hours.
        """
        closes = self._calendar.closes
        wall = self._calendar.wall_of(moment)
        last = int(closes[-1]) if len(closes) else 0
        return float(self._calendar.shop_of(min(max(wall, 0), last))) / 3600 - self._before

    def by_day(self, day: dt.date) -> float:
        """Hours gone by at the last closing of a date."""
        return self.by(last_closing(self._shop, day))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlannedValue:
    """The curve: `hours` of the shop in ascending order, and the `value` planned by each."""

    hours: tuple[float, ...]
    value: tuple[float, ...]

    def at(self, hours: list[float]) -> list[float]:
        """PV at some promised hours."""
        return [float(value) for value in np.interp(hours, self.hours, self.value)]


def planned_value(
    baseline: BuildInput,
    plan: Plan,
    worth: Mapping[str, float],
    shares: Mapping[str, Steps],
    promised: PromisedHours,
) -> PlannedValue:
    """PV of a baseline: done before it was laid down, and planned by it since.

    `worth` is the hours each task is worth, `shares` what was done of it by the end of some
    dates. What a planned task is still worth runs up evenly over its hands-on shop hours.
    """
    laid_down = promised.by(baseline.now)
    rises = [
        (min(promised.by_day(day), laid_down), rise) for day, rise in value_steps(worth, shares)
    ]
    stretches = []
    for task in plan.tasks:
        if task.key in worth:
            begins = laid_down + task.begin_shop_hours + task.setup_hours
            ends = max(laid_down + task.end_shop_hours, begins + 1e-9)
            steps = shares.get(task.key)
            to_come = worth[task.key] * (1 - (steps[-1][1] if steps else 0.0))
            stretches.append((begins, ends, to_come))
    corners = {0.0, laid_down, *(hour for hour, _ in rises)}
    corners |= {hour for begins, ends, _ in stretches for hour in (begins, ends)}
    hours = np.array(sorted(corners))
    value = _done_by(rises, hours)
    for begins, ends, to_come in stretches:
        value += to_come * np.clip((hours - begins) / (ends - begins), 0, 1)
    return PlannedValue(hours=tuple(hours.tolist()), value=tuple(value.tolist()))


def value_steps(worth: Mapping[str, float], shares: Mapping[str, Steps]) -> Steps:
    """By how many hours of worth the value rises, or falls, on each date."""
    rises: Steps = []
    for key, steps in shares.items():
        done = 0.0
        for day, share in steps if key in worth else ():
            rises.append((day, worth[key] * (share - done)))
            done = share
    return rises


def _done_by(rises: list[tuple[float, float]], hours: Floats) -> Floats:
    """The sum of the rises up to and with each of the hours."""
    at = np.array([hour for hour, _ in rises])
    order = np.argsort(at, kind="stable")
    sums = np.concatenate([[0.0], np.cumsum([rises[i][1] for i in order])])
    return np.array(sums[np.searchsorted(at[order], hours, side="right")], np.float64)
