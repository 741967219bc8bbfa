"""A plan as JSON for other programs."""

import datetime as dt
from collections.abc import Mapping, Sequence

from webapp.build.build_input import BuildInput
from webapp.build.due_days import due_of
from webapp.build.moments import date_of
from webapp.planning.network.outside_holds import holding_parts
from webapp.planning.order.plan import Plan, PlannedTask
from webapp.planning.tighten.tighten import Tightened


def plan_document(
    plan: Plan,
    days_cost: Mapping[str, float],
    tightened: Tightened | None = None,
    *,
    unplanned: Mapping[str, str] | None = None,
    assumed: Sequence[dict[str, str]] = (),
) -> dict[str, object]:
    """The plan in the fields of `keyturn plan --json`, with the bound where it was tightened.

    `days_cost` is days of first start by task key; a task that is not in it gets null, as all
    do where first start has no date. `unplanned` says of each task that is left out
    why; without it that goes unsaid. `assumed` are the parts of `assumed_parts`, left out where
    there are none.
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
    document: dict[str, object] = {
        "first_start": first_start,
        "tasks": [_task(task, days_cost.get(task.key)) for task in plan.tasks],
        "unplanned": [_left_out(task.key, unplanned) for task in plan.unplanned],
    }
    return document | {"assumed": [*assumed]} if assumed else document


def assumed_parts(build: BuildInput) -> tuple[dict[str, str], ...]:
    """The parts that open tasks wait for whose day of arrival nobody entered, as entered.

    Each with the day that the plan reckons with, and what that day rests on.
    """
    holding = dict.fromkeys(part for part, _ in holding_parts(build))
    dues = ((part, due_of(part, build.now.date())) for part in holding)
    return tuple(
        {"part": part.key, "on": date_of(due.on).isoformat(), "from": due.basis}
        for part, due in dues
        if due is not None and due.assumed
    )


def earlier_records(build: BuildInput) -> tuple[dict[str, object], ...]:
    """The records of earlier builds that the draws hear: whose, of which day, and how much of it.

    Tasks where estimates are corrected by the record, weeks where attendance counts.
    """
    heard = []
    for record in build.earlier_records:
        tasks = record.tasks if build.calibrated else 0
        weeks = record.weeks if build.attended else 0
        if record.counts and (tasks or weeks):
            taken_on = record.taken_on.isoformat()
            heard.append(
                {"build": record.name, "taken_on": taken_on, "tasks": tasks, "weeks": weeks}
            )
    return tuple(heard)


def _left_out(key: str, why: Mapping[str, str] | None) -> dict[str, object]:
    return {"key": key} if why is None else {"key": key, "why": why[key]}


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
