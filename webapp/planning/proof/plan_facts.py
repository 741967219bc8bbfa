"""A plan and its build side by side, with exact moments: what the checks of a plan look at.

Begins and ends of a plan are cut to the minute, its shop hours are not: the exact moment of shop
work is read off its shop hours, that of work on the wall clock is known to the minute only.
"""

import datetime as dt
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Dependency, Part, Task
from webapp.planning.order.plan import Plan, PlannedTask
from webapp.planning.proof.open_hours import OpenHours, day_stretches, from_the_start_of, midnight

MINUTE = dt.timedelta(minutes=1)
HOUR_SECONDS = 3600


def to_seconds(hours: float) -> int:
    """Hours as whole seconds, the tick of the planner."""
    return round(hours * HOUR_SECONDS)


def to_the_minute(moment: dt.datetime) -> dt.datetime:
    """A moment with its seconds cut off."""
    return moment.replace(second=0, microsecond=0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """One planned task with its facts; seconds are open shop seconds since `now`.

    on_wall : outside work and work of no hours, which run on the wall clock
    begins, ends : exact where the task is shop work, else to the minute
    setup : seconds spent on getting the setup out
    """

    task: Task
    planned: PlannedTask
    on_wall: bool
    begin: int
    end: int
    setup: int
    begins: dt.datetime
    ends: dt.datetime

    @property
    def blur(self) -> dt.timedelta:
        """By how much the true moments may lie after the ones given."""
        return MINUTE if self.on_wall else dt.timedelta()

    @property
    def work_begin(self) -> int:
        """The shop second at which the setup is out and the work itself begins."""
        return self.begin + self.setup


class PlanFacts:
    """Look-ups that the checks share. Tasks the build does not know are left out."""

    def __init__(self, build: BuildInput, plan: Plan) -> None:
        self.build = build
        self.plan = plan
        first = build.starts_on
        self.shop = OpenHours(build.shop, build.now, starts_on=first)
        self.helper = OpenHours(build.shop, build.now, starts_on=first, helper_only=True)
        self.task_of = {task.key: task for task in build.tasks}
        self.logged: dict[str, float] = {}
        for entry in build.log:
            self.logged[entry.task] = self.logged.get(entry.task, 0.0) + entry.hours
        self.placed = [self._place(p) for p in plan.tasks if p.key in self.task_of]
        self.placed_of = {p.task.key: p for p in self.placed}
        self.into: dict[str, list[Dependency]] = {}
        for dependency in build.dependencies:
            if dependency.before in self.task_of:
                self.into.setdefault(dependency.after, []).append(dependency)
        self.parts_for: dict[str, list[Part]] = {}
        for part in build.parts:
            for key in part.serves:
                self.parts_for.setdefault(key, []).append(part)

    def name(self, key: str) -> str:
        """A task's name in quotes."""
        task = self.task_of.get(key)
        return f"“{task.name if task else key}”"

    def work_seconds(self, task: Task) -> int:
        """Seconds of shop work a task still takes, setup apart."""
        if task.begun_on is None:
            return to_seconds(task.hours.expected)
        if task.hours_left is not None:
            return to_seconds(task.hours_left)
        return to_seconds(max(0.25, task.hours.expected - self.logged.get(task.key, 0.0)))

    def cleared_by(self, dependency: Dependency) -> dt.datetime | None:
        """When a dependency lets its task go: None at once, the last of days never."""
        before = self.task_of[dependency.before]
        wait = dt.timedelta(seconds=to_seconds(dependency.wait_hours))
        if before.finished_on is not None:
            return self._finish(before) + wait if wait else None
        placed = self.placed_of.get(before.key)
        return placed.ends + wait if placed else dt.datetime.max

    def parts_holding(self, task: Task) -> list[Part]:
        """The parts that have not arrived and that a task not yet begun needs."""
        if task.begun_on is not None:
            return []
        return [part for part in self.parts_for.get(task.key, []) if not part.arrived]

    def there_from(self, part: Part) -> dt.datetime | None:
        """When a part that is not here is there: as entered, else by its lead time; or never."""
        told = part.arrives_on or part.promised_on
        if told is not None:
            return from_the_start_of(told)
        if part.lead_days is None:
            return None
        sent = part.ordered_on or self.build.now.date()
        return from_the_start_of(sent + dt.timedelta(days=-int(-part.lead_days // 1)))

    def earliest(self, task: Task) -> dt.datetime:
        """When dependencies and parts alone let a task begin, never before `now`."""
        moments = [self.build.now]
        for dependency in self.into.get(task.key, []):
            moments.append(self.cleared_by(dependency) or self.build.now)
        for part in self.parts_holding(task):
            moments.append(self.there_from(part) or dt.datetime.max)
        return max(moments)

    def _finish(self, task: Task) -> dt.datetime:
        if isinstance(task.finished_on, dt.datetime):
            return task.finished_on
        assert task.finished_on is not None
        stretches = day_stretches(self.build.shop, task.finished_on, helper_only=False)
        closings = [closes for _, closes in stretches]
        return max(closings, default=midnight(task.finished_on + dt.timedelta(days=1)))

    def _place(self, planned: PlannedTask) -> Placed:
        task = self.task_of[planned.key]
        begin = to_seconds(planned.begin_shop_hours)
        end = to_seconds(planned.end_shop_hours)
        on_wall = task.outside_days is not None or self.work_seconds(task) == 0
        begins, ends = planned.begins, planned.ends
        if not on_wall:
            begins = self.shop.begin_at(begin) or begins
            ends = self.shop.end_at(end) or ends
        return Placed(
            task=task,
            planned=planned,
            on_wall=on_wall,
            begin=begin,
            end=end,
            setup=to_seconds(planned.setup_hours),
            begins=begins,
            ends=ends,
        )
