"""What a plan leaves out is held for ever, by what is said to hold it."""

import datetime as dt
from collections.abc import Iterator

from webapp.build.build_input import Task
from webapp.planning.order.plan import UnplannedTask
from webapp.planning.proof.open_hours import LAST_DAY, weekly_hours
from webapp.planning.proof.plan_facts import PlanFacts

YEARS_WITH_DATES = dt.timedelta(weeks=52 * 299)
"""What would begin after that need not be planned."""


def unplanned_violations(facts: PlanFacts) -> Iterator[str]:
    """Tasks left out though nothing holds them, or said to be held by what does not hold them."""
    held = {u.key for u in facts.plan.unplanned if _never_starts(facts, u.key)}
    grows = True
    while grows:
        more = {
            u.key
            for u in facts.plan.unplanned
            if u.key not in held and any(d.before in held for d in facts.into.get(u.key, []))
        }
        held |= more
        grows = bool(more)
    for unplanned in facts.plan.unplanned:
        if unplanned.key in facts.task_of and unplanned.key not in held:
            yield f"{facts.name(unplanned.key)} is left unplanned, yet nothing holds it for ever."
        if unplanned.kind == "held" and not _is_held(facts, unplanned):
            yield f"{facts.name(unplanned.key)} is said to be held by what does not hold it."


def _is_held(facts: PlanFacts, unplanned: UnplannedTask) -> bool:
    """Whether what is said to hold a task for ever does so."""
    standing = unplanned.standing
    if standing is None or not standing.obstacles:
        return False
    holder = unplanned.key if standing.first is None else standing.first
    if standing.after is not None:
        into = {d.before for d in facts.into.get(unplanned.key, [])}
        if standing.after not in into:
            return False
    before = {d.before for d in facts.into.get(holder, [])}
    task = facts.task_of.get(holder)
    if task is None:
        return False
    undated = {part.key for part in facts.parts_holding(task) if facts.there_from(part) is None}
    for obstacle in standing.obstacles:
        if obstacle.kind == "undated_part" and obstacle.what not in undated:
            return False
        if obstacle.kind == "set_aside":
            other = facts.task_of.get(obstacle.what)
            is_aside = other is not None and other.set_aside_on and other.finished_on is None
            if obstacle.what not in before or not is_aside:
                return False
    return True


def _never_starts(facts: PlanFacts, key: str) -> bool:
    """Whether a task is held for ever by something other than a task that is held itself."""
    task = facts.task_of.get(key)
    if task is None:
        return False
    before = [facts.task_of[d.before] for d in facts.into.get(key, [])]
    if any(b.set_aside_on is not None and b.finished_on is None for b in before):
        return True
    if any(facts.there_from(part) is None for part in facts.parts_holding(task)):
        return True
    return not _fits_every_week(facts, task) or _beyond_any_date(facts, task)


def _beyond_any_date(facts: PlanFacts, task: Task) -> bool:
    """Whether waits, or the work of the whole build, reach past the years that have dates."""
    last = facts.build.now + YEARS_WITH_DATES
    if last < facts.earliest(task) < dt.datetime.max:
        return True
    seconds = sum(facts.work_seconds(other) for other in facts.build.tasks if other.is_open)
    end = facts.shop.end_at(seconds)
    return end is None or end > last


def _fits_every_week(facts: PlanFacts, task: Task) -> bool:
    """Whether the shop week that holds in the end has room for a task again and again."""
    seconds = facts.work_seconds(task)
    if task.outside_days is not None or not seconds:
        return True
    lasting = weekly_hours(facts.build.shop, LAST_DAY)
    helped = [s.hours for s in lasting if s.hours.helper or not task.helper]
    if not task.in_one_go and not task.helper:
        return bool(helped)
    days = sorted(
        (s.weekday * 1440 + s.hours.opens_minute, s.weekday * 1440 + s.hours.closes_minute)
        for s in lasting
        if s.hours.helper or not task.helper
    )
    week = 7 * 1440
    begin = end = -1
    for opens, closes in days + [(opens + week, closes + week) for opens, closes in days]:
        begin, end = (begin, closes) if opens == end else (opens, closes)
        if (end - begin) * 60 >= seconds:
            return True
    return False
