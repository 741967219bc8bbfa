"""A plan as JSON for other programs, and as a table for the eye."""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.checks.fault_words import shown
from webapp.planning.order.plan import Plan, PlannedTask, Reason
from webapp.planning.tighten.tighten import Tightened

HELD_BY_WORDS = {
    "dependency": "after {}",
    "wait": "wait after {}",
    "part": "part {}",
    "people": "hands on {}",
    "station": "station {}",
    "setup": "setup {}",
    "helper": "helper from {}",
    "session": "shop opens {}",
}


def plan_document(
    plan: Plan, days_cost: Mapping[str, float], tightened: Tightened | None = None
) -> dict[str, object]:
    """The plan in the fields of `keyturn plan --json`, with the bound where it was tightened.

    `days_cost` is days of first start by task key; a task that is not in it gets null, as all
    do where first start has no date.
    """
    first_start: dict[str, object] | None = None
    if plan.first_start_at is not None:
        first_start = {
            "at": _minute(plan.first_start_at),
            "shop_hours": plan.first_start_shop_hours,
        }
        if tightened is not None:
            first_start["bound_shop_hours"] = tightened.bound_shop_hours
            first_start["proved_best"] = tightened.proved_best
    return {
        "first_start": first_start,
        "tasks": [_task(task, days_cost.get(task.key)) for task in plan.tasks],
        "unplanned": [{"key": task.key, "why": task.why} for task in plan.unplanned],
    }


def _task(task: PlannedTask, days: float | None) -> dict[str, object]:
    return {
        "key": task.key,
        "begins": _minute(task.begins),
        "ends": _minute(task.ends),
        "begin_shop_hours": task.begin_shop_hours,
        "end_shop_hours": task.end_shop_hours,
        "setup_hours": task.setup_hours,
        "held_by": [{"kind": reason.kind, "what": reason.what} for reason in task.held_by],
        "total_float_hours": task.total_float_hours,
        "free_float_hours": task.free_float_hours,
        "on_path": task.on_path,
        "days_cost": days,
    }


def _minute(moment: dt.datetime) -> str:
    return moment.isoformat(timespec="minutes")


def plan_table(
    build: BuildInput,
    plan: Plan,
    days_cost: Mapping[str, float],
    tightened: Tightened | None = None,
    chances: Sequence[str] = (),
) -> str:
    """The plan as lines of text: first start, the job order, and what cannot be planned.

    `chances` are lines about how sure first start is.
    """
    lines = [*_heading(build, plan), *chances, *_proved(plan, tightened)]
    return "\n".join([*lines, *_rows(build, plan, days_cost), *_gaps(build, plan)])


def _heading(build: BuildInput, plan: Plan) -> Iterator[str]:
    yield shown(build.name)
    if plan.first_start_at is not None:
        hours = plan.first_start_shop_hours or 0.0
        yield f"First start {_eye(plan.first_start_at)}, {hours:.1f} shop hours from now."
        return
    first = find_by_key(build.tasks, build.first_start)
    if first is not None and first.finished_on is not None:
        yield "First start is done."
    else:
        yield "First start has no date: see below what stands in the way."


def _proved(plan: Plan, tightened: Tightened | None) -> Iterator[str]:
    if tightened is None:
        return
    yield from tightened.blocked
    hours, bound = plan.first_start_shop_hours, tightened.bound_shop_hours
    if hours is None or bound is None:
        return
    if tightened.proved_best:
        yield "This is the best possible order."
    else:
        yield f"Within {hours - bound:.1f} shop hours of the best possible."
    house = tightened.house_rules.first_start_at
    if house is not None and plan.first_start_at is not None:
        days = (house - plan.first_start_at) / dt.timedelta(days=1)
        yield f"The house rules bring first start {days:.1f} days later."


def _rows(build: BuildInput, plan: Plan, days_cost: Mapping[str, float]) -> Iterator[str]:
    if not plan.tasks:
        return
    names = _names(build)
    width = max(len(names[task.key]) for task in plan.tasks)
    yield ""
    yield (
        f"  {'begins':16} {'ends':16} {'hours':>6} {'float':>7} {'cost':>6}  {'task':{width}}  why"
    )
    for task in plan.tasks:
        hours = task.end_shop_hours - task.begin_shop_hours
        days = days_cost.get(task.key)
        cost = "" if days is None else f"{days:.1f}"
        why = _because(task.held_by, names)
        line = (
            f"{'*' if task.on_path else ' '} {_eye(task.begins):16} {_eye(task.ends):16} "
            f"{hours:6.1f} {task.total_float_hours:7.1f} {cost:>6}  "
            f"{names[task.key]:{width}}  {why}"
        )
        yield line.rstrip()
    yield ""
    yield "* on the path to first start. Hours and float in shop hours, cost in days."


def _gaps(build: BuildInput, plan: Plan) -> Iterator[str]:
    if not plan.unplanned:
        return
    names = _names(build)
    yield ""
    yield "Cannot be planned:"
    for task in plan.unplanned:
        yield f"  {names.get(task.key, shown(task.key))}: {task.why}"


def _names(build: BuildInput) -> dict[str, str]:
    return {task.key: shown(task.name) for task in build.tasks}


def _because(reasons: Sequence[Reason], names: Mapping[str, str]) -> str:
    """What held a start; the hands go unsaid where the task that had them is named already."""
    before = {reason.what for reason in reasons if reason.kind in ("dependency", "wait")}
    said = []
    for reason in reasons:
        if reason.kind == "people" and reason.what in before:
            continue
        is_task = reason.kind in ("dependency", "wait", "people")
        what = names.get(reason.what, reason.what) if is_task else reason.what
        said.append(HELD_BY_WORDS[reason.kind].format(shown(what)))
    return ", ".join(said)


def _eye(moment: dt.datetime) -> str:
    return moment.strftime("%Y-%m-%d %H:%M")
