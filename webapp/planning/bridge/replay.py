"""What would have been: the earlier of two builds, replayed with some of what happened since.

Every replay is a build that is planned anew from the earlier build's `now`, with some *changes*
switched on. A change belongs to a cause:

scope
    ("added", key) a task that is new, ("dropped", key) one that is gone or set aside, and
    ("rest", "") everything else about what is to be done: dependencies, what tasks and parts
    are for, which task is first start.
estimates
    ("task", key): off, a task takes the hours that were to go as the earlier build knew; on, the
    hours logged between the two and those still left in the later build. Outside work likewise
    in days. The hours to get a setup out are ("setup", key). Logged hours hold the getting out,
    so a finished task asks for no setup of its own where its logged hours are used.
shop_time
    ("day", date), a date between the two: off, every hour that the earlier build promised on it
    was worked; on, the shop was open for the hours that were worked. ("shop", ""): the week,
    people and stations from then on, and the day the build starts on, are those of the later
    build.
parts
    ("part", key): off, it comes when the earlier build said; on, when it came, or is now
    promised for, and not before the later `now` where it has not arrived.

With everything off the replay is the earlier build; with everything on it differs from the later
one by what was done in another order than planned.
"""

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from webapp.build.build_input import (
    BuildInput,
    Dependency,
    Shop,
    StationNeed,
    Task,
    ThreePoint,
)
from webapp.build.moments import workable_from
from webapp.build.precedence import loops_of
from webapp.build.time.session_lengths import longest_session_minutes
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.bridge.parts_between import PartsBetween
from webapp.planning.bridge.replay_changes import CAUSE_OF_KIND, Change, Changes
from webapp.planning.bridge.shop_between import ShopBetween
from webapp.planning.bridge.tasks_between import TasksBetween
from webapp.planning.bridge.work_between import WorkBetween
from webapp.planning.network.outside_holds import finished_at
from webapp.planning.order.first_start import first_start_minutes
from webapp.planning.simulator.house_rules import HOUSE_RULES, rank_tasks
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import for_first_start_only, lay_out


