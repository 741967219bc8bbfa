"""Proves that a plan obeys its input, written apart from the simulator that made it.

Each check yields whole sentences that name what is wrong; no sentence, no violation.
"""

import datetime as dt
from collections import Counter
from collections.abc import Callable, Iterable, Iterator

from webapp.build.build_input import BuildInput
from webapp.planning.order.plan import Plan
from webapp.planning.proof.open_hours import from_the_start_of
from webapp.planning.proof.plan_facts import MINUTE, Placed, PlanFacts, to_seconds, to_the_minute
from webapp.planning.proof.plan_reason_checks import path_violations, reason_violations
from webapp.planning.proof.unplanned_checks import unplanned_violations

DAY = dt.timedelta(days=1)


def violations(build: BuildInput, plan: Plan) -> tuple[str, ...]:
    """Everything in which a plan departs from its input; () means that it obeys."""
    facts = PlanFacts(build, plan)
    checks: tuple[Callable[[PlanFacts], Iterator[str]], ...] = (
        _every_open_task_once,
        _job_order,
        unplanned_violations,
        _times,
        _precedence,
        _hands,
        _stations,
        _setups_in_use,
        _setup_hours,
        _stretches,
        _helper_one_at_a_time,
        _first_start,
        reason_violations,
        path_violations,
    )
    return tuple(sentence for check in checks for sentence in check(facts))


# --- which tasks ----------------------------------------------------------------------------


def _every_open_task_once(facts: PlanFacts) -> Iterator[str]:
    seen = Counter(p.key for p in facts.plan.tasks)
    seen.update(u.key for u in facts.plan.unplanned)
    for key, count in seen.items():
        if key not in facts.task_of:
            yield f"“{key}” is in the plan but not in the build."
        elif not facts.task_of[key].is_open:
            yield f"{facts.name(key)} is finished or set aside, yet it is in the plan."
        elif count > 1:
            yield f"{facts.name(key)} is in the plan {count} times."
    for task in facts.build.tasks:
        if task.is_open and task.key not in seen:
            yield f"{facts.name(task.key)} is open, yet the plan leaves it out."


def _job_order(facts: PlanFacts) -> Iterator[str]:
    if facts.plan.now != facts.build.now:
        yield "The plan counts from another moment than the build."
    needed = _ancestors(facts, facts.build.first_start)
    latest = dt.datetime.min
    for planned in facts.plan.tasks:
        if planned.begins < latest:
            yield f"{facts.name(planned.key)} stands in the job order after a later begin."
        latest = max(latest, planned.begins)
        if planned.for_first_start != (planned.key in needed):
            yield f"{facts.name(planned.key)}: whether first start needs it is told wrongly."


def _ancestors(facts: PlanFacts, key: str | None) -> set[str]:
    """The task of a key and everything that must come before it."""
    found: set[str] = set()
    todo = [key] if key in facts.task_of else []
    while todo:
        at = todo.pop()
        if at is not None and at not in found:
            found.add(at)
            todo.extend(dependency.before for dependency in facts.into.get(at, []))
    return found


# --- when -----------------------------------------------------------------------------------


def _times(facts: PlanFacts) -> Iterator[str]:
    for placed in facts.placed:
        name = facts.name(placed.task.key)
        if placed.planned.begins < to_the_minute(facts.build.now):
            yield f"{name} begins before now."
        if placed.planned.ends < placed.planned.begins:
            yield f"{name} ends before it begins."
        yield from _wall_times(facts, placed) if placed.on_wall else _shop_times(facts, placed)


def _shop_times(facts: PlanFacts, placed: Placed) -> Iterator[str]:
    name, planned = facts.name(placed.task.key), placed.planned
    if facts.shop.opening_before(planned.begins) is None:
        yield f"{name} begins while the shop is closed."
    if placed.end - placed.begin != placed.setup + facts.work_seconds(placed.task):
        yield f"{name}: its shop hours are not those of its setup and its work."
    begins, ends = facts.shop.begin_at(placed.begin), facts.shop.end_at(placed.end)
    if begins is None or to_the_minute(begins) != planned.begins:
        yield f"{name}: its begin and its shop hours do not agree."
    if ends is None or to_the_minute(ends) != planned.ends:
        yield f"{name}: its end and its shop hours do not agree."


def _wall_times(facts: PlanFacts, placed: Placed) -> Iterator[str]:
    name, planned, task = facts.name(placed.task.key), placed.planned, placed.task
    for moment, told in ((planned.begins, placed.begin), (planned.ends, placed.end)):
        if not facts.shop.open_seconds(moment) <= told <= facts.shop.open_seconds(moment + MINUTE):
            yield f"{name}: its moments and its shop hours do not agree."
    if placed.setup:
        yield f"{name} takes no hands, yet a setup is got out for it."
    earliest = facts.earliest(task)
    if not _same_minute(planned.begins, earliest):
        yield f"{name} runs on the wall clock, yet it does not begin the moment it can."
    if task.outside_days is None:
        if planned.begins != planned.ends:
            yield f"{name} takes no hours, yet it ends after it begins."
        return
    days = dt.timedelta(seconds=round(task.outside_days * DAY.total_seconds()))
    back = planned.begins + days
    if task.begun_on is not None:
        back = max(from_the_start_of(task.begun_on) + days, planned.begins)
    if not _same_minute(planned.ends, back):
        yield f"{name} does not take its days of outside work."


