"""A plan as the model of the pipe run."""

import datetime as dt

from webapp.build.build_input import Moment, Task
from webapp.build.time.shop_calendar import last_closing
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.media import MEDIUM_WORDS
from webapp.pages.words.path_waits import wait_in_short
from webapp.pages.words.reasons import ReasonWords
from webapp.pages.words.the_end import capital_end
from webapp.pictures.pipe_run_model import (
    Block,
    Chances,
    Fall,
    HandsRun,
    Nick,
    Pipe,
    PipeRunModel,
    Wait,
)
from webapp.planning.order.plan import PathStep, Plan, PlannedTask
from webapp.planning.order.stretches import Descent, Stretch, path_pieces

NO_SUBSYSTEM = "No subsystem"


def run_model(page: PageContext, plan: Plan) -> PipeRunModel:
    """One pipe a subsystem in working order, with what is done and what first start needs."""
    planned = {task.key: task for task in plan.tasks}
    blocks: dict[str | None, list[Block]] = {}
    for task in page.build.tasks:
        block = _block(page, task, planned.get(task.key))
        if block is not None:
            blocks.setdefault(task.subsystem, []).append(block)
    in_order = sorted(page.build.subsystems, key=lambda one: one.order)
    keys: list[str | None] = [one.key for one in in_order if one.key in blocks]
    pipes = [
        Pipe(
            name=one.name,
            medium=one.medium,
            medium_word=MEDIUM_WORDS[one.medium],
            blocks=tuple(blocks[one.key]),
        )
        for one in in_order
        if one.key in blocks
    ]
    if None in blocks:
        keys.append(None)
        pipes.append(
            Pipe(
                name=NO_SUBSYSTEM,
                medium="none",
                medium_word=MEDIUM_WORDS["none"],
                blocks=tuple(blocks[None]),
            )
        )
    at = plan.first_start_at
    return PipeRunModel(
        now=page.now,
        first_start_at=at,
        first_start_words=_first_start_words(page, at),
        chances=_chances(page, at),
        pipes=tuple(pipes),
        path=_path(page, plan, keys),
    )


def _first_start_words(page: PageContext, at: dt.datetime | None) -> tuple[str, ...]:
    if at is None:
        return (f"{capital_end()} has no date",)
    return f"{capital_end()}, likely", words.day(at, today=page.today)


def _chances(page: PageContext, likely: dt.datetime | None) -> Chances | None:
    if page.figures is None or likely is None:
        return None
    forecast, today = page.figures.forecast, page.today
    early, late = forecast.at(0.1), forecast.at(0.9)
    first, last = words.short_day(early, today=today), words.short_day(late, today=today)
    return Chances(
        likely=likely,
        early=early,
        late=late,
        words=(f"between {first}", f"and {last},", "8 times in 10"),
    )


def _path(page: PageContext, plan: Plan, keys: list[str | None]) -> tuple[HandsRun | Fall, ...]:
    reasons = ReasonWords(page.build, plan)
    return tuple(
        _hands_run(piece) if isinstance(piece, Stretch) else _fall(reasons, piece, keys)
        for piece in path_pieces(page.build, plan)
    )


def _hands_run(piece: Stretch) -> HandsRun:
    return HandsRun(
        letter=piece.letter,
        tasks=words.count(len(piece.steps), "task"),
        hours=words.tenth_hours(piece.hours),
        begins=piece.begins,
        ends=piece.ends,
        ticks=tuple(step.begins for step in piece.steps),
        nicks=tuple(Nick(number=one.number, at=_middle(one.step)) for one in piece.waits),
    )


def _fall(reasons: ReasonWords, piece: Descent, keys: list[str | None]) -> Fall:
    return Fall(
        pipe=keys.index(piece.subsystem),
        begins=piece.begins,
        ends=piece.ends,
        waits=tuple(
            Wait(number=one.number, at=_middle(one.step), words=wait_in_short(reasons, one))
            for one in piece.waits
        ),
    )


def _middle(step: PathStep) -> dt.datetime:
    return step.begins + (step.ends - step.begins) / 2


def _block(page: PageContext, task: Task, planned: PlannedTask | None) -> Block | None:
    """A finished task, or a planned one that first start needs; None for all others."""
    if task.finished_on is not None:
        ends = _ends(page, task.finished_on)
        begins = _begins(task.begun_on) if task.begun_on is not None else None
        if begins is None or begins >= ends:
            begins = ends - dt.timedelta(hours=max(4.0, task.hours.expected))
        return Block(begins=begins, ends=ends, done=True)
    if planned is None or not planned.for_first_start:
        return None
    return Block(begins=planned.begins, ends=planned.ends, done=False)


def _begins(when: Moment) -> dt.datetime:
    return when if isinstance(when, dt.datetime) else dt.datetime.combine(when, dt.time(9))


def _ends(page: PageContext, when: Moment) -> dt.datetime:
    return when if isinstance(when, dt.datetime) else last_closing(page.build.shop, when)
