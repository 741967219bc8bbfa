"""Where the time went: the move of first start between two frozen builds, split into causes.

Both builds are laid out at the earlier build's pace. Every subset of the causes is replayed from
the earlier build (see `replay`), and each cause gets its Shapley value; what the replay with all
causes still misses is the order of work. Going on to the later build's pace comes last: the
person's record, and what got surer. The shares are whole minutes and sum to the move of the dates
that were shown exactly. The other way round every sign is the other one.
"""

import datetime as dt
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Literal

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.planning.bridge.dates import first_start_at_pace
from webapp.planning.bridge.items import BridgeItem, OrderOfWork, items_of, order_of_work
from webapp.planning.bridge.replay import Replay
from webapp.planning.bridge.replay_changes import CAUSE_OF_KIND, Change
from webapp.planning.bridge.shapley import in_whole_numbers, shapley
from webapp.planning.chances.pace import AS_ESTIMATED, Pace

Cause = Literal["scope", "estimates", "shop_time", "parts", "order", "record"]
REPLAYED_CAUSES: tuple[Cause, ...] = ("scope", "estimates", "shop_time", "parts")
CAUSES: tuple[Cause, ...] = (*REPLAYED_CAUSES, "order", "record")
NoAnswer = Literal["neither_dated", "earlier_undated", "later_undated", "already_done"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseShare:
    """What one cause moved first start by, in minutes of wall time; later is above zero.

    `items` open the cause up and sum to it; what is behind the order of work is in `order`.
    """

    cause: Cause
    minutes: int
    items: tuple[BridgeItem, ...] = ()
    order: OrderOfWork | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bridge:
    """The way from one first-start date to another, one step per cause.

    `no_answer` says why there is no bridge: first start has no date in one of the two plans or
    in neither, or was already done in the earlier one. Then `move_minutes` is None and there are
    no shares. Otherwise there is one share for each of `CAUSES`, in that order.
    """

    from_at: dt.datetime | None
    to_at: dt.datetime | None
    move_minutes: int | None = None
    shares: tuple[CauseShare, ...] = ()
    no_answer: NoAnswer | None = None

    def minutes_of(self, cause: Cause) -> int:
        """The minutes of one cause, 0 where there is no bridge."""
        return sum(share.minutes for share in self.shares if share.cause == cause)


def bridge(
    earlier: BuildInput,
    later: BuildInput,
    *,
    earlier_pace: Pace = AS_ESTIMATED,
    later_pace: Pace = AS_ESTIMATED,
) -> Bridge:
    """Split the move of first start between two frozen, faultless builds.

    Each end's date is that of its plan laid out at its own pace.
    """
    if _comes_first(later, earlier):
        other_way = bridge(later, earlier, earlier_pace=later_pace, later_pace=earlier_pace)
        return turned_round(other_way)
    from_at, to_at = (
        first_start_at_pace(earlier, earlier_pace),
        first_start_at_pace(later, later_pace),
    )
    at_one_pace = to_at if later_pace == earlier_pace else first_start_at_pace(later, earlier_pace)
    no_answer = _no_answer(earlier, from_at, to_at)
    if no_answer or from_at is None or to_at is None or at_one_pace is None:
        return Bridge(from_at=from_at, to_at=to_at, no_answer=no_answer)
    replay = Replay(earlier, later, earlier_pace)
    shares = _shares(replay)
    items = items_of(replay, {str(cause): m for cause, m in shares.items()})
    steps = [
        CauseShare(cause=cause, minutes=shares[cause], items=items[cause])
        for cause in REPLAYED_CAUSES
    ]
    explained = sum(shares.values())
    order = CauseShare(cause="order", minutes=_minutes(from_at, at_one_pace) - explained)
    if order.minutes:
        order = replace(order, order=order_of_work(replay))
    record = CauseShare(cause="record", minutes=_minutes(at_one_pace, to_at))
    return Bridge(
        from_at=from_at,
        to_at=to_at,
        move_minutes=_minutes(from_at, to_at),
        shares=(*steps, order, record),
    )


def _minutes(since: dt.datetime, until: dt.datetime) -> int:
    return (until - since) // dt.timedelta(minutes=1)


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
) -> NoAnswer | None:
    if from_at is None:
        return "neither_dated" if to_at is None else "earlier_undated"
    if to_at is None:
        return "later_undated"
    task = find_by_key(earlier.tasks, earlier.first_start)
    return "already_done" if task is not None and task.finished_on is not None else None


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
