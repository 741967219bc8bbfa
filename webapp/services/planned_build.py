"""One build at one moment, and what is worked out from it, each thing once."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from webapp.build.build_input import BuildInput
from webapp.build.earlier_record import EarlierRecord
from webapp.build.for_planning import are_planned_alike, for_planning
from webapp.planning.chances.criticality import criticality_of
from webapp.planning.chances.forecast import Forecast
from webapp.planning.chances.likely_day import at_pace
from webapp.planning.chances.luck import DRAWS
from webapp.planning.chances.move_costs import FIRST_DRAWS, move_from, task_costs
from webapp.planning.chances.moves import Move
from webapp.planning.chances.rule_prices import NO_PRICES, RulePrices, Rules, rule_prices
from webapp.planning.order.departures import Departure, departures_of
from webapp.planning.order.first_start import first_start_at
from webapp.planning.order.plan import Plan
from webapp.planning.simulator.house_rules import HouseRules
from webapp.planning.tighten.searched_again import SearchedAgain, searched_again
from webapp.services.background import AT_LEISURE, FRESH_FOR, PRESSING, USUAL, Answer
from webapp.services.forecast_figures import ForecastFigures, forecast_figures, likely_by_record
from webapp.services.levers_found import Levers, levers_found
from webapp.services.planned_state import PlannedState
from webapp.services.tried_rules import TriedRules, tried_rules

T = TypeVar("T")
FORECAST_FIRST = 100
"""Up to so many open tasks the forecast comes before the plan whose pace it tells: that of more
takes longer than a page waits, and would only be worked out beside the plan."""
PRICED_IN_TIME = 800_000_000
"""Tasks priced times the square of all tasks that the background takes on in one go."""
DEPARTURES_AT_ONCE = 500
"""Of so many open tasks a page works out at once where the plan departs from working order."""
MEASURED_FOR = dt.timedelta(hours=20)
"""So long what searching again would win stands where nothing else has changed: from one evening
into the next day."""


class PlannedBuild(PlannedState):
    """One build at one moment with everything worked out from it, each thing once.

    What takes longer than a page may is worked out in the background: it is asked, and a later
    page has the answer.
    """

    def forecast(self, *, wait_seconds: float = 0.0) -> Answer[ForecastFigures | None]:
        """The forecast if it is at hand, else it is begun; None where there is no date."""
        if self.faults or self.has_nothing_to_draw:
            return Answer(ready=True, value=None)
        if self.open_count > FORECAST_FIRST and self.has_no_date():
            return Answer(ready=True, value=None)
        answer = self.background.wait(
            (self.slug, "forecast"),
            self.version,
            lambda: forecast_figures(
                self._planned_input,
                factors=self.factors,
                last=self.factor,
                luck=self.draws.luck(DRAWS),
            ),
            now=self.build.now,
            seconds=wait_seconds,
        )
        if answer.value is not None:
            self._paces.keep(self.slug, answer.value.factor)
            self._paces.keep((self.slug, self.version), answer.value.factor)
            self.draws.keep(self.version, answer.value.forecast)
        # Of few only now: it takes a plan, which the forecast has just told the pace of.
        return Answer(ready=True, value=None) if self.has_no_date() else answer

    @property
    def forecast_at_hand(self) -> Forecast | None:
        """The forecast as of this very moment where it is at hand."""
        figures = self.forecast().value
        if figures is None or figures.forecast.calendar.now != self.build.now:
            return None
        return figures.forecast

    def first_start_as_promised(self) -> Answer[dt.datetime | None]:
        """First start if every promised hour is worked and every estimate holds."""
        if self.faults or self.has_no_date():
            return Answer(ready=True, value=None)
        build = self._planned_input
        return self._asked("as promised", lambda: first_start_at(build), rank=PRESSING)

    def departures(self, tried: Rules | None = None) -> Answer[tuple[Departure, ...]]:
        """Where the plan departs from the working order of the subsystems, and why.

        At once, but of very many tasks in the background. `tried` are other house rules.
        """
        if self.faults:
            return Answer(ready=True, value=())
        build, factor = self.laid_input, self.factor
        if tried is not None and (answer := self.tried_rules(tried).value) is not None:
            factor = answer.factor
        rules = None if tried is None else HouseRules(order=tried)

        def found() -> tuple[Departure, ...]:
            return departures_of(build, at_pace(build, self.factors, factor), rules=rules)

        asked = rules, factor
        if self.open_count <= DEPARTURES_AT_ONCE:
            value = self._departures.get_or_keep(asked, found)
            return Answer(ready=True, value=value)
        return self.background.ask(
            (self.slug, "departures"), (self.version, asked), found, now=build.now
        )

    def at_revision(self, revision: int, build: BuildInput) -> "PlannedBuild | None":
        """The same with a later change in which nothing differs that a plan hangs on.

        Whatever is worked out already is at hand there too, so it counts from the same moment.
        None where the plan may differ.
        """
        if not are_planned_alike(self.build, build):
            return None
        later = self._beside(replace(build, now=self.build.now), revision)
        later.drawn, later.arrivals = self.drawn, self.arrivals
        with self._lock:
            later._plans = dict(self._plans)
        return later

    def as_it_was(
        self, before: BuildInput, at_hand: "PlannedBuild | None" = None
    ) -> "PlannedBuild":
        """An earlier state of the same build as of now, at the pace at which it was shown.

        In the same sessions: what belongs to other builds does so now as well. It is the one that
        is `at_hand` where that was planned at the same moment.
        """
        shop = replace(before.shop, given=self.build.shop.given)
        state = replace(before, now=self.build.now, shop=shop)
        if at_hand is not None and not at_hand.later_given and at_hand.build == state:
            return at_hand
        return self._beside(state)

    def _beside(self, build: BuildInput, revision: int = 0) -> "PlannedBuild":
        """Another state of the same build, by what is shared between its states."""
        return PlannedBuild(
            build,
            revision=revision,
            slug=self.slug,
            background=self.background,
            paces=self._paces,
            draws=self.draws,
            check=self._check,
        )

    def _asked(
        self,
        what: str,
        work: Callable[[], T],
        *,
        rank: int = USUAL,
        lasts: dt.timedelta = FRESH_FOR,
    ) -> Answer[T]:
        """Ask the background for something of which there is one for all that a plan hangs on."""
        key, now = (self.slug, what), self._planned_input.now
        return self.background.ask(key, self.version, work, now=now, rank=rank, lasts=lasts)

    def criticality(self) -> Answer[dict[str, float]]:
        """By key of each open task the share of the draws in which it is on the path."""
        if self.faults or self.has_no_date():
            return Answer(ready=True, value={})
        build, factors, luck = self._planned_input, self.factors, self.draws.luck(DRAWS)
        return self._asked("criticality", lambda: criticality_of(build, luck, factors=factors))

    def task_costs(self) -> Answer[dict[str, Move]]:
        """By key of each open task the move that it costs: with few draws first, then refined."""
        if self.faults or self.has_no_date():
            return Answer(ready=True, value={})
        build = self._planned_input
        at_most = PRICED_IN_TIME // max(1, self.open_count) ** 2
        answers = [
            self.background.ask(
                (self.slug, "costs", draws),
                self.version,
                lambda draws=draws: task_costs(  # type: ignore[misc]
                    build, self.factors, draws=draws, at_most=at_most
                ),
                now=build.now,
            )
            for draws in (FIRST_DRAWS, DRAWS)
        ]
        first, refined = answers
        return refined if refined.value is not None else first

    def move_of_kept_order(self) -> Answer[Move | None]:
        """By how much the kept order moves first start from where the house rules bring it."""
        build, factors = self._planned_input, self.factors
        if self.faults or not build.kept_order or self.has_no_date():
            return Answer(ready=True, value=None)
        return self._asked(
            "kept order", lambda: move_from(replace(build, kept_order=()), factors, build, factors)
        )

    def searched_again(self) -> Answer[SearchedAgain | None]:
        """What another order would win against the kept one, measured once nothing else waits."""
        build, factors = self._planned_input, self.factors
        if self.faults or not build.kept_order or self.has_no_date():
            return Answer(ready=True, value=None)
        return self._asked(
            "searched again",
            lambda: searched_again(build, factors),
            rank=AT_LEISURE,
            lasts=MEASURED_FOR,
        )

    def levers(self) -> Answer[Levers]:
        """What would win a week, and what it takes to be firm by the wanted-by date."""
        if self.faults or self.has_no_date():
            return Answer(ready=True, value=Levers(levers=(), firm_by=None))
        build, factors = self._planned_input, self.factors
        return self._asked("levers", lambda: levers_found(build, factors))

    def rule_prices(self) -> Answer[RulePrices]:
        """What each house rule saves or costs, and the soonest order of them."""
        if self.faults or self.has_no_date():
            return Answer(ready=True, value=NO_PRICES)
        build = self._planned_input
        return self._asked("rules", lambda: rule_prices(build, self.factors))

    def tried_rules(self, rules: Rules) -> Answer[TriedRules | None]:
        """What other house rules do to first start, and the pace at which their plan says so."""
        if self.faults or self.has_no_date():
            return Answer(ready=True, value=None)
        build = self._planned_input
        return self.background.ask(
            (self.slug, "rules tried"),
            (self.version, rules),
            lambda: tried_rules(build, self.factors, rules, last=self.factor),
            now=build.now,
        )

    def first_start_with(self, records: tuple[EarlierRecord, ...]) -> Answer[dt.datetime | None]:
        """The date that is shown once other records of earlier builds count."""
        if self.faults or self.has_no_date():
            return Answer(ready=True, value=None)
        build = replace(self._planned_input, earlier_records=records)
        asked = for_planning(build).earlier_records
        return self.background.ask(
            (self.slug, "with records", asked),
            (self.version, asked),
            lambda: likely_by_record(build, last=self.factor),
            now=build.now,
        )

    def plan_by_rules(self, rules: Rules) -> Plan | None:
        """The job order by other house rules; at its own pace once that is worked out."""
        tried = self.tried_rules(rules).value
        factor = self.factor if tried is None else tried.factor
        return self.plan(HouseRules(order=rules), factor=factor)
