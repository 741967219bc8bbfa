"""What would have been: the earlier of two builds, replayed with some of what happened since.

Every replay is a build that is planned anew from the earlier build's `now`, at the earlier pace
and by the earlier ranking, with some *changes* switched on. A change is a fact, and belongs to a
cause:

scope
    ("added", key) a task that is new, which can not start before it was accepted, ("dropped", key)
    one that is gone or set aside, and ("rest", "") everything else about what is to be done:
    dependencies, what tasks and parts are for, which task is first start.
estimates
    ("task", key): off, a task takes the hours that were to go as the earlier build knew; on, the
    hours logged between the two and those still left in the later build. The hours to get a
    setup out are ("setup", key). Setups stay on every task; room for work in one go or with the
    helper is judged by the hours that were known.
shop_time
    ("day", date), a date between the two: off, its sessions as the earlier build promised them;
    on, without what was lost of them and with what was worked beyond them (see `lost_between`).
    ("shop", ""): the week, people and stations from then on, and the day the build starts on,
    are those of the later build.
parts
    ("part", key): off, it comes when the earlier build said; on, when it came, or is now
    promised for, and not before the later `now` where it has not arrived. ("outside", key):
    outside work takes the days it took.

With everything off the replay is the earlier build; with everything on it differs from the later
one, laid out at the same pace, by what was done in another order than planned.
"""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import replace

from webapp.build.build_input import BuildInput, StationNeed, Task
from webapp.build.moments import workable_from
from webapp.build.precedence import loops_of
from webapp.build.shop import DayHours, Shop
from webapp.build.three_point import ThreePoint
from webapp.build.time.session_lengths import longest_session_minutes
from webapp.planning.bridge.accepted import accepted_at
from webapp.planning.bridge.lived import Lived
from webapp.planning.bridge.lost_between import LostBetween
from webapp.planning.bridge.parts_between import PartsBetween
from webapp.planning.bridge.replay_changes import CAUSE_OF_KIND, Change, Changes
from webapp.planning.bridge.scope_between import ScopeBetween
from webapp.planning.bridge.shop_between import ShopBetween
from webapp.planning.bridge.side_by_side import LaidOut, ReplayVariant, begun_by, minutes_of
from webapp.planning.bridge.tasks_between import TasksBetween
from webapp.planning.bridge.work_between import WorkBetween
from webapp.planning.chances.pace import AS_ESTIMATED, Pace, PaceOf
from webapp.planning.network.outside_holds import finished_at
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.simulator.work_arrays import for_first_start_only, lay_out

Minutes = int | None


