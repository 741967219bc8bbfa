"""The bridge in words: which cause moved first start by how much."""

import datetime as dt
from collections.abc import Sequence

from webapp.build.time_units import DAY_MINUTES
from webapp.pages.words.amounts import MONTHS, days
from webapp.pages.words.names import named
from webapp.pages.words.the_end import capital_end, of_the_end, the_end
from webapp.planning.bridge.bridge import Bridge, Cause, CauseShare, NoAnswer
from webapp.planning.bridge.items import BridgeItem, OrderOfWork
from webapp.planning.bridge.shapley import in_whole_numbers

CAUSE_NAMES: dict[Cause, str] = {
    "scope": "added scope",
    "estimates": "estimates",
    "shop_time": "lost shop time",
    "parts": "late parts and outside work",
    "order": "order of work",
    "record": "your record, and what got surer",
}
NO_ANSWERS: dict[NoAnswer, str] = {
    "neither_dated": "First start has no date in either of the two plans, so nothing has moved.",
    "earlier_undated": (
        "First start had no date in the earlier plan, so there is nothing to move from."
    ),
    "later_undated": (
        "First start has no date in the later plan: something it waits for never comes."
    ),
    "already_done": "First start was already done in the earlier plan.",
}


def no_answer_words(way: Bridge) -> str:
    """Why there is no bridge, "" where there is one."""
    return "" if way.no_answer is None else of_the_end(NO_ANSWERS[way.no_answer])


def order_words(order: OrderOfWork) -> str:
    """What stands behind the order of work."""
    told = []
    if order.aside_hours > 0:
        told.append(f"{order.aside_hours:.3g} hours went into work that {the_end()} does not need.")
    if order.early:
        told.append(f"Worked on before its turn: {named(order.early)}.")
    if order.left:
        told.append(f"Left although it was its turn: {named(order.left)}.")
    return " ".join(told) or "Work was done in another order, or not all its hours are in the log."


def item_name(item: BridgeItem) -> str:
    """What an item is called."""
    match item.kind:
        case "rest":
            return "what comes before what, and what it needs"
        case "shop":
            return "the shop week from today on"
        case _:
            return item.name


def days_late_words(late: float) -> str:
    """By how many days of wall time a part or outside work came later: "3 days late"."""
    return f"{days(abs(late))} {'late' if late > 0 else 'early'}"


def sentence_of(way: Bridge) -> str:
    """One plain sentence: from which day to which, and how much of it for what."""
    if way.move_minutes is None or way.from_at is None or way.to_at is None:
        return no_answer_words(way)
    unit, one = (DAY_MINUTES, "day") if _is_days(way) else (60, "hour")
    amounts = _in_units(way, unit)
    told = sorted(
        ((amount, share) for amount, share in zip(amounts, way.shares, strict=True) if amount),
        key=lambda pair: -abs(pair[0]),
    )
    later, sooner = [p for p in told if p[0] > 0], [p for p in told if p[0] < 0]
    clauses = [f"{_counted(n, one, bare=i > 0)} for {_of(s)}" for i, (n, s) in enumerate(later)]
    gained = [f"{_counted(-n, one)} won by {_won(s)}" for n, s in sooner]
    same_year = way.from_at.year == way.to_at.year
    since = _day(way.from_at) if same_year else f"{_day(way.from_at)} {way.from_at.year}"
    head = f"{capital_end()} moved from {since} to {_day(way.to_at)}"
    if not same_year:
        head += f" {way.to_at.year}"
    if way.from_at.date() == way.to_at.date():
        head = f"{capital_end()} stays on {_day(way.to_at)}"
    return f"{head}: {', '.join([*clauses, *gained])}." if told else f"{head}."


def _is_days(way: Bridge) -> bool:
    largest = max((abs(share.minutes) for share in way.shares), default=0)
    return max(largest, abs(way.move_minutes or 0)) >= DAY_MINUTES


def _in_units(way: Bridge, unit: int) -> list[int]:
    """The shares in whole days or hours that sum to the move in days or hours."""
    total = round((way.move_minutes or 0) / unit)
    gap = total - (way.move_minutes or 0) / unit
    shares = [share.minutes / unit for share in way.shares]
    largest = max(range(len(shares)), key=lambda i: abs(shares[i]))
    shares[largest] += gap
    return in_whole_numbers(shares, total)


def _counted(amount: int, one: str, *, bare: bool = False) -> str:
    return f"{amount}" if bare else f"{amount} {one}{'' if amount == 1 else 's'}"


def _of(share: CauseShare) -> str:
    wishes = sum(item.kind == "wish" for item in share.items)
    if share.cause == "scope" and wishes and wishes == len(share.items):
        return f"{_number(wishes)} wish{'' if wishes == 1 else 'es'}"
    if share.cause == "parts":
        return _late(share)
    return CAUSE_NAMES[share.cause]


def _late(share: CauseShare) -> str:
    kinds = {item.kind for item in share.items if item.minutes}
    if kinds == {"part"}:
        return "late parts"
    return "late outside work" if kinds == {"task"} else CAUSE_NAMES["parts"]


def _won(share: CauseShare) -> str:
    words: dict[Cause, str] = {
        "scope": "dropped scope",
        "shop_time": "more shop time",
        "parts": _late(share).replace("late", "early", 1),
    }
    return words.get(share.cause, CAUSE_NAMES[share.cause])


NUMBERS: Sequence[str] = (
    *("no", "one", "two", "three", "four", "five", "six"),
    *("seven", "eight", "nine", "ten", "eleven", "twelve"),
)


def _number(count: int) -> str:
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def _day(moment: dt.datetime) -> str:
    return f"{moment.day} {MONTHS[moment.month - 1]}"
