"""One build at one moment, and what a page works out of it itself, each thing once."""

import datetime as dt
import threading
from collections.abc import Callable, Hashable
from dataclasses import replace
from functools import cached_property
from typing import Any

from webapp.build.bench_clock import with_clock_counted
from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.checks.input_checks import faults_of
from webapp.build.circuit_dependencies import as_planned
from webapp.build.for_planning import for_planning
from webapp.build.shop import GivenAway
from webapp.build.time.given_away import with_own_hours
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.likely_day import at_pace
from webapp.planning.chances.pace import PLAIN
from webapp.planning.order.claims import Claim
from webapp.planning.order.departures import Departure
from webapp.planning.order.kept_order import plan_that_holds
from webapp.planning.order.known_date import what_is_missing, with_known_date
from webapp.planning.order.plan import Plan
from webapp.planning.record.as_lived import AsLived
from webapp.planning.simulator.house_rules import HouseRules
from webapp.plumbing.plumbed import Plumbed, plumbed
from webapp.services.background import Background
from webapp.services.draws_at_hand import DrawsAtHand, State
from webapp.services.forecast_figures import record_factors
from webapp.services.kept import Kept

DRAWN_KEPT = 4
CIRCUITS_KEPT = 40
PAST_KEPT = 8
CLAIMS_KEPT = 4
ARRIVALS_KEPT = 2
DEPARTURES_KEPT = 3
PACES_KEPT = 200
Check = Callable[[BuildInput], tuple[Fault, ...]]
"""Finds all faults of a build."""
Paces = Kept[Hashable, float]
"""By build the last factor of its pace: it stays while its day is still right.

And by build and version that of each: what a date was before a change is asked after it.
"""


class PlannedState:
    """One build at one moment, with what is worked out of it at once.

    `build` is as stored, with the sessions that belong to other builds; `linked` has its own hours
    alone, and what its circuits ask of the order of work as dependencies: every question about
    that order is put to it. What is worked out counts the running clock as hours worked. `drawn`
    keeps pictures of it that take a while, under what they were drawn of, `circuits` those of its
    circuits and what pages say of them, under their addresses, `arrivals` the latest arrival of
    each part under the last factor of the pace it was worked out at, `past` what pages tell of its
    changes, which takes a while and is the same until the next one. `check` finds its faults.
    """

    def __init__(
        self,
        build: BuildInput,
        *,
        revision: int = 0,
        slug: str = "",
        background: Background | None = None,
        paces: Paces | None = None,
        draws: DrawsAtHand | None = None,
        check: Check | None = None,
    ) -> None:
        self.build = build
        self.slug = slug
        self.revision = revision
        self.background = background or Background()
        self._check = check or faults_of
        self.faults = self._check(build)
        self.drawn: Kept[Hashable, Any] = Kept(DRAWN_KEPT)
        self.circuits: Kept[Hashable, Any] = Kept(CIRCUITS_KEPT)
        self.past: Kept[Hashable, Any] = Kept(PAST_KEPT)
        self.arrivals: Kept[float, dict[str, dt.date]] = Kept(ARRIVALS_KEPT)
        self._paces = paces if paces is not None else Paces(PACES_KEPT)
        self.draws = draws or DrawsAtHand()
        self._lock = threading.RLock()
        self._is_new = True
        self._plans: dict[tuple[HouseRules | None, float], Plan] = {}
        self._departures: Kept[Hashable, tuple[Departure, ...]] = Kept(DEPARTURES_KEPT)
        self.linked = build if self.faults else with_own_hours(as_planned(build))
        self._planned_input = self.linked if self.faults else with_clock_counted(self.linked)
        self.later_given: tuple[GivenAway, ...] = ()
        self.claims: Kept[Hashable, tuple[Claim, ...]] = Kept(CLAIMS_KEPT)

    @property
    def planned_input(self) -> BuildInput:
        """The build that is planned from: linked, with the time on the running clock worked."""
        return self._planned_input

    @property
    def whole(self) -> BuildInput:
        """The build with every session that belongs to another: its document is whole in itself."""
        given = (*self.build.shop.given, *self.later_given)
        return replace(self.build, shop=replace(self.build.shop, given=given))

    @property
    def laid_input(self) -> BuildInput:
        """The same with the hours that the plan is laid out in: what is done after first start
        gives way to the builds that have `later_given`."""
        build = self._planned_input
        if not self.later_given and not build.shop.given:
            return build
        given = (*build.shop.given, *self.later_given)
        shop = replace(build.shop, given=given)
        return with_own_hours(replace(build, shop=shop), of_later_work=True)

    def is_new(self) -> bool:
        """Whether it is asked for the first time: the first answer is yes, all later ones no."""
        with self._lock:
            was_new, self._is_new = self._is_new, False
            return was_new

    @cached_property
    def plumbed(self) -> Plumbed | None:
        """What follows from what is plumbed; None while faults of the build stand in the way."""
        return None if self.faults else plumbed(self.build)

    @cached_property
    def as_lived(self) -> AsLived:
        """The facts of the record, asked for any date gone by."""
        return AsLived(self.linked)

    @cached_property
    def version(self) -> int:
        """A number that differs when anything differs that a forecast is made from, but `now`."""
        return version_of(self.build)

    @cached_property
    def factors(self) -> Factors:
        """What the record says of estimates and attendance, as far as it counts in this build."""
        return record_factors(self._planned_input)

    @property
    def state(self) -> State:
        """What first start is drawn of, where no fault stands in the way."""
        return State(version=self.version, build=self._planned_input, factors=self.factors)

    @property
    def factor(self) -> float:
        """The last factor of the pace: of the forecast where it is at hand, else that of before."""
        own = self._paces.get((self.slug, self.version))
        return own or self._paces.get(self.slug) or PLAIN

    @cached_property
    def open_count(self) -> int:
        """How many tasks are open: of many, some figures take longer than a page waits."""
        return sum(task.is_open for task in self.build.tasks)

    @cached_property
    def has_nothing_to_draw(self) -> bool:
        """Whether first start is over or not named, or nothing is entered to draw it from."""
        first = find_by_key(self.build.tasks, self.build.first_start)
        over = first is None or first.finished_on is not None
        return over or what_is_missing(self.linked) is not None

    def has_no_date(self) -> bool:
        """Whether the plan of a faultless build has no first start."""
        plan = self.plan()
        return plan is None or plan.first_start_at is None

    def plan(self, rules: HouseRules | None = None, *, factor: float | None = None) -> Plan | None:
        """The job order at the person's own pace, or None while faults stand in the way.

        It follows the kept order where there is one, unless `rules` are asked for; with `factor`
        at another pace.
        """
        if self.faults:
            return None
        if rules is None and not self.build.kept_order:
            rules = HouseRules(order=self.build.house_rules)
        with self._lock:
            asked = rules, self.factor if factor is None else factor
            if asked not in self._plans:
                self._plans[asked] = plan_at_pace(self.laid_input, self.factors, asked[1], rules)
            return self._plans[asked]


def plan_at_pace(
    build: BuildInput, factors: Factors, factor: float, rules: HouseRules | None
) -> Plan:
    """The plan of a faultless build at a pace: by the rules, else by the order that holds."""
    work = at_pace(build, factors, factor)
    return with_known_date(build, plan_that_holds(build, rules=rules, work=work))


def version_of(build: BuildInput) -> int:
    """A number that differs when anything differs that a forecast is made from, but `now`."""
    return hash(replace(for_planning(build), name="", vehicle="", wishes=()))
