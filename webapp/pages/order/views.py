"""What the Order page shows: the job order by week and day, each start with its reason."""

import datetime as dt
from dataclasses import dataclass
from itertools import groupby

from webapp.build.build_input import Task
from webapp.build.by_key import get_by_key
from webapp.pages import addresses
from webapp.pages.bench.beginning import can_begin
from webapp.pages.frame.context import PageContext
from webapp.pages.frame.pace import pace_how
from webapp.pages.frame.start_held import held_by_the_list
from webapp.pages.order.ahead import Ahead
from webapp.pages.order.rules import (
    Offer,
    RuleLine,
    Trial,
    how_of_rules,
    offer_of,
    rule_lines,
    trial_of,
)
from webapp.pages.words import amounts as words
from webapp.pages.words.held_circuits import held_in_short
from webapp.pages.words.how import How
from webapp.pages.words.missing import missing_words
from webapp.pages.words.reasons import ReasonWords
from webapp.pages.words.unplanned import gap_words
from webapp.planning.chances.rule_prices import Rules
from webapp.planning.order.gaps import Gap
from webapp.planning.order.plan import Plan, PlannedTask
from webapp.planning.order.week_hours import WeekHours, week_hours

NEAR = dt.timedelta(days=7)
"""Weeks that begin later than this are drawn as one line each."""
MAIN_NAMED = 2
"""So many tasks are named in the line of a week."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One task of the job order. `get_out` names the setup got out before it.

    `time` is a time of day within the next seven days; after that at most the day it ends.
    """

    name: str
    address: str
    subsystem: str
    key: str
    time: str
    hours: str
    why: str
    ahead: str
    """Why it goes before a task of an earlier subsystem, "" where it does not."""
    ahead_figure: str
    """The kind of the figure in that, "" where none is."""
    begin: str
    """What the button says that begins it, "" where it can not begin now."""
    on_path: bool
    later: bool
    get_out: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderDay:
    title: str
    lines: tuple[OrderLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderWeek:
    """One week: `hours` of work that fall into it, `goes_on` what was begun in a week before.

    `name` is its place on the page.
    """

    name: str
    title: str
    hours: str
    goes_on: str
    main: str
    """What most of its hours go to, for a week that is drawn as one line."""
    days: tuple[OrderDay, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A task that is not in the order, and why."""

    name: str
    address: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """What keeps tasks out of the order: `why` says how many, `mend` is where it is mended."""

    why: str
    mend: str
    of: str
    tasks: tuple[Standing, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderView:
    """`weeks` are those up to the one that begins within seven days, `later` the ones after."""

    weeks: tuple[OrderWeek, ...]
    later: tuple[OrderWeek, ...]
    later_open: bool
    every: str
    """Where every week is drawn out, "" where they are."""
    here: str
    here_again: bool
    """Whether the job order is asked for again, since reasons in it are still worked out."""
    rules: tuple[RuleLine, ...]
    rules_how: How | None
    pace_how: How | None
    rules_again: str
    """Where the rules are asked for again while their prices are worked out, "" once they are."""
    trial: Trial | None
    offer: Offer | None
    unplanned: tuple[Cause, ...]
    set_aside: tuple[Standing, ...]
    unsorted: tuple[Standing, ...]
    """All open tasks as entered, while faults keep them from being put in order."""
    counts: str
    missing: str
    """What is to be entered before first start has a date, "" where nothing is missing."""
    has_tasks: bool


def order_view(page: PageContext, tried: Rules, *, every_week: bool = False) -> OrderView:
    """The job order, by the house rules that are tried; later weeks in a line each."""
    is_trial = tried != page.build.house_rules
    plan = page.planned.plan_by_rules(tried) if is_trial else page.planned.plan()
    asked = tried if is_trial else None
    tasks = page.build.tasks
    done = sum(task.finished_on is not None for task in tasks)
    counts = f"{words.count(len(tasks), 'task')}, {done} finished"
    ahead = Ahead(page, asked)
    weeks = _weeks(page, plan, ahead) if plan else ()
    near = tuple(week for monday, week in weeks if monday <= page.today + NEAR)
    later = tuple(week for monday, week in weeks if monday > page.today + NEAR)
    return OrderView(
        weeks=near,
        later=later,
        later_open=every_week,
        every="" if every_week else addresses.order(page.slug, asked, every=True),
        here=addresses.order(page.slug, asked, every=every_week),
        here_again=plan is not None and not ahead.departures.ready,
        rules=rule_lines(page, tried) if plan else (),
        rules_how=how_of_rules(page),
        pace_how=pace_how(page),
        rules_again=addresses.order(page.slug, asked, every=every_week)
        if plan and not page.planned.rule_prices().ready
        else "",
        trial=trial_of(page, tried) if plan else None,
        offer=offer_of(page) if plan and not is_trial else None,
        unplanned=_unplanned(page, plan) if plan else (),
        set_aside=tuple(
            _standing(page, task, f"set aside on {words.day(on, today=page.today)}")
            for task in tasks
            if (on := task.set_aside_on) is not None and task.finished_on is None
        ),
        unsorted=() if plan else tuple(_standing(page, task, "") for task in tasks if task.is_open),
        counts=counts,
        missing=missing_words(page.build) if plan and tasks else "",
        has_tasks=bool(tasks),
    )


def _standing(page: PageContext, task: Task, why: str) -> Standing:
    return Standing(name=task.name, address=addresses.task(page.slug, task.key), why=why)


def _unplanned(page: PageContext, plan: Plan) -> tuple[Cause, ...]:
    return tuple(_cause(page, gap, why) for gap, why in gap_words(page.build, plan))


def _cause(page: PageContext, gap: Gap, why: str) -> Cause:
    """A part is mended by a day, what is set aside is taken up again, else the task is changed."""
    if gap.kind == "undated_part":
        mend = addresses.part(page.slug, gap.what)
        of = get_by_key(page.build.parts, gap.what).name
    else:
        key = gap.what or gap.at[0]
        mend, of = addresses.task(page.slug, key), get_by_key(page.build.tasks, key).name
    held = {*gap.at, *gap.behind}
    tasks = tuple(_standing(page, task, "") for task in page.build.tasks if task.key in held)
    return Cause(why=why, mend=mend, of=of, tasks=tasks)


def _weeks(page: PageContext, plan: Plan, ahead: Ahead) -> tuple[tuple[dt.date, OrderWeek], ...]:
    """The weeks in which a task begins or hands are at work, each with its Monday."""
    lines = _Lines(page, plan, ahead)
    hours = {week.monday: week for week in week_hours(page.planned.laid_input, plan)}
    begun = {
        monday: tuple(in_week)
        for monday, in_week in groupby(plan.tasks, lambda task: _monday(task.begins.date()))
    }
    return tuple(
        (
            monday,
            OrderWeek(
                name=f"week-{monday:%G}-{monday:%V}",
                main=lines.main(hours.get(monday), begun.get(monday, ())),
                title=week_words(*monday.isocalendar()[:2], page.today),
                hours=_hours_words(hours.get(monday)),
                goes_on=lines.goes_on(hours.get(monday)),
                days=tuple(
                    OrderDay(
                        title=words.day(day, today=page.today),
                        lines=tuple(lines.line(task) for task in in_day),
                    )
                    for day, in_day in groupby(
                        begun.get(monday, ()), lambda task: task.begins.date()
                    )
                ),
            ),
        )
        for monday in sorted(begun.keys() | hours.keys())
    )


def _monday(day: dt.date) -> dt.date:
    return day - dt.timedelta(days=day.weekday())


def _hours_words(week: WeekHours | None) -> str:
    return f"{words.tenth_hours(week.hours if week else 0.0)} of work"


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

    def __init__(self, page: PageContext, plan: Plan, ahead: Ahead) -> None:
        self.page, self.ahead = page, ahead
        self.priced: set[str] = set()
        self.reasons = ReasonWords(page.build, plan)
        self.subsystems = {one.key: one.name for one in page.build.subsystems}
        self.can_begin = can_begin(page)
        self.circuits = held_in_short(page.build, page.planned.plumbed)
        end = page.build.first_start
        self.checks = {} if end is None else {end: "; ".join(held_by_the_list(page, end))}

    def line(self, planned: PlannedTask) -> OrderLine:
        task = self.reasons.tasks[planned.key]
        get_out = None
        if planned.setup_hours > 0 and task.setup is not None:
            get_out = f"{self.reasons.setup_name(task.setup)}, {words.hours(planned.setup_hours)}"
        why = self.reasons.of(planned)
        held = (self.circuits.get(planned.key, ""), self.checks.get(planned.key, ""))
        circuits = "; ".join(filter(None, held))
        if not why and not circuits:
            why = "goes on, it is begun" if task.begun_on is not None else "nothing holds it"
        ahead, figure = self.ahead_words(planned.key)
        return OrderLine(
            name=task.name,
            address=addresses.task(self.page.slug, task.key),
            subsystem=self.subsystems.get(task.subsystem or "", ""),
            time=words.from_to(planned.begins, planned.ends, today=self.page.today),
            hours=self.hours_words(planned, task),
            why="; ".join(filter(None, (why, circuits))),
            on_path=planned.on_path,
            key=planned.key,
            ahead=ahead,
            ahead_figure=figure,
            begin=self.can_begin.get(planned.key, ""),
            later=not planned.for_first_start,
            get_out=get_out,
        )

    def ahead_words(self, key: str) -> tuple[str, str]:
        """Why a task goes before one of an earlier subsystem, and the kind of figure in it.

        What a rule does in days is told once, where it comes first.
        """
        one = self.ahead.of(key)
        if one is None:
            return "", ""
        price = None if one.why in self.priced else self.ahead.price(one.why)
        self.priced.add(one.why)
        text = self.ahead.in_short(one, price.text if price else "")
        return text, price.figure if price else ""

    def goes_on(self, week: WeekHours | None) -> str:
        """What was begun in a week before and takes hours of this one."""
        names = [
            f"{self.reasons.task_name(share.key)}, {words.tenth_hours(share.hours)}"
            for share in (week.shares if week else ())
            if share.begun_before
        ]
        return f"Goes on: {'; '.join(names)}" if names else ""

    def main(self, week: WeekHours | None, begun: tuple[PlannedTask, ...]) -> str:
        """The tasks that take most of a week's hours, and how many more there are."""
        shares = sorted(week.shares if week else (), key=lambda share: -share.hours)
        keys = dict.fromkeys((*(share.key for share in shares), *(task.key for task in begun)))
        names = [self.reasons.task_name(key) for key in keys]
        more = len(names) - MAIN_NAMED
        return "; ".join([*names[:MAIN_NAMED], *([f"{more} more"] if more > 0 else [])])

    def hours_words(self, planned: PlannedTask, task: Task) -> str:
        if task.outside_days is not None:
            return words.days(task.outside_days)
        worked = planned.end_shop_hours - planned.begin_shop_hours - planned.setup_hours
        return words.planned_hours(worked)
