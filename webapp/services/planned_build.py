"""One build at one moment, and what is worked out from it, each thing once."""

import threading
from collections.abc import Callable, Hashable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.input_checks import faults_of
from webapp.build.hours_to_go import hours_left_after, hours_to_go_of
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.forecast import Forecast, always, forecast_of
from webapp.planning.chances.headroom import headroom_hours
from webapp.planning.order.job_order import days_cost, make_plan, rule_prices
from webapp.planning.order.kept_order import days_cost_kept, plan_that_holds
from webapp.planning.order.plan import Plan, RulePrice
from webapp.planning.record.calibration import factors_of
from webapp.planning.simulator.house_rules import HouseRules
from webapp.services.background import Answer, Background
from webapp.services.kept import Kept


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ForecastFigures:
    """A forecast, the factors it was drawn with, and the headroom (None: no date is wanted)."""

    forecast: Forecast
    factors: Factors
    headroom_hours: float | None


DRAWN_KEPT = 4
PRICED_IN_TIME = 800_000_000
"""Tasks priced times the square of all tasks that a page waits for: of 1,000 tasks 800 are priced,
of 2,000 tasks 200, each in half to three quarters of a second."""


class PlannedBuild:
    """One build at one moment with everything worked out from it, each thing once.

    `build` is as stored; what is worked out counts the running clock as hours worked. `drawn`
    keeps pictures of it that take a while, under what they were drawn of.
    """

    def __init__(
        self,
        build: BuildInput,
        *,
        revision: int = 0,
        slug: str = "",
        background: Background | None = None,
    ) -> None:
        self.build = build
        self.slug = slug
        self.revision = revision
        self.background = background or Background()
        self.faults: tuple[Fault, ...] = faults_of(build)
        self.drawn: Kept[Hashable, Any] = Kept(DRAWN_KEPT)
        self._lock = threading.RLock()
        self._plans: dict[HouseRules | None, Plan] = {}
        self._days_cost: dict[str, float] | None = None
        self._rule_prices: tuple[RulePrice, ...] | None = None
        self._planned_input = with_clock_counted(build) if not self.faults else build

    @property
    def planned_input(self) -> BuildInput:
        """The build that is planned from: the time on the running clock counted as worked."""
        return self._planned_input

    @cached_property
    def version(self) -> int:
        """A number that differs when anything differs that a forecast is made from, but `now`."""
        moment = self.build.now
        timeless = replace(self.build, now=moment.min, name="", vehicle="", wishes=())
        return hash(timeless)

    def forecast(self) -> Answer[ForecastFigures | None]:
        """The forecast if it is at hand, else it is begun; None where there is no date."""
        plan = self.plan()
        if plan is None or plan.first_start_at is None:
            return Answer(ready=True, value=None)
        return self.background.ask(
            (self.slug, "forecast"),
            self.version,
            lambda: forecast_figures(self._planned_input, is_wanted=self.background.is_wanted),
            now=self.build.now,
            pressing=True,
        )

    def plan(self, rules: HouseRules | None = None) -> Plan | None:
        """The job order, or None while faults stand in the way.

        It follows the kept order where there is one, unless `rules` are asked for.
        """
        if self.faults:
            return None
        if rules is None and not self.build.kept_order:
            rules = HouseRules()
        with self._lock:
            if rules not in self._plans:
                build = self._planned_input
                plan = plan_that_holds(build) if rules is None else make_plan(build, rules)
                self._plans[rules] = plan
            return self._plans[rules]

    def days_cost(self) -> dict[str, float]:
        """Open task key -> days by which first start would come earlier without it."""
        if self.faults:
            return {}
        with self._lock:
            if self._days_cost is None:
                self._days_cost = _days_cost(self._planned_input)
            return self._days_cost

    def rule_prices(self) -> tuple[RulePrice, ...]:
        """What each house rule saves or costs."""
        if self.faults:
            return ()
        with self._lock:
            if self._rule_prices is None:
                self._rule_prices = rule_prices(self._planned_input)
            return self._rule_prices


def _days_cost(build: BuildInput) -> dict[str, float]:
    """What a page can price in time; a kept order takes two runs."""
    count = max(1, sum(task.is_open for task in build.tasks))
    at_most = PRICED_IN_TIME // count**2
    if build.kept_order:
        return days_cost_kept(build, build.kept_order, at_most=at_most // 2)
    return days_cost(build, at_most=at_most)


def forecast_figures(
    build: BuildInput,
    order: tuple[str, ...] | None = None,
    *,
    is_wanted: Callable[[], bool] = always,
) -> ForecastFigures | None:
    """Forecast a faultless build from its record, as far as that counts in it.

    In the kept order, or in `order` where that is asked for; () for the house rules.
    """
    factors = factors_of(build, calibrated=build.calibrated, attended=build.attended)
    forecast = forecast_of(
        build,
        factors=factors,
        order=build.kept_order if order is None else order,
        is_wanted=is_wanted,
    )
    if forecast is None:
        return None
    return ForecastFigures(
        forecast=forecast,
        factors=factors,
        headroom_hours=headroom_hours(build, forecast, factors),
    )


def with_clock_counted(build: BuildInput) -> BuildInput:
    """The build with the time on the running clock taken off its task's hours left.

    Without it first start would slip by the minute while the work goes on.
    """
    clock = build.on_bench
    if clock is None:
        return build
    worked = max(0.0, (build.now - clock.since).total_seconds() / 3600)
    return replace(
        build,
        tasks=tuple(
            replace(
                task,
                hours_left=hours_left_after(hours_to_go_of(build, task), worked),
            )
            if task.key == clock.task and task.is_open and task.begun_on is not None
            else task
            for task in build.tasks
        ),
    )
