"""Three orders side by side: that of today, the best for the likely hours, the best over the draws.

With their dates, what the last gains, and the tasks that come earlier or later in it.
"""

from dataclasses import dataclass

from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.path.changed_places import longest_run
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How
from webapp.pages.words.how_moves import order_how
from webapp.pages.words.kept_order import SETUP_FIRST
from webapp.pages.words.moves import gain_words
from webapp.pages.words.the_end import the_end
from webapp.planning.tighten.orders_told import OrderTold
from webapp.services.tightenings import OrdersFound

MOST_MOVES = 10
SAME_DAYS = 0.05
"""Two orders whose means are nearer than that are told as one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderRow:
    """One order: first start if every estimate holds, likely and firm."""

    name: str
    plan: str
    likely: str
    firm: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedTask:
    """A task that comes earlier or later: "12 places earlier"."""

    name: str
    address: str
    change: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OverDraws:
    """`gains` where it can be told from nothing and from the best for the likely hours; `is_best`
    where that is no better."""

    rows: tuple[OrderRow, ...]
    gain: str
    gains: bool
    is_best: bool
    moved: tuple[MovedTask, ...]
    how: How


def over_draws(page: PageContext, orders: OrdersFound) -> OverDraws:
    """What the tighten section says of the draws."""
    move, likely = orders.drawn.move, orders.likely.move
    gains = move.days < 0 and abs(move.mean_days - likely.mean_days) >= SAME_DAYS
    return OverDraws(
        rows=(
            _row(page, "The order of today", orders.held),
            _row(page, "Best for the likely hours", orders.likely),
            _row(page, "Best over the draws", orders.drawn),
        ),
        gain=_gain(orders),
        gains=gains,
        is_best=gains and move.mean_days < likely.mean_days,
        moved=_moved(page, orders) if gains else (),
        how=order_how("The best order over the draws against the one that holds", move),
    )


def _row(page: PageContext, name: str, order: OrderTold) -> OrderRow:
    plan, likely, firm = (
        words.short_day(at, today=page.today)
        for at in (order.plan_at, order.likely_at, order.firm_at)
    )
    return OrderRow(name=name, plan=plan, likely=likely, firm=firm)


def _gain(orders: OrdersFound) -> str:
    move, likely = orders.drawn.move, orders.likely.move
    if move.days >= 0:
        return "Over the draws no order was found that gains anything."
    if abs(move.mean_days - likely.mean_days) < SAME_DAYS:
        return "Over the draws no order was found that gains more."
    return (
        f"Over the draws one order brings {the_end()} {gain_words(move.days, move.error_days)} "
        "earlier on average: it bends best when work takes longer than said."
        f"{' ' + SETUP_FIRST if orders.drawn.order.setup_first else ''}"
    )


def _moved(page: PageContext, orders: OrdersFound) -> tuple[MovedTask, ...]:
    """The tasks that moved furthest, as they come in the order found."""
    before = {task.key: place for place, task in enumerate(orders.held_plan.tasks)}
    after = [task.key for task in orders.plan.tasks if task.key in before]
    stayed = {after[at] for at in longest_run([before[key] for key in after])}
    by = {key: place - before[key] for place, key in enumerate(after) if key not in stayed}
    furthest = sorted(by, key=lambda key: -abs(by[key]))[:MOST_MOVES]
    names = {task.key: task.name for task in page.build.tasks}
    return tuple(
        MovedTask(
            name=names[key],
            address=addresses.task(page.slug, key),
            change=_change(by[key]),
        )
        for key in after
        if key in furthest and key in names
    )


def _change(places: int) -> str:
    if not places:
        return "changed with its neighbours"
    return f"{words.count(abs(places), 'place')} {'earlier' if places < 0 else 'later'}"