def _same_minute(told: dt.datetime, expected: dt.datetime) -> bool:
    """Whether a moment cut to the minute fits one that is known to the minute only."""
    if expected >= dt.datetime.max - MINUTE:
        return False
    return to_the_minute(expected) <= told <= to_the_minute(expected + MINUTE)


def _precedence(facts: PlanFacts) -> Iterator[str]:
    for placed in facts.placed:
        name, latest = facts.name(placed.task.key), placed.begins + placed.blur
        for dependency in facts.into.get(placed.task.key, []):
            cleared = facts.cleared_by(dependency)
            if cleared is not None and cleared > latest:
                what = "the wait after " if dependency.wait_hours else ""
                yield f"{name} begins before {what}{facts.name(dependency.before)} is over."
        for part in facts.parts_holding(placed.task):
            there_from = facts.there_from(part)
            if there_from is None or there_from > latest:
                yield f"{name} begins before the part “{part.name}” is there."


# --- with what ------------------------------------------------------------------------------


def _most_at_once(needs: Iterable[tuple[int, int, int]]) -> int:
    """The most that is in use at one time; needs as (from, to, how many)."""
    changes: Counter[tuple[int, bool]] = Counter()
    for begin, end, count in needs:
        changes[begin, True] += count
        changes[end, False] -= count
    most = used = 0
    for _, change in sorted(changes.items()):  # what ends at a moment is free for what begins
        used += change
        most = max(most, used)
    return most


def _shop_work(facts: PlanFacts) -> list[Placed]:
    return [placed for placed in facts.placed if not placed.on_wall]


def _hands(facts: PlanFacts) -> Iterator[str]:
    most = _most_at_once((p.begin, p.end, p.task.people) for p in _shop_work(facts))
    if most > facts.build.shop.people:
        yield f"{most} people are at work at one time; there are {facts.build.shop.people}."


def _stations(facts: PlanFacts) -> Iterator[str]:
    for station in facts.build.shop.stations:
        most = _most_at_once(
            (p.begin, p.end, need.count)
            for p in _shop_work(facts)
            for need in p.task.stations
            if need.station == station.key
        )
        if most > station.count:
            yield f"{most} of “{station.name}” are in use at one time; there are {station.count}."


def _setups_in_use(facts: PlanFacts) -> Iterator[str]:
    for setup in facts.build.shop.setups:
        using = [(p.begin, p.end, 1) for p in _shop_work(facts) if p.task.setup == setup.key]
        if _most_at_once(using) > 1:
            yield f"The setup “{setup.name}” is used by more than one task at a time."


def _setup_hours(facts: PlanFacts) -> Iterator[str]:
    """Out are the setups last in use, as many as there are people; what is not is got out."""
    shop = facts.build.shop
    seconds = {setup.key: to_seconds(setup.hours) for setup in shop.setups}
    place = {setup.key: number for number, setup in enumerate(shop.setups)}
    used_until = {key: n - len(shop.setups_out) for n, key in enumerate(shop.setups_out)}
    for placed in _shop_work(facts):
        setup = placed.task.setup
        last_used = sorted(used_until, key=lambda key: (used_until[key], place[key]))
        due = 0 if setup is None or setup in last_used[-shop.people :] else seconds[setup]
        if placed.setup != due:
            yield f"{facts.name(placed.task.key)}: its set-up hours are not those due."
        if setup is not None:
            used_until[setup] = placed.end


def _stretches(facts: PlanFacts) -> Iterator[str]:
    for placed in _shop_work(facts):
        begins, name = facts.shop.begin_at(placed.work_begin), facts.name(placed.task.key)
        if placed.task.in_one_go and not (begins and facts.shop.within_one(begins, placed.ends)):
            yield f"{name} must go in one go, yet it is split over two sessions."
        if placed.task.helper and not (begins and facts.helper.within_one(begins, placed.ends)):
            yield f"{name} needs the helper, who is not there all the time."


def _helper_one_at_a_time(facts: PlanFacts) -> Iterator[str]:
    helped = [(p.work_begin, p.end, 1) for p in _shop_work(facts) if p.task.helper]
    if _most_at_once(helped) > 1:
        yield "The helper helps with more than one task at a time."


# --- first start ----------------------------------------------------------------------------


def _first_start(facts: PlanFacts) -> Iterator[str]:
    first = facts.placed_of.get(facts.build.first_start or "")
    at, hours = facts.plan.first_start_at, facts.plan.first_start_shop_hours
    if first is None:
        task = facts.task_of.get(facts.build.first_start or "")
        if (at is not None or hours is not None) and (task is None or task.finished_on is None):
            yield "First start has a date, yet its task is not planned."
    elif at != first.planned.ends or hours != first.planned.end_shop_hours:
        yield f"First start is not at the end of {facts.name(first.task.key)}."
