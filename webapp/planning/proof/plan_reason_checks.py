"""Checks that every reason of a plan binds, and that its path is a chain to first start.

A reason binds when what it names cleared after `now` and no open shop hour lies between that
and the begin; for work on the wall clock, no time at all.
"""

import datetime as dt
from collections.abc import Iterator

from webapp.planning.order.plan import PathStep, Reason
from webapp.planning.proof.plan_facts import MINUTE, Placed, PlanFacts, to_seconds, to_the_minute


def reason_violations(facts: PlanFacts) -> Iterator[str]:
    """Reasons that do not bind, and begins after `now` without a reason.

    Later work may stand without one: a house rule alone may have kept it out of the way.
    """
    for placed in facts.placed:
        name = facts.name(placed.task.key)
        late = placed.planned.begins > facts.build.now
        if late and placed.planned.for_first_start and not placed.planned.held_by:
            yield f"{name} begins after now without a reason."
        if len(set(placed.planned.held_by)) < len(placed.planned.held_by):
            yield f"{name} gives one reason twice."
        for reason in placed.planned.held_by:
            if not _binds(facts, placed, reason):
                yield f"{name}: the reason {reason.kind} {reason.what} does not bind."
        for missing in _left_out(facts, placed):
            yield f"{name}: the reason {missing.kind} {missing.what} binds but is left out."


def _binds(facts: PlanFacts, placed: Placed, reason: Reason) -> bool:
    if reason.kind in ("dependency", "wait", "part"):
        return any(
            _clears_at(facts, placed, cleared)
            for told, cleared in _things_waited_for(facts, placed)
            if told == reason
        )
    if placed.on_wall:
        return False
    if reason.kind == "people":
        return _hands_were_short(facts, placed, reason.what)
    if reason.kind == "station":
        return _station_was_short(facts, placed, reason.what)
    if reason.kind == "setup":
        return reason.what == placed.task.setup and any(
            other.task.setup == reason.what for other in _ended_as_it_begins(facts, placed)
        )
    return _waited_for_opening(facts, placed, reason)


def _left_out(facts: PlanFacts, placed: Placed) -> Iterator[Reason]:
    """Dependencies, waits and parts that bind without being named."""
    for reason, cleared in _things_waited_for(facts, placed):
        before = facts.placed_of.get(reason.what) if reason.kind != "part" else None
        if placed.on_wall or (before is not None and before.on_wall):
            continue  # known to the minute only
        if reason in placed.planned.held_by or not facts.build.now < cleared < dt.datetime.max:
            continue
        if facts.shop.open_seconds(cleared) == placed.begin:
            yield reason


def _things_waited_for(facts: PlanFacts, placed: Placed) -> Iterator[tuple[Reason, dt.datetime]]:
    """Dependencies, waits and parts of a task, each with the moment it cleared."""
    for dependency in facts.into.get(placed.task.key, []):
        cleared = facts.cleared_by(dependency)
        if cleared is not None:
            kind = "wait" if to_seconds(dependency.wait_hours) else "dependency"
            yield Reason(kind=kind, what=dependency.before), cleared  # type: ignore[arg-type]
    for part in facts.parts_holding(placed.task):
        there_from = facts.there_from(part)
        if there_from is not None:
            yield Reason(kind="part", what=part.key), there_from


def _clears_at(facts: PlanFacts, placed: Placed, cleared: dt.datetime) -> bool:
    """Whether a task could not begin before this moment, and could right after it."""
    now = facts.build.now
    if cleared + MINUTE <= now or cleared == dt.datetime.max:
        return False
    if placed.on_wall:
        return abs(cleared - placed.begins) <= MINUTE
    # What ran on the wall clock cleared within the minute after the one told.
    least, most = facts.shop.open_seconds(cleared), facts.shop.open_seconds(cleared + MINUTE)
    return least <= placed.begin <= most and cleared <= placed.begins


def _ended_as_it_begins(facts: PlanFacts, placed: Placed) -> list[Placed]:
    return [
        other
        for other in facts.placed
        if other is not placed and not other.on_wall and other.end == placed.begin
    ]


def _running_just_before(facts: PlanFacts, placed: Placed) -> list[Placed]:
    return [p for p in facts.placed if not p.on_wall and p.begin < placed.begin <= p.end]


