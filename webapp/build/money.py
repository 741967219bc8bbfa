"""What a build costs, item by item: sums in whole hundredths, so that they add up exactly.

An item is a part, work that costs money (outside work, what a task uses up), or the other money
of a wish that was accepted. What was paid counts where that is said, else the estimate. An
undecided wish costs nothing yet.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_EVEN, Decimal
from typing import Literal

from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.hours_to_go import hours_to_go_of
from webapp.build.wish import Wish

MoneyKind = Literal["part", "task", "wish"]
MoneyState = Literal["spent", "committed", "to come"]


def cents_of(value: float) -> int:
    """A sum in whole hundredths; of what was typed with more digits the nearest one."""
    return int((Decimal(repr(float(value))) * 100).to_integral_value(ROUND_HALF_EVEN))


@dataclass(frozen=True, slots=True, kw_only=True)
class MoneyItem:
    """One thing that costs money, in hundredths. `estimate` and `paid` are None where not said.

    `subsystem` and `wish` are the keys of what it counts with. A sum paid below zero came back.
    """

    kind: MoneyKind
    key: str
    name: str
    estimate: int | None
    paid: int | None
    state: MoneyState
    subsystem: str | None = None
    wish: str | None = None

    @property
    def cents(self) -> int:
        """What it counts for: what was paid, else the estimate, else nothing."""
        return self.paid if self.paid is not None else self.estimate or 0

    @property
    def is_known(self) -> bool:
        return self.paid is not None or self.estimate is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sums:
    """Hundredths that are spent, ordered and not paid, and still to come."""

    spent: int = 0
    committed: int = 0
    to_come: int = 0

    @property
    def total(self) -> int:
        return self.spent + self.committed + self.to_come


def sums_of(items: Iterable[MoneyItem]) -> Sums:
    """The three sums of some items."""
    found: dict[MoneyState, int] = {"spent": 0, "committed": 0, "to come": 0}
    for item in items:
        found[item.state] += item.cents
    return Sums(spent=found["spent"], committed=found["committed"], to_come=found["to come"])


def sums_by(
    items: Iterable[MoneyItem], told_by: Callable[[MoneyItem], str | None]
) -> dict[str | None, Sums]:
    """The three sums of each subsystem, or wish; those of neither under None."""
    groups: dict[str | None, list[MoneyItem]] = {}
    for item in items:
        groups.setdefault(told_by(item), []).append(item)
    return {name: sums_of(group) for name, group in groups.items()}


def money_items(build: BuildInput) -> tuple[MoneyItem, ...]:
    """Everything of a build that costs money, or is a part whose price nobody named.

    What is set aside and neither ordered nor paid is left out.
    """
    tasks = {task.key: task for task in build.tasks}
    return (
        *(item for part in build.parts for item in _of_part(part, tasks)),
        *(item for task in build.tasks for item in _of_task(task)),
        *(item for wish in build.wishes for item in _of_wish(wish)),
    )


def _of_part(part: Part, tasks: dict[str, Task]) -> Iterator[MoneyItem]:
    serves = [tasks[key] for key in part.serves if key in tasks]
    is_ordered = part.ordered_on is not None or part.arrived
    is_aside = bool(serves) and all(task.set_aside_on is not None for task in serves)
    if is_aside and not is_ordered and part.paid is None:
        return
    yield MoneyItem(
        kind="part",
        key=part.key,
        name=part.name,
        estimate=_cents(part.cost),
        paid=_cents(part.paid),
        state=_state(part.paid, is_ordered),
        subsystem=serves[0].subsystem if serves else None,
        wish=serves[0].wish if serves else None,
    )


def _of_task(task: Task) -> Iterator[MoneyItem]:
    if task.cost is None and task.paid is None:
        return
    if task.set_aside_on is not None and task.paid is None:
        return
    yield MoneyItem(
        kind="task",
        key=task.key,
        name=task.name,
        estimate=_cents(task.cost),
        paid=_cents(task.paid),
        state=_state(task.paid, task.begun_on is not None or task.finished_on is not None),
        subsystem=task.subsystem,
        wish=task.wish,
    )


def _of_wish(wish: Wish) -> Iterator[MoneyItem]:
    """The other money of a wish: that for its parts stands with the parts it made."""
    is_accepted = wish.decision is not None and wish.decision.way != "let go"
    if wish.paid is None and (wish.cost is None or not is_accepted):
        return
    yield MoneyItem(
        kind="wish",
        key=wish.key,
        name=wish.text,
        estimate=_cents(wish.cost),
        paid=_cents(wish.paid),
        state=_state(wish.paid, False),
        subsystem=wish.subsystem,
        wish=wish.key,
    )


def _cents(said: float | None) -> int | None:
    return None if said is None else cents_of(said)


def _state(paid: float | None, is_ordered: bool) -> MoneyState:
    if paid is not None:
        return "spent"
    return "committed" if is_ordered else "to come"


@dataclass(frozen=True, slots=True, kw_only=True)
class MoneyGrowth:
    """How a sum grew since a baseline, in hundredths: the lines add up to `now`."""

    first: int
    dropped: int
    anew: int
    from_wishes: int
    otherwise: int

    @property
    def now(self) -> int:
        return self.first + self.dropped + self.anew + self.from_wishes + self.otherwise

    @property
    def growth(self) -> float | None:
        """What came on top over the first sum; None where that is nothing."""
        return (self.now - self.first) / self.first if self.first else None


def money_growth(baseline: BuildInput, build: BuildInput) -> MoneyGrowth:
    """What was added to, dropped from and priced anew since the frozen first sum."""
    then = {(item.kind, item.key): item for item in money_items(baseline)}
    now = {(item.kind, item.key): item for item in money_items(build)}
    added = [item for name, item in now.items() if name not in then]
    from_wishes = sum(item.cents for item in added if item.wish is not None)
    return MoneyGrowth(
        first=sum(item.cents for item in then.values()),
        dropped=-sum(item.cents for name, item in then.items() if name not in now),
        anew=sum(now[name].cents - item.cents for name, item in then.items() if name in now),
        from_wishes=from_wishes,
        otherwise=sum(item.cents for item in added) - from_wishes,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """Work of one's own that could be had done: `cents` more than now, and the hours it saves.

    `hours` are the expected hours of the task still to go; none of it, and it saves nothing.
    """

    task: str
    cents: int
    days: float
    hours: float

    @property
    def cents_an_hour(self) -> int | None:
        """What an hour saved costs, in hundredths; None where no hour is saved."""
        return round(self.cents / self.hours) if self.hours > 0 else None


def had_done(task: Task) -> Task:
    """The task done by somebody else, as its offer says: so many days, and no hands."""
    return replace(
        task,
        outside_days=task.offer_days or 0.0,
        setup=None,
        helper=False,
        in_one_go=False,
        stations=(),
    )


def offers_of(build: BuildInput) -> tuple[Offer, ...]:
    """Every offer for open work that is not begun, the cheapest hour first."""
    found = [
        Offer(
            task=task.key,
            cents=cents_of(task.offer_cost) - cents_of(task.cost or 0.0),
            days=task.offer_days or 0.0,
            hours=hours_to_go_of(build, task),
        )
        for task in build.tasks
        if task.offer_cost is not None
        and task.is_open
        and task.begun_on is None
        and task.outside_days is None
    ]
    return tuple(sorted(found, key=lambda one: (one.cents_an_hour is None, one.cents_an_hour or 0)))