class Replay:
    """Replays of `earlier` on the way to `later`, which must not have the earlier `now`."""

    def __init__(self, earlier: BuildInput, later: BuildInput) -> None:
        self.earlier, self.later = earlier, later
        self.between = WorkBetween(earlier, later)
        self._old = {t.key: t for t in earlier.tasks if t.set_aside_on is None or t.finished_on}
        self._new = {t.key: t for t in later.tasks if t.set_aside_on is None or t.finished_on}
        self.tasks_between = TasksBetween(earlier, later, self.between, self._old, self._new)
        self._shop_between = ShopBetween(earlier, later, self.between)
        self._parts_between = PartsBetween(earlier, later, self._old, self._new)
        known = {subsystem.key for subsystem in earlier.subsystems}
        added = (subsystem for subsystem in later.subsystems if subsystem.key not in known)
        self._subsystems = (*earlier.subsystems, *added)
        self._longest: dict[tuple[bool, bool], float] = {}
        self.all_changes: Changes = frozenset(self._changes())
        self._known: dict[Changes, int | None] = {}

    def minutes(self, on: Iterable[Change]) -> int | None:
        """First start of a replay, in minutes from the earlier `now`; None where it has none."""
        changes = frozenset(on) & self.all_changes
        if changes not in self._known:
            parts = frozenset(change for change in self.all_changes if change[0] == "part")
            if parts and changes & parts in (parts, frozenset()):
                self._known |= self._pair(changes - parts, changes | parts)
        if changes not in self._known:
            self._known[changes] = self._minutes(changes)
        return self._known[changes]

    def _pair(self, early: Changes, late: Changes) -> dict[Changes, int | None]:
        """Two replays that differ by their arrivals alone, side by side for speed.

        Nothing where they can not stand side by side: where one has no date.
        """
        if loops_of(self.build(early)):
            return {}
        works = [for_first_start_only(lay_out(self.build(on))) for on in (early, late)]
        if works[0].keys != works[1].keys or works[0].first_start < 0:
            return {}
        longer = max(works, key=lambda work: len(work.calendar.opens))
        variants = Variants(
            count=2,
            rankings=tuple(rank_tasks(work, HOUSE_RULES) for work in works),
            ranking_of=np.arange(2),
            arrival=np.stack([work.arrival for work in works], axis=1),
        )
        ends = first_starts(longer, variants).wall
        if ends.max() >= NEVER:
            return {}
        return {early: int(ends[0]) // 60, late: int(ends[1]) // 60}

    def _minutes(self, on: Changes) -> int | None:
        build = self.build(on)
        if loops_of(build):
            return None
        minutes = first_start_minutes(build)
        if minutes is None:
            # Work that must fit a session may find none in a world that never was.
            loose = tuple(replace(t, in_one_go=False, helper=False) for t in build.tasks)
            minutes = first_start_minutes(replace(build, tasks=loose))
        return minutes

    def arrivals(self, on: Changes) -> dict[str, int]:
        """For each task that waits for parts, the wall second at which the last one is there."""
        return self._parts_between.arrivals(on)

    # --- what has changed ---------------------------------------------------------------------

    def _changes(self) -> Iterable[Change]:
        yield from (("added", key) for key in self._new if key not in self._old)
        yield from (("dropped", key) for key in self._old if key not in self._new)
        if self._rest_differs():
            yield "rest", ""
        for key in {**self._old, **self._new}:
            if key in self._new and self.tasks_between.estimate_differs(key):
                yield "task", key
        yield from self._shop_between.changes()
        yield from self._parts_between.changes()

    def _rest_differs(self) -> bool:
        common = self._old.keys() & self._new.keys()
        if self.earlier.first_start != self.later.first_start:
            return True
        if any(_nature(self._old[key]) != _nature(self._new[key]) for key in common):
            return True
        old_links = {_link(d) for d in self.earlier.dependencies if {d.before, d.after} <= common}
        new_links = {_link(d) for d in self.later.dependencies if {d.before, d.after} <= common}
        if old_links != new_links:
            return True
        old_parts = {part.key: common & set(part.serves) for part in self.earlier.parts}
        new_parts = {part.key: common & set(part.serves) for part in self.later.parts}
        return any(
            old_parts.get(key, frozenset()) != new_parts.get(key, frozenset())
            for key in old_parts.keys() | new_parts.keys()
        )

    # --- a replay -----------------------------------------------------------------------------

    def build(self, on: Changes) -> BuildInput:
        """The build of a replay, as of the earlier `now`."""
        scope = [change for change in self.all_changes if CAUSE_OF_KIND[change[0]] == "scope"]
        all_scope = all(change in on for change in scope)
        no_scope = not any(change in on for change in scope)
        nature = self._new if ("rest", "") in on or (all_scope and scope) else self._old
        shop = self._shop_between.shop(on, setup_out=self._setup_out(on))
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
            dependencies=self._links(present, all_scope=all_scope, no_scope=no_scope),
            subsystems=self._subsystems,
            parts=tuple(self._parts_between.parts(present, on)),
            log=(),
        )

    def _links(
        self, present: set[str], *, all_scope: bool, no_scope: bool
    ) -> tuple[Dependency, ...]:
        """Dependencies of the earlier build, of the later one, or, on the way, a mixture.

        The mixture has those of the later build, order passing through what is not yet there,
        and for what is dropped in it but still there those of the earlier build.
        """
        if no_scope:
            links = list(self.earlier.dependencies)
        elif all_scope:
            links = list(self.later.dependencies)
        else:
            links = _passed_through(self.later.dependencies, self._new.keys() - present)
            gone = present - self._new.keys()
            links += [d for d in self.earlier.dependencies if {d.before, d.after} & gone]
        return tuple(d for d in links if d.before in present and d.after in present)

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
            days = work.days_on(key) if as_it_went else work.days_off(key)
            begun = old.begun_on if old is not None and old.outside_days is not None else None
            return replace(task, outside_days=days, begun_on=begun)
        hours = work.hours_on(key) if as_it_went else work.hours_off(key)
        if old is not None and old.begun_on is not None:
            task = replace(task, begun_on=old.begun_on, hours_left=hours)
        if as_it_went and new is not None and work.gets_out_within(key):
            task = replace(task, setup=None)
        task = replace(task, hours=ThreePoint.certain(hours))
        return self._made_to_fit(task, shop, ("shop", "") in on)

    def _made_to_fit(self, task: Task, shop: Shop, as_it_went: bool) -> Task:
        """Needs that this replay's shop can not meet are cut down to what it has."""
        counts = {station.key: station.count for station in shop.stations}
        longest = self._longest_hours(shop, helper=task.helper, as_it_went=as_it_went)
        bound = (task.in_one_go or task.helper) and task.hours.expected > longest
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
                return -self.tasks_between.hours_off(key)
            case "task":
                return self.tasks_between.hours_longer(key)
            case "day":
                return self._shop_between.hours_lost(key)
            case "part":
                return self._parts_between.hours_late(key)
            case _:
                return 0.0

    def _setup_out(self, on: Changes) -> str | None:
        """The setup that is out: as the work left it, where a task's own hours hold getting it."""
        worked = (
            ("task", key) in on and self.tasks_between.gets_out_within(key) for key in self._new
        )
        return (self.later if any(worked) else self.earlier).shop.setup_out


def _passed_through(dependencies: Iterable[Dependency], absent: Iterable[str]) -> list[Dependency]:
    """Dependencies without some tasks: what came before one comes before what came after it.

    The waits into an absent task stay, its own go.
    """
    waits = {(d.before, d.after): d.wait_hours for d in dependencies}
    for key in absent:
        into = [(before, wait) for (before, after), wait in waits.items() if after == key]
        out = [after for before, after in waits if before == key]
        waits = {link: wait for link, wait in waits.items() if key not in link}
        for before, wait in into:
            for after in out:
                waits[before, after] = max(wait, waits.get((before, after), 0.0))
    return [Dependency(before=b, after=a, wait_hours=wait) for (b, a), wait in waits.items()]


def _link(dependency: Dependency) -> tuple[str, str, float]:
    return dependency.before, dependency.after, dependency.wait_hours


def _nature(task: Task) -> tuple[object, ...]:
    """What a task is, without its hours, days and progress."""
    outside = task.outside_days is not None
    return (
        *(task.setup, task.people, task.helper, task.in_one_go, task.stations),
        *(task.subsystem, task.space_litres, outside),
    )
