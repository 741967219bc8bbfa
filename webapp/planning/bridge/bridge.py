"""Where the time went: the move of first start between two frozen builds, split into causes.

Every subset of the causes is replayed from the earlier build (see `replay`), and each cause gets
its Shapley value; what the replay with all causes still misses is the order of work. The shares
are whole minutes and sum to the move exactly. The other way round every sign is the other one.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Literal

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.planning.bridge.items import BridgeItem, items_of, order_words
from webapp.planning.bridge.replay import Replay
from webapp.planning.bridge.replay_changes import CAUSE_OF_KIND, Change
from webapp.planning.bridge.shapley import in_whole_numbers, shapley
from webapp.planning.order.first_start import first_start_at

Cause = Literal["scope", "estimates", "shop_time", "parts", "order"]
REPLAYED_CAUSES: tuple[Cause, ...] = ("scope", "estimates", "shop_time", "parts")
CAUSES: tuple[Cause, ...] = (*REPLAYED_CAUSES, "order")
CAUSE_NAMES: dict[Cause, str] = {
    "scope": "added scope",
    "estimates": "estimates",
    "shop_time": "lost shop time",
    "parts": "late parts",
    "order": "order of work",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseShare:
    """What one cause moved first start by, in minutes of wall time; later is above zero.

    `items` open the cause up and sum to it; `words` say in a sentence what is behind it, "" where
    the items do.
    """

    cause: Cause
    minutes: int
    items: tuple[BridgeItem, ...] = ()
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bridge:
    """The way from one first-start date to another, one step per cause.

    `no_answer` says in words why there is no bridge; then `move_minutes` is None and there are
    no shares. Otherwise there is one share for each of `CAUSES`, in that order.
    """

    from_at: dt.datetime | None
    to_at: dt.datetime | None
    move_minutes: int | None = None
    shares: tuple[CauseShare, ...] = ()
    no_answer: str = ""

    def minutes_of(self, cause: Cause) -> int:
        """The minutes of one cause, 0 where there is no bridge."""
        return sum(share.minutes for share in self.shares if share.cause == cause)


def bridge(earlier: BuildInput, later: BuildInput) -> Bridge:
    """Split the move of first start between two frozen, faultless builds."""
    if _comes_first(later, earlier):
        return turned_round(bridge(later, earlier))
    from_at, to_at = first_start_at(earlier), first_start_at(later)
    no_answer = _no_answer(earlier, from_at, to_at)
    if no_answer or from_at is None or to_at is None:
        return Bridge(from_at=from_at, to_at=to_at, no_answer=no_answer)
    move = (to_at - from_at) // dt.timedelta(minutes=1)
    replay = Replay(earlier, later)
    shares = _shares(replay)
    explained = sum(shares.values())
    items = items_of(replay, {str(cause): m for cause, m in shares.items()})
    steps = [
        CauseShare(cause=cause, minutes=shares[cause], items=items[cause])
        for cause in REPLAYED_CAUSES
    ]
    order = CauseShare(cause="order", minutes=move - explained)
    if order.minutes:
        order = replace(order, words=order_words(replay))
    return Bridge(from_at=from_at, to_at=to_at, move_minutes=move, shares=(*steps, order))


def _comes_first(build: BuildInput, other: BuildInput) -> bool:
    """Which of two builds the other is replayed from: the same one whichever is asked first."""
    ages = [(b.now, len(b.log), len(b.tasks)) for b in (build, other)]
    return ages[0] < ages[1] or (ages[0] == ages[1] and repr(build) < repr(other))


def turned_round(way: Bridge) -> Bridge:
    """The same bridge walked from its end to its beginning: every sign is the other one."""
    shares = tuple(
        replace(
            share,
            minutes=-share.minutes,
            items=tuple(replace(item, minutes=-item.minutes) for item in share.items),
        )
        for share in way.shares
    )
    return replace(
        way,
        from_at=way.to_at,
        to_at=way.from_at,
        move_minutes=None if way.move_minutes is None else -way.move_minutes,
        shares=shares,
    )


def _no_answer(
    earlier: BuildInput,
    from_at: dt.datetime | None,
    to_at: dt.datetime | None,
) -> str:
    if from_at is None and to_at is None:
        return "First start has no date in either of the two plans, so nothing has moved."
    if from_at is None:
        return "First start had no date in the earlier plan, so there is nothing to move from."
    if to_at is None:
        return "First start has no date in the later plan: something it waits for never comes."
    task = find_by_key(earlier.tasks, earlier.first_start)
    if task is not None and task.finished_on is not None:
        return "First start was already done in the earlier plan."
    return ""


def _shares(replay: Replay) -> dict[Cause, int]:
    """The Shapley value of every cause that can be replayed, in whole minutes."""
    changes: dict[str, list[Change]] = {}
    for change in sorted(replay.all_changes):
        changes.setdefault(CAUSE_OF_KIND[change[0]], []).append(change)
    players = [cause for cause in REPLAYED_CAUSES if cause in changes]
    values: dict[frozenset[str], int] = {}
    for size in range(len(players) + 1):
        for subset in combinations(players, size):
            minutes = replay.minutes(c for cause in subset for c in changes[cause])
            if minutes is None:
                # Part of the way has no date: nothing can be told apart.
                return dict.fromkeys(REPLAYED_CAUSES, 0)
            values[frozenset(subset)] = minutes
    exact = shapley(values)
    total = values[frozenset(players)] - values[frozenset()]
    whole = in_whole_numbers([exact[cause] for cause in players], total)
    return dict.fromkeys(REPLAYED_CAUSES, 0) | dict(zip(players, whole, strict=True))


# --- in words -------------------------------------------------------------------------------

DAY_MINUTES = 24 * 60


def sentence_of(way: Bridge) -> str:
    """One plain sentence: from which day to which, and how much of it for what."""
    if way.move_minutes is None or way.from_at is None or way.to_at is None:
        return way.no_answer
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
    head = f"First start moved from {since} to {_day(way.to_at)}"
    if not same_year:
        head += f" {way.to_at.year}"
    if way.from_at.date() == way.to_at.date():
        head = f"First start stays on {_day(way.to_at)}"
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
    return CAUSE_NAMES[share.cause]


def _won(share: CauseShare) -> str:
    words: dict[Cause, str] = {
        "scope": "dropped scope",
        "shop_time": "more shop time",
        "parts": "early parts",
    }
    return words.get(share.cause, CAUSE_NAMES[share.cause])


NUMBERS: Sequence[str] = (
    *("no", "one", "two", "three", "four", "five", "six"),
    *("seven", "eight", "nine", "ten", "eleven", "twelve"),
)


def _number(count: int) -> str:
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def _day(moment: dt.datetime) -> str:
    return f"{moment.day} {moment:%B}"