class Replay:
    """Replays of `earlier` on the way to `later`, which must not have the earlier `now`."""

    def __init__(self, earlier: BuildInput, later: BuildInput, pace: Pace = AS_ESTIMATED) -> None:
        self.earlier, self.later = earlier, later
        of_pace = PaceOf(earlier, pace)
        self.between = WorkBetween(earlier, later, of_pace)
        self._old = {t.key: t for t in earlier.tasks if t.set_aside_on is None or t.finished_on}
        self._new = {t.key: t for t in later.tasks if t.set_aside_on is None or t.finished_on}
        self._accepted = accepted_at(earlier, later)
        self.tasks_between = TasksBetween(
            earlier, later, self.between, of_pace, self._old, self._new
        )
        self._parts_between = PartsBetween(earlier, later, self._old, self._new)
        self._scope_between = ScopeBetween(earlier, later, self._old, self._new)
        known = {subsystem.key for subsystem in earlier.subsystems}
        added = (subsystem for subsystem in later.subsystems if subsystem.key not in known)
        self._subsystems = (*earlier.subsystems, *added)
        self._longest: dict[tuple[bool, bool], float] = {}
        self._shop_between = ShopBetween(earlier, later, self._lived_sessions())
        self.all_changes: Changes = frozenset(self._changes())
        self._laid_out: dict[Changes, LaidOut | None] = {}
        self._known: dict[Changes, Minutes] = {}

    def _lived_sessions(self) -> Mapping[dt.date, tuple[DayHours, ...]]:
        parts = frozenset(self._parts_between.changes())
        lived = Lived(
            self.earlier,
            self.later,
            self.tasks_between,
            tasks=self._new.values(),
            accepted=self._accepted,
            parts=self._parts_between.parts(set(self._new), parts | {("rest", "")}),
        )
        lost = LostBetween(self.earlier, self.later, self.between, lived)
        return {day: lost.sessions(day) for day in self.between.dates}

    # --- running it ---------------------------------------------------------------------------

    def minutes(self, on: Iterable[Change]) -> Minutes:
        """First start of a replay, in minutes from the earlier `now`; None where it has none."""
        changes = frozenset(on) & self.all_changes
        if changes not in self._known:
            self._run_beside(changes)
        return self._known[changes]

    def _run_beside(self, changes: Changes) -> None:
        """Run a replay, and those that differ from it by all hours or all parts alone."""
        hours = frozenset(c for c in self.all_changes if c[0] == "task")
        parts = frozenset(c for c in self.all_changes if c[0] == "part")
        fixed = changes - hours - parts
        beside = [changes]
        for some_hours in (frozenset[Change](), hours):
            for some_parts in (frozenset[Change](), parts):
                beside.append(fixed | some_hours | some_parts)
        together = [on for on in dict.fromkeys(beside) if self._opened(on) == self._opened(changes)]
        laid_out = self.laid_out(changes)
        ends: list[Minutes] = [None] * len(together)
        if laid_out is not None:
            ends = minutes_of(laid_out, [self.variant(on) for on in together])
        self._known |= dict(zip(together, ends, strict=True))
        if self._known[changes] is None:
            # Work that must fit a session may find none in a world that never was.
            self._known[changes] = self._minutes_loosened(changes)

    def _minutes_loosened(self, on: Changes) -> Minutes:
        build = self.build(on)
        if loops_of(build):
            return None
        loose = tuple(replace(t, in_one_go=False, helper=False) for t in build.tasks)
        laid_out = self._lay_out(replace(build, tasks=loose))
        return None if laid_out is None else minutes_of(laid_out, [self.variant(on)])[0]

    def begun_by(self, moment: dt.datetime) -> set[str]:
        """Tasks that first start needs which the replay with every change begins before then."""
        laid_out = self.laid_out(self.all_changes)
        if laid_out is None:
            return set()
        return begun_by(laid_out, self.variant(self.all_changes), moment)

    def variant(self, on: Changes) -> ReplayVariant:
        """The hours and arrivals of a replay."""
        on_hours = {
            key: self.tasks_between.seconds_on(key)
            for kind, key in on
            if kind == "task" and key in self._new
        }
        return ReplayVariant(seconds=on_hours, arrivals=self.arrivals(on))

    def laid_out(self, on: Changes) -> LaidOut | None:
        """A replay laid out, without its hours and arrivals; None without a first start."""
        key = frozenset(c for c in on if c[0] not in ("task", "part")) | self._opened(on)
        if key not in self._laid_out:
            build = self.build(key)
            self._laid_out[key] = None if loops_of(build) else self._lay_out(build)
        return self._laid_out[key]

    def _lay_out(self, build: BuildInput) -> LaidOut | None:
        seconds = {t.key: self.tasks_between.seconds_off(t.key) for t in build.tasks if t.is_open}
        # Hours that only the way has: a task of none would take no hands in any variant.
        most = {key: max(1, seconds[key]) if self._takes_hours(key) else 0 for key in seconds}
        longer = sum(self.tasks_between.seconds_on(key) for key in seconds) / 3600
        work = lay_out(build, spare_hours=max(0.0, longer), work_seconds=most)
        work = for_first_start_only(work)
        if work.first_start < 0:
            return None
        return LaidOut(work=work, ranking=ranking_that_holds(self.earlier, work))

    def _takes_hours(self, key: str) -> bool:
        between = self.tasks_between
        return between.seconds_off(key) > 0 or between.seconds_on(key) > 0

    def _opened(self, on: Changes) -> Changes:
        """Finished work that was opened again: whether it is there is no matter of hours."""
        return frozenset(
            change
            for change in on
            if change[0] == "task"
            and change[1] in self._old
            and self._old[change[1]].finished_on is not None
        )

    def arrivals(self, on: Changes) -> dict[str, int]:
        """For each task that waits for parts, the wall second at which the last one is there."""
        arrivals = self._parts_between.arrivals(on)
        for key, at in self._accepted.items():
            since = round((at - self.earlier.now).total_seconds())
            if since > 0:
                arrivals[key] = max(since, arrivals.get(key, 0))
        return arrivals

    # --- what has changed ---------------------------------------------------------------------

    def _changes(self) -> Iterable[Change]:
        yield from (("added", key) for key in self._new if key not in self._old)
        yield from (("dropped", key) for key in self._old if key not in self._new)
        if self._scope_between.rest_differs():
            yield "rest", ""
        for key in {**self._old, **self._new}:
            if key in self._new and self.tasks_between.estimate_differs(key):
                yield "task", key
            if key in self._new and self.tasks_between.outside_differs(key):
                yield "outside", key
        yield from self._shop_between.changes()
        yield from self._parts_between.changes()

    # --- a replay -----------------------------------------------------------------------------

    def build(self, on: Changes) -> BuildInput:
        """The build of a replay, as of the earlier `now`."""
        scope = [change for change in self.all_changes if CAUSE_OF_KIND[change[0]] == "scope"]
        all_scope = all(change in on for change in scope)
        no_scope = not any(change in on for change in scope)
        nature = self._new if ("rest", "") in on or (all_scope and scope) else self._old
        shop = self._shop_between.shop(on)
        tasks = []
        for key in {**self._old, **self._new}:
            here = ("added", key) in on if key not in self._old else ("dropped", key) not in on
            if here:
                facts = nature.get(key) or self._old.get(key) or self._new[key]
                tasks.append(self._task(facts, on, shop))
        present = {task.key for task in tasks}
        first_start = (self.later if ("rest", "") in on else self.earlier).first_start
        return replace(
            self.earlier,
            first_start=first_start if first_start in present else None,
            starts_on=(self.later if ("shop", "") in on else self.earlier).starts_on,
            shop=shop,
            tasks=tuple(tasks),
            dependencies=self._scope_between.links(present, all_scope=all_scope, no_scope=no_scope),
            subsystems=self._subsystems,
            parts=tuple(self._parts_between.parts(present, on)),
            log=(),
        )

    def _task(self, facts: Task, on: Changes, shop: Shop) -> Task:
        """A task as the replay knows it: facts of either build, progress as of the earlier."""
        key = facts.key
        old, new = self._old.get(key), self._new.get(key)
        work, as_it_went = self.tasks_between, ("task", key) in on
        task = replace(facts, begun_on=None, finished_on=None, set_aside_on=None, hours_left=None)
        if new is not None and old is None and work.done_before(key):
            return replace(task, finished_on=finished_at(self.later, new))
        if old is not None and old.finished_on is not None and not as_it_went:
            return replace(task, finished_on=finished_at(self.earlier, old))
        if task.outside_days is not None:
            took = ("outside", key) in on
            begun = old.begun_on if old is not None and old.outside_days is not None else None
            days = work.days_on(key) if took else work.days_off(key)
            return replace(task, outside_days=days, begun_on=begun)
        hours = work.known_seconds(key) / 3600
        if old is not None and old.begun_on is not None:
            task = replace(task, begun_on=old.begun_on, hours_left=hours)
        task = replace(task, hours=ThreePoint.certain(hours))
        return self._made_to_fit(task, shop, ("shop", "") in on)

    def _made_to_fit(self, task: Task, shop: Shop, as_it_went: bool) -> Task:
        """Needs that this replay's shop can not meet are cut down to what it has."""
        counts = {station.key: station.count for station in shop.stations}
        longest = self._longest_hours(shop, helper=task.helper, as_it_went=as_it_went)
        to_go = self.tasks_between.seconds_off(task.key) / 3600
        bound = (task.in_one_go or task.helper) and to_go > longest
        return replace(
            task,
            people=min(task.people, shop.people),
            stations=tuple(
                StationNeed(station=need.station, count=min(need.count, counts[need.station]))
                for need in task.stations
                if need.station in counts
            ),
            in_one_go=task.in_one_go and not bound,
            helper=task.helper and not bound,
        )

    def _longest_hours(self, shop: Shop, *, helper: bool, as_it_went: bool) -> float:
        if (helper, as_it_went) not in self._longest:
            since = workable_from(self.later if as_it_went else self.earlier)
            minutes = longest_session_minutes(shop, since, helper=helper)
            self._longest[helper, as_it_went] = minutes / 60
        return self._longest[helper, as_it_went]

    # --- hours and days -----------------------------------------------------------------------

    def hours_of(self, change: Change) -> float:
        """By how many hours a change makes the work longer, a day shorter, or a part later."""
        kind, key = change
        match kind:
            case "added":
                return self._new[key].hours.expected
            case "dropped":
                return -self.tasks_between.seconds_off(key) / 3600
            case "task":
                return self.tasks_between.hours_longer(key)
            case "day":
                return self._shop_between.hours_lost(key)
            case "outside":
                return 24 * self.tasks_between.days_longer(key)
            case "part":
                return self._parts_between.hours_late(key)
            case _:
                return 0.0
