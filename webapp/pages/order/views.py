"""What the Order page shows: the job order by week and day, each start with its reason."""

import datetime as dt
from dataclasses import dataclass
from itertools import groupby

from webapp.build.build_input import Task
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.order.rules import RuleLine, Trial, house_rules, rule_lines, trial_of
from webapp.pages.words import amounts as words
from webapp.pages.words.reasons import ReasonWords
from webapp.pages.words.unplanned import unplanned_words
from webapp.planning.order.plan import Plan, PlannedTask


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One task of the job order. `get_out` names the setup got out before it."""

    name: str
    address: str
    subsystem: str
    time: str
    hours: str
    why: str
    on_path: bool
    later: bool
    get_out: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderDay:
    title: str
    lines: tuple[OrderLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderWeek:
    title: str
    hours: str
    days: tuple[OrderDay, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A task that is not in the order, and why."""

    name: str
    address: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderView:
    weeks: tuple[OrderWeek, ...]
    rules: tuple[RuleLine, ...]
    rules_again: str
    """Where the rules are asked for again while their prices are worked out, "" once they are."""
    trial: Trial | None
    unplanned: tuple[Standing, ...]
    set_aside: tuple[Standing, ...]
    unsorted: tuple[Standing, ...]
    """All open tasks as entered, while faults keep them from being put in order."""
    counts: str
    has_tasks: bool


def order_view(page: PageContext, off: tuple[str, ...]) -> OrderView:
    """The job order, without the house rules in `off`."""
    plan = page.planned.plan(house_rules(off) if off else None)
    tasks = page.build.tasks
    done = sum(task.finished_on is not None for task in tasks)
    counts = f"{words.count(len(tasks), 'task')}, {done} finished"
    return OrderView(
        weeks=_weeks(page, plan) if plan else (),
        rules=rule_lines(page, off) if plan else (),
        rules_again="" if page.planned.rule_prices().ready else addresses.order(page.slug, off),
        trial=trial_of(page, off, plan.first_start_at) if plan else None,
        unplanned=_unplanned(page, plan) if plan else (),
        set_aside=tuple(
            _standing(page, task, f"set aside on {words.day(on, today=page.today)}")
            for task in tasks
            if (on := task.set_aside_on) is not None and task.finished_on is None
        ),
        unsorted=() if plan else tuple(_standing(page, task, "") for task in tasks if task.is_open),
        counts=counts,
        has_tasks=bool(tasks),
    )


def _standing(page: PageContext, task: Task, why: str) -> Standing:
    return Standing(name=task.name, address=addresses.task(page.slug, task.key), why=why)


def _unplanned(page: PageContext, plan: Plan) -> tuple[Standing, ...]:
    tasks = {task.key: task for task in page.build.tasks}
    whys = unplanned_words(page.build, plan)
    return tuple(_standing(page, tasks[key], why) for key, why in whys.items())


def _weeks(page: PageContext, plan: Plan) -> tuple[OrderWeek, ...]:
    lines = _Lines(page, plan)
    weeks = []
    for (year, week), in_week in groupby(plan.tasks, lambda task: task.begins.isocalendar()[:2]):
        planned = list(in_week)
        days = tuple(
            OrderDay(
                title=words.day(day, today=page.today),
                lines=tuple(lines.line(task) for task in in_day),
            )
            for day, in_day in groupby(planned, lambda task: task.begins.date())
        )
        worked = sum(lines.work_hours(task) for task in planned)
        weeks.append(
            OrderWeek(
                title=week_words(year, week, page.today),
                hours=f"{words.number(worked, 1)} h of work",
                days=days,
            )
        )
    return tuple(weeks)


def week_words(year: int, week: int, today: dt.date) -> str:
    """ "Week 7, 9 to 15 February", with the year when it is not this year's."""
    monday = dt.date.fromisocalendar(year, week, 1)
    sunday = monday + dt.timedelta(days=6)
    first = f"{monday.day}"
    if monday.month != sunday.month:
        first += f" {words.MONTHS[monday.month - 1]}"
    last = f"{sunday.day} {words.MONTHS[sunday.month - 1]}"
    shown = "" if sunday.year == today.year else f" {sunday.year}"
    return f"Week {week}, {first} to {last}{shown}"


class _Lines:
    """The lines of one job order."""

    def __init__(self, page: PageContext, plan: Plan) -> None:
        self.page = page
        self.reasons = ReasonWords(page.build, plan)
        self.subsystems = {one.key: one.name for one in page.build.subsystems}

    def line(self, planned: PlannedTask) -> OrderLine:
        task = self.reasons.tasks[planned.key]
        get_out = None
        if planned.setup_hours > 0 and task.setup is not None:
            get_out = f"{self.reasons.setup_name(task.setup)}, {words.hours(planned.setup_hours)}"
        why = self.reasons.of(planned)
        if not why:
            why = "goes on, it is begun" if task.begun_on is not None else "nothing holds it"
        return OrderLine(
            name=task.name,
            address=addresses.task(self.page.slug, task.key),
            subsystem=self.subsystems.get(task.subsystem or "", ""),
            time=self.time_words(planned),
            hours=self.hours_words(planned, task),
            why=why,
            on_path=planned.on_path,
            later=not planned.for_first_start,
            get_out=get_out,
        )

    def time_words(self, planned: PlannedTask) -> str:
        begins = words.time(planned.begins)
        if planned.begins == planned.ends:
            return begins
        if planned.begins.date() == planned.ends.date():
            return f"{begins} to {words.time(planned.ends)}"
        ends = words.short_day(planned.ends, today=self.page.today)
        return f"{begins} to {ends} {words.time(planned.ends)}"

    def work_hours(self, planned: PlannedTask) -> float:
        """Hours that hands are on it, getting the setup out among them."""
        task = self.reasons.tasks[planned.key]
        if task.outside_days is not None or not task.people:
            return 0.0
        return planned.end_shop_hours - planned.begin_shop_hours

    def hours_words(self, planned: PlannedTask, task: Task) -> str:
        if task.outside_days is not None:
            return words.days(task.outside_days)
        worked = planned.end_shop_hours - planned.begin_shop_hours - planned.setup_hours
        return words.hours(round(worked, 2))
