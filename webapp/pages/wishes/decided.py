"""Decided wishes: what each was said to cost, and what it really took."""

from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key
from webapp.build.hours_to_go import hours_to_go_of
from webapp.build.logged_hours import logged_hours
from webapp.build.verbs.wish_decisions import is_begun
from webapp.build.wish import WayFigures, Wish
from webapp.pages import addresses
from webapp.pages.forms.asking import seen_of
from webapp.pages.frame.context import PageContext
from webapp.pages.wishes.taking_back import going_with_decision
from webapp.pages.wishes.ways import WayColumn, way_columns
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How, took_how
from webapp.pages.words.moves import cost_words, way_words
from webapp.planning.bridge.wish_took import TookDays, real_days
from webapp.planning.chances.luck import DRAWS

DECIDED_SHOWN = 3
"""So many of the last decided wishes stand open on the page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WishTask:
    name: str
    address: str
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DecidedWish:
    """One decided wish in words. `said_*` are the figures on the table when it was decided, `seen`
    is what the press that takes the decision back carries."""

    key: str
    text: str
    way: str
    decided_on: str
    why: str
    said_hours: str
    said_days: str
    real_hours: str
    real_days: str
    tasks: tuple[WishTask, ...]
    columns: tuple[WayColumn, ...]
    can_take_back: bool
    seen: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DecidedView:
    """`how` says how the days are worked out; `working` while they are.

    The first `shown` of the wishes, the last decided, stand open, those before them folded.
    """

    wishes: tuple[DecidedWish, ...]
    shown: int
    how: How
    working: bool


def decided_view(page: PageContext) -> DecidedView:
    """Every decided wish, the last decided first."""
    build = page.build
    decided = [(w.decision.decided_on, n, w) for n, w in enumerate(build.wishes) if w.decision]
    wishes = [wish for *_, wish in sorted(decided, key=lambda one: one[:2], reverse=True)]
    days: dict[str, TookDays] | None = {}
    working = False
    if any(task.wish for task in build.tasks) and page.plan is not None:
        planned = page.planned
        answer = planned.background.ask(
            (page.slug, "wish days"),
            planned.version,
            lambda: real_days(planned.planned_input, planned.factors),
            now=page.now,
        )
        days, working = answer.value, not answer.ready
    return DecidedView(
        wishes=tuple(_decided(page, wish, days) for wish in wishes),
        shown=DECIDED_SHOWN,
        how=took_how(draws=DRAWS),
        working=working,
    )


def _decided(page: PageContext, wish: Wish, days: dict[str, TookDays] | None) -> DecidedWish:
    assert wish.decision is not None
    decision, build = wish.decision, page.build
    said = next((one for one in decision.figures if one.way == decision.way), None)
    own = [task for task in build.tasks if task.wish == wish.key]
    logged = logged_hours(build.log)
    worked = sum(logged.get(task.key, 0.0) for task in own)
    left = sum(hours_to_go_of(build, task) for task in own if task.is_open)
    real_days = days.get(wish.key) if days is not None else None
    return DecidedWish(
        key=wish.key,
        text=wish.text,
        way=words.sentence(decision.way),
        decided_on=words.day(decision.decided_on, today=page.today),
        why=decision.why,
        said_hours=words.tenth_hours(said.hours) if said else "not kept",
        said_days=_said_days(said),
        real_hours=f"{words.tenth_hours(worked)} + {words.tenth_hours(left)} left"
        if own
        else "no work",
        real_days=_took_words(real_days) if own else "no work",
        tasks=tuple(
            WishTask(
                name=task.name,
                address=addresses.task(page.slug, task.key),
                state=_state(build, task.key),
            )
            for task in own
        ),
        columns=way_columns(page, decision.figures),
        can_take_back=not any(is_begun(build, task.key) for task in own),
        seen=seen_of(going_with_decision(build, wish)),
    )


def _said_days(said: WayFigures | None) -> str:
    if said is None or said.move_days is None:
        return "not kept"
    return way_words(said)


def _took_words(took: TookDays | None) -> str:
    return "" if took is None else cost_words(took.days, took.error_days)


def _state(build: BuildInput, key: str) -> str:
    task = get_by_key(build.tasks, key)
    if task.finished_on is not None:
        return "finished"
    if task.set_aside_on is not None:
        return "set aside"
    return "begun" if is_begun(build, key) else "not begun"
