"""A starter list of one's own: what a build has in it for the next one, and nothing of its days.

Taken are tasks with what they need, what comes before what, parts with their lead times and
prices, what is drawn of the plumbing, and checks of one's own. Left out are the log, dates, what
was signed, photographs, wishes, notes, suppliers, and whatever else may name a person. What is
taken is named field by field, so that nothing new comes along unseen.
"""

import datetime as dt
from collections.abc import Collection
from dataclasses import replace

from webapp.build.assumed_range import RangeShares, shares_of_kind
from webapp.build.build_input import BuildInput, Dependency, Part, Step, Task
from webapp.build.first_start import FirstStart
from webapp.build.house_rules import SOONEST_RULES
from webapp.build.limits import MOST_DAYS_AWAY
from webapp.build.logged_hours import logged_hours
from webapp.build.moments import date_of
from webapp.build.starter.bridging import bridged
from webapp.build.starter.list_plumbing import listed_plumbing
from webapp.build.starter.list_shop import fitted, listed_shop
from webapp.build.starter.taken_hours import days_taken, taken_hours

NO_DAY = dt.datetime(2000, 1, 3)
"""The moment of every list: a list has no days, and two lists of the same work are the same."""
MADE_OF_THE_DRAWING = ("buy-", "pour-")
"""What the keys of parts begin with that a buy list made."""


def own_list(build: BuildInput, name: str) -> BuildInput:
    """The list under its name, itself a build in which nothing was done yet.

    What is set aside is no part of it, order carried on through it. Hours really taken are the
    estimates (`taken_hours`); where nothing was logged, or the task is not finished, the estimate
    stays as it was. All of them are marked as the list's (`Task.hours_guessed`), those that were
    taken also as that (`Task.hours_taken`).
    """
    gone = {task.key for task in build.tasks if task.set_aside_on is not None}
    gone.discard(build.first_start or "")
    logged = logged_hours(build.log)
    shares = {key: shares_of_kind(build, key) for key in {task.setup for task in build.tasks}}
    tasks = tuple(
        _task(task, logged.get(task.key, 0.0), shares[task.setup])
        for task in build.tasks
        if task.key not in gone
    )
    there = {task.key for task in tasks}
    parts = tuple(_part(part, there) for part in build.parts if _is_listed(part, there))
    links = tuple(link for link in bridged(build.dependencies, gone) if _joins(link, there))
    made = BuildInput(
        name=name,
        now=NO_DAY,
        first_start=build.first_start,
        end_name=build.end_name,
        starter_list=build.starter_list,
        starter_answers=build.starter_answers,
        starter_left_out=build.starter_left_out,
        units=build.units,
        currency=build.currency,
        shop=listed_shop(build, tasks),
        subsystems=build.subsystems,
        tasks=tasks,
        dependencies=links,
        parts=parts,
        plumbing=listed_plumbing(build.plumbing, there, {part.key for part in parts}),
        start=FirstStart(answers=build.start.answers, own_checks=build.start.own_checks),
    )
    return fitted(made)


def begun_from(
    made: BuildInput,
    *,
    name: str,
    now: dt.datetime,
    vehicle: str = "",
    starts_on: dt.date | None = None,
    wanted_by: dt.date | None = None,
) -> BuildInput:
    """A new build that begins with a list of one's own, by the house rules of every new build."""
    return replace(
        made,
        name=name,
        now=now,
        vehicle=vehicle,
        starts_on=starts_on,
        wanted_by=wanted_by,
        house_rules=SOONEST_RULES,
    )


def count_taken(made: BuildInput) -> int:
    """How many tasks of a list have the hours that they really took."""
    return sum(task.hours_taken for task in made.tasks)


def _task(task: Task, taken: float, shares: RangeShares) -> Task:
    listed = Task(
        key=task.key,
        name=task.name,
        hours=task.hours,
        subsystem=task.subsystem,
        setup=task.setup,
        people=task.people,
        helper=task.helper,
        in_one_go=task.in_one_go,
        stations=task.stations,
        outside_days=task.outside_days,
        space_litres=task.space_litres,
        caution=task.caution,
        steps=tuple(Step(text=step.text) for step in task.steps),
        measures=task.measures,
        spread_assumed=task.spread_assumed,
        hours_guessed=True,
        cost=_price(task),
        offer_cost=task.offer_cost,
        offer_days=task.offer_days,
        hours_taken=task.hours_taken,
    )
    if task.outside_days is not None:
        days = days_taken(task)
        if days is None:
            return listed
        return replace(listed, outside_days=min(days, MOST_DAYS_AWAY), hours_taken=True)
    if task.finished_on is None or taken <= 0:
        return listed
    estimate = taken_hours(task, taken, shares)
    return replace(
        listed, hours=estimate.hours, spread_assumed=estimate.spread_assumed, hours_taken=True
    )


def _joins(link: Dependency, there: Collection[str]) -> bool:
    return link.before in there and link.after in there


def _is_listed(part: Part, there: Collection[str]) -> bool:
    """Whether a part is of use without what is set aside.

    What the buy list made of the drawing is not: it is made anew from what is drawn.
    """
    if part.key.startswith(MADE_OF_THE_DRAWING):
        return False
    return not part.serves or not set(part.serves).isdisjoint(there)


def _part(part: Part, there: Collection[str]) -> Part:
    return Part(
        key=part.key,
        name=part.name,
        serves=tuple(key for key in part.serves if key in there),
        lead_days=_lead_days(part),
        cost=_price(part),
    )


def _price(of: Task | Part) -> float | None:
    """What was paid, else what it is thought to cost."""
    return of.cost if of.paid is None or of.paid < 0 else of.paid


def _lead_days(part: Part) -> float | None:
    """The days from order to arrival as they were, where both are known; else as reckoned with."""
    if not part.arrived or part.ordered_on is None or part.arrives_on is None:
        return part.lead_days
    days = (date_of(part.arrives_on) - part.ordered_on).days
    return part.lead_days if days < 0 else float(days)
