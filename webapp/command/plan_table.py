"""A plan as lines of text for the eye."""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.checks.fault_words import shown
from webapp.exchange.forecast_document import SHARES
from webapp.pages.words.blocks import block_words
from webapp.pages.words.missing import missing_words
from webapp.pages.words.the_end import capital_end, the_end
from webapp.pages.words.unplanned import gap_words
from webapp.planning.chances.forecast import Forecast
from webapp.planning.order.plan import Plan, Reason
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


def plan_table(
    build: BuildInput,
    plan: Plan,
    days_cost: Mapping[str, float],
    tightened: Tightened | None = None,
    chances: Sequence[str] = (),
) -> str:
    """The plan as lines of text: first start, the job order, and what keeps tasks out of it.

    `chances` are lines about how sure first start is.
    """
    lines = [*_heading(build, plan), *chances, *_proved(build, plan, tightened)]
    return "\n".join([*lines, *_rows(build, plan, days_cost), *_gaps(build, plan)])


def _heading(build: BuildInput, plan: Plan) -> Iterator[str]:
    yield shown(build.name)
    if plan.first_start_at is not None:
        hours = plan.first_start_shop_hours or 0.0
        yield f"{capital_end()} {_eye(plan.first_start_at)}, {hours:.1f} shop hours from now."
        return
    first = find_by_key(build.tasks, build.first_start)
    if first is not None and first.finished_on is not None:
        yield f"{capital_end()} is done."
    elif missing := missing_words(build):
        yield f"{capital_end()} has no date. {missing}"
    else:
        yield f"{capital_end()} has no date: see below what stands in the way."


def _proved(build: BuildInput, plan: Plan, tightened: Tightened | None) -> Iterator[str]:
    if tightened is None:
        return
    yield from block_words(build, tightened.blocked)
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
        yield f"The house rules bring {the_end()} {days:.1f} days later."


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
    yield f"* on the path to {the_end()}. Hours and float in shop hours, cost in days."


def _gaps(build: BuildInput, plan: Plan) -> Iterator[str]:
    if not plan.unplanned:
        return
    yield ""
    yield "Cannot be planned:"
    for _, why in gap_words(build, plan):
        yield f"  {shown(why)}"


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


def chance_words(forecast: Forecast | None) -> str:
    """The chances in one line: "10% by 2026-05-20 19:30, 50% by ..."."""
    if forecast is None:
        return f"No chances can be given while {the_end()} has no date."
    chances = (f"{share:.0%} by {forecast.at(share):%Y-%m-%d %H:%M}" for share in SHARES.values())
    return f"{capital_end()}, of {len(forecast.end_wall):,} draws: {', '.join(chances)}."
