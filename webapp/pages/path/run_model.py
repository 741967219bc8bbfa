"""A plan as the model of the pipe run."""

import datetime as dt

from webapp.build.build_input import Medium, Moment, Task
from webapp.build.time.shop_calendar import last_closing
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pictures.pipe_run_model import Chances, PathLeg, Pipe, PipeRunModel, Stretch
from webapp.planning.order.plan import Plan, PlannedTask

MEDIUM_WORDS: dict[Medium, str] = {
    "air": "air",
    "water": "fresh water",
    "fuel": "fuel",
    "oil": "oil",
    "gas": "gas",
    "vacuum": "vacuum",
    "electrical": "electrical",
    "none": "no medium",
}
NO_SUBSYSTEM = "No subsystem"
MOST_UPRIGHT_PIPES = 14


def run_model(page: PageContext, plan: Plan) -> PipeRunModel:
    """One pipe a subsystem in working order, with what is done and what first start needs."""
    planned = {task.key: task for task in plan.tasks}
    stretches: dict[str | None, list[Stretch]] = {}
    for task in page.build.tasks:
        stretch = _stretch(page, task, planned.get(task.key))
        if stretch is not None:
            stretches.setdefault(task.subsystem, []).append(stretch)
    in_order = sorted(page.build.subsystems, key=lambda one: one.order)
    keys: list[str | None] = [one.key for one in in_order if one.key in stretches]
    pipes = [
        Pipe(
            name=one.name,
            medium=one.medium,
            medium_word=MEDIUM_WORDS[one.medium],
            stretches=tuple(stretches[one.key]),
        )
        for one in in_order
        if one.key in stretches
    ]
    if None in stretches:
        keys.append(None)
        pipes.append(
            Pipe(
                name=NO_SUBSYSTEM,
                medium="none",
                medium_word=MEDIUM_WORDS["none"],
                stretches=tuple(stretches[None]),
            )
        )
    at = plan.first_start_at
    return PipeRunModel(
        now=page.now,
        first_start_at=at,
        first_start_words=_first_start_words(page, at),
        chances=_chances(page, at),
        pipes=tuple(pipes),
        path=_path_legs(page, plan, keys),
    )


def _first_start_words(page: PageContext, at: dt.datetime | None) -> str:
    if at is None:
        return "First start has no date"
    return f"First start, likely {words.day(at, today=page.today)}"


def _chances(page: PageContext, likely: dt.datetime | None) -> Chances | None:
    if page.figures is None or likely is None:
        return None
    forecast, today = page.figures.forecast, page.today
    early, late = forecast.at(0.1), forecast.at(0.9)
    between = f"{words.day(early, today=today)} and {words.day(late, today=today)}"
    return Chances(
        likely=likely,
        early=early,
        late=late,
        words=f"between {between}, 8 times in 10",
    )


def fewer_pipes(model: PipeRunModel) -> PipeRunModel:
    """The same with at most as many pipes as stand side by side on a phone: those of the path."""
    if len(model.pipes) <= MOST_UPRIGHT_PIPES:
        return model
    on_path = list(dict.fromkeys(leg.pipe for leg in model.path))[:MOST_UPRIGHT_PIPES]
    kept = sorted(on_path) or list(range(MOST_UPRIGHT_PIPES))
    place = {pipe: i for i, pipe in enumerate(kept)}
    return PipeRunModel(
        now=model.now,
        first_start_at=model.first_start_at,
        first_start_words=model.first_start_words,
        chances=model.chances,
        pipes=tuple(model.pipes[i] for i in kept),
        path=tuple(
            PathLeg(
                number=leg.number,
                name=leg.name,
                pipe=place[leg.pipe],
                begins=leg.begins,
                ends=leg.ends,
            )
            for leg in model.path
            if leg.pipe in place
        ),
    )


def _path_legs(page: PageContext, plan: Plan, keys: list[str | None]) -> tuple[PathLeg, ...]:
    tasks = {task.key: task for task in page.build.tasks}
    steps = [step for step in plan.path if step.kind == "task"]
    return tuple(
        PathLeg(
            number=number,
            name=tasks[step.what].name,
            pipe=keys.index(tasks[step.what].subsystem),
            begins=step.begins,
            ends=step.ends,
        )
        for number, step in enumerate(steps, start=1)
    )


def _stretch(page: PageContext, task: Task, planned: PlannedTask | None) -> Stretch | None:
    """A finished task, or a planned one that first start needs; None for all others."""
    if task.finished_on is not None:
        ends = _ends(page, task.finished_on)
        begins = _begins(task.begun_on) if task.begun_on is not None else None
        if begins is None or begins >= ends:
            begins = ends - dt.timedelta(hours=max(4.0, task.hours.expected))
        return Stretch(begins=begins, ends=ends, done=True)
    if planned is None or not planned.for_first_start:
        return None
    return Stretch(begins=planned.begins, ends=planned.ends, done=False)


def _begins(when: Moment) -> dt.datetime:
    return when if isinstance(when, dt.datetime) else dt.datetime.combine(when, dt.time(9))


def _ends(page: PageContext, when: Moment) -> dt.datetime:
    return when if isinstance(when, dt.datetime) else last_closing(page.build.shop, when)