def _hands_were_short(facts: PlanFacts, placed: Placed, what: str) -> bool:
    used = sum(other.task.people for other in _running_just_before(facts, placed))
    named = [other for other in _ended_as_it_begins(facts, placed) if other.task.key == what]
    return (
        any(other.task.people for other in named)
        and placed.task.people > 0
        and used + placed.task.people > facts.build.shop.people
    )


def _station_was_short(facts: PlanFacts, placed: Placed, what: str) -> bool:
    def needs(other: Placed) -> int:
        return sum(need.count for need in other.task.stations if need.station == what)

    counts = [station.count for station in facts.build.shop.stations if station.key == what]
    used = sum(needs(other) for other in _running_just_before(facts, placed))
    return (
        bool(counts)
        and needs(placed) > 0
        and any(needs(other) for other in _ended_as_it_begins(facts, placed))
        and used + needs(placed) > counts[0]
    )


def _waited_for_opening(facts: PlanFacts, placed: Placed, reason: Reason) -> bool:
    """A session, or a helper session, named by its opening, which came as the work could begin."""
    work_begins = facts.shop.begin_at(placed.work_begin)
    hours = facts.helper if reason.kind == "helper" else facts.shop
    if work_begins is None or (reason.kind == "helper" and not placed.task.helper):
        return False
    opening = hours.opening_before(work_begins)
    if reason.kind == "helper" and any(
        other is not placed and other.task.helper and other.end == placed.work_begin
        for other in facts.placed
    ):
        return reason.what in (_written(work_begins), _written(opening or work_begins))
    for begins in (placed.begins, work_begins):
        opening = hours.opening_before(begins)
        if opening == begins and begins > facts.build.now and _written(opening) == reason.what:
            return True
    return False


def _written(moment: dt.datetime) -> str:
    return moment.isoformat(timespec="minutes")


# --- the path -------------------------------------------------------------------------------


def path_violations(facts: PlanFacts) -> Iterator[str]:
    """Whether the path leads from now to first start, without an open shop hour left out."""
    path = facts.plan.path
    on_path = {step.what for step in path if step.kind == "task"}
    for placed in facts.placed:
        if placed.planned.on_path != (placed.task.key in on_path):
            yield f"{facts.name(placed.task.key)}: it is told wrongly whether it is on the path."
    if facts.plan.first_start_at is None:
        if path:
            yield "There is a path to first start, which has no date."
        return
    first = facts.build.first_start
    if not path:
        if first in facts.placed_of:
            yield "There is no path to first start, which has a date."
        return
    if path[-1].kind != "task" or path[-1].what != first:
        yield "The path does not end at first start."
    at = facts.build.now
    for step in path:
        if step.begins < at - MINUTE or facts.shop.open_seconds(step.begins) > (
            facts.shop.open_seconds(at + MINUTE)
        ):
            yield f"The path has a gap or goes back at the {step.kind} {step.what}."
        at = step.ends
    for step, after in zip(path, (*path[1:], None), strict=True):
        yield from _step_violations(facts, step, after)


def _step_violations(facts: PlanFacts, step: PathStep, after: PathStep | None) -> Iterator[str]:
    told = f"The path's {step.kind} {step.what}"
    if step.ends < step.begins:
        yield f"{told} ends before it begins."
    for moment in (step.begins, step.ends):
        if moment != to_the_minute(moment):
            yield f"{told} is not told to the minute."
            break
    if step.kind == "task":
        placed = facts.placed_of.get(step.what)
        if placed is None:
            yield f"{told} is not planned."
        elif (to_the_minute(step.begins), to_the_minute(step.ends)) != (
            placed.planned.begins,
            placed.planned.ends,
        ):
            yield f"{told} does not stand where it is planned."
        return
    if after is not None and after.kind in ("session", "helper"):
        return  # then that session or the helper was waited for on top
    if after is None or after.kind != "task" or after.what not in facts.placed_of:
        yield f"{told} leads to no task."
    elif step.ends > after.begins:
        yield f"{told} ends after {facts.name(after.what)} begins."
    elif step.kind in ("wait", "part"):
        reasons = facts.placed_of[after.what].planned.held_by
        if not any((reason.kind, reason.what) == (step.kind, step.what) for reason in reasons):
            yield f"{told} does not hold {facts.name(after.what)}."
