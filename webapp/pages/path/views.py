"""What the Path page shows: the picture, the path as a list, what each task costs."""

from dataclasses import dataclass

from webapp.build.by_key import find_by_key, get_by_key
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.frame.pace import pace_how
from webapp.pages.path.made_of_view import MadeOfView, made_of_view
from webapp.pages.path.path_list import PathLine, path_list
from webapp.pages.path.run_model import NO_SUBSYSTEM, run_model
from webapp.pages.path.sureness import SurenessView, draws_words, sureness_view
from webapp.pages.path.winning import WinningView, winning_view
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How
from webapp.pages.words.how_moves import costs_how
from webapp.pages.words.media import MEDIUM_WORDS
from webapp.pages.words.missing import missing_words
from webapp.pages.words.moves import cost_of_task_words
from webapp.pages.words.the_end import capital_end, the_end
from webapp.pages.words.unplanned import unplanned_words
from webapp.pictures.pipe_run import wide
from webapp.pictures.pipe_run_model import PipeRun, PipeRunModel
from webapp.pictures.pipe_run_upright import upright
from webapp.planning.chances.luck import DRAWS
from webapp.planning.order.plan import Plan

COSTS_SHOWN = 10
"""So many of the dearest tasks stand open on the page, the rest behind a press."""
COSTLY_DAYS = 0.05
"""Below this a cost is shown as 0 days: it stands with the tasks that cost nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CostLine:
    name: str
    address: str
    days: str
    total_float: str
    free_float: str
    on_path: bool
    draws: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SubsystemLine:
    """What the picture says of one pipe."""

    name: str
    medium: str
    done: int
    to_come: int
    first: str
    last: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PathView:
    pictures: tuple[PipeRun, ...]
    subsystems: tuple[SubsystemLine, ...]
    path: tuple[PathLine, ...]
    costs: tuple[CostLine, ...]
    more_costs: tuple[CostLine, ...]
    costs_how: How | None
    path_how: How | None
    free: tuple[CostLine, ...]
    later: int
    unpriced: int
    pricing: str
    no_date: str | None
    sureness: SurenessView
    winning: WinningView | None
    made_of: MadeOfView | None


def path_view(page: PageContext) -> PathView:
    """The Path page; without a plan only the reason why there is none."""
    plan = page.plan
    if plan is None or not page.build.tasks:
        return PathView(
            pictures=(),
            subsystems=(),
            path=(),
            costs=(),
            more_costs=(),
            costs_how=None,
            path_how=None,
            free=(),
            later=0,
            unpriced=0,
            pricing="",
            no_date=_no_date(page, plan),
            sureness=sureness_view(page),
            winning=None,
            made_of=None,
        )
    model = run_model(page, plan)
    levers = page.planned.levers()  # once: what shortens a wait has the figure it has among them
    lines = _cost_lines(page, plan)
    costs = tuple(line for line, days in lines if days >= COSTLY_DAYS)
    return PathView(
        pictures=_pictures(page, model) if model.pipes else (),
        subsystems=_subsystem_lines(page, plan),
        path=path_list(page, plan, levers.value),
        costs=costs[:COSTS_SHOWN],
        more_costs=costs[COSTS_SHOWN:],
        costs_how=_costs_how(page, plan),
        path_how=pace_how(page),
        free=tuple(line for line, days in lines if days < COSTLY_DAYS),
        later=sum(not task.for_first_start for task in plan.tasks),
        unpriced=max(0, sum(task.for_first_start for task in plan.tasks) - len(lines))
        if lines
        else 0,
        pricing=_pricing(page),
        no_date=_no_date(page, plan),
        sureness=sureness_view(page),
        winning=winning_view(page, levers) if plan.first_start_at is not None else None,
        made_of=made_of_view(page),
    )


def _costs_how(page: PageContext, plan: Plan) -> How | None:
    """How the costs were worked out, with the dearest task as the example."""
    cost = page.planned.task_costs().value or {}
    priced = [task for task in plan.tasks if task.for_first_start and task.key in cost]
    if not priced:
        return None
    dearest = max(priced, key=lambda task: cost[task.key].added_days)
    name = get_by_key(page.build.tasks, dearest.key).name
    return costs_how(name, cost[dearest.key], dearest.total_float_hours)


def _pricing(page: PageContext) -> str:
    """That the costs are still worked out, "" once they are."""
    costs, shares = page.planned.task_costs(), page.planned.criticality()
    if not costs.ready or not shares.ready:
        return "What each task costs is being worked out."
    few = next((move.draws for move in (costs.value or {}).values() if move.draws), DRAWS)
    if few < DRAWS:
        return f"So far from {few} draws; the rest is being worked out."
    return ""


def _no_date(page: PageContext, plan: Plan | None) -> str | None:
    """Why first start has no date; None when it has one."""
    if plan is not None and plan.first_start_at is not None:
        return None
    build = page.build
    first = find_by_key(build.tasks, build.first_start)
    if first is None:
        return f"No task is named as {the_end()}, so nothing can lead to it. Name it in the Shop."
    if first.finished_on is not None:
        return f"{capital_end()} was on {words.day(first.finished_on, today=page.today)}."
    if plan is None:
        return f"{capital_end()} has no date while faults stand in the way of a plan."
    if missing := missing_words(build):
        return missing
    why = unplanned_words(build, plan).get(first.key, "")
    return why or f"{capital_end()} waits for something that has no date."


def _pictures(page: PageContext, model: PipeRunModel) -> tuple[PipeRun, ...]:
    # Setting the labels of hundreds of tasks takes a while; the same build is looked at many times.
    drawn: tuple[PipeRun, ...] = page.planned.drawn.get_or_keep(
        model, lambda: (wide(model), upright(model))
    )
    return drawn


def _cost_lines(page: PageContext, plan: Plan) -> list[tuple[CostLine, float]]:
    """Every open task with its cost in days, largest first; the least float first among equals."""
    tasks = {task.key: task for task in page.build.tasks}
    cost = page.planned.task_costs().value or {}
    shares = page.planned.criticality().value or {}
    ordered = sorted(
        (task for task in plan.tasks if task.for_first_start and task.key in cost),
        key=lambda task: (-round(cost[task.key].added_days, 2), task.total_float_hours),
    )
    return [
        (
            CostLine(
                name=tasks[task.key].name,
                address=addresses.task(page.slug, task.key),
                days=cost_of_task_words(cost[task.key]),
                total_float=words.number(round(task.total_float_hours, 1), 1),
                free_float=words.number(round(task.free_float_hours, 1), 1),
                on_path=task.on_path,
                draws=draws_words(shares.get(task.key)),
            ),
            cost[task.key].added_days,
        )
        for task in ordered
    ]


def _subsystem_lines(page: PageContext, plan: Plan) -> tuple[SubsystemLine, ...]:
    planned = [task for task in plan.tasks if task.for_first_start]
    subsystem_of = {task.key: task.subsystem for task in page.build.tasks}
    named = [
        (one.key, one.name, MEDIUM_WORDS[one.medium])
        for one in sorted(page.build.subsystems, key=lambda one: one.order)
    ]
    lines = []
    for key, name, medium in [*named, (None, NO_SUBSYSTEM, MEDIUM_WORDS["none"])]:
        own = [task for task in planned if subsystem_of[task.key] == key]
        done = sum(
            task.finished_on is not None for task in page.build.tasks if task.subsystem == key
        )
        if not own and not done:
            continue
        first = min((task.begins for task in own), default=None)
        last = max((task.ends for task in own), default=None)
        lines.append(
            SubsystemLine(
                name=name,
                medium=medium,
                done=done,
                to_come=len(own),
                first=words.short_day(first, today=page.today) if first else "",
                last=words.short_day(last, today=page.today) if last else "",
            )
        )
    return tuple(lines)
