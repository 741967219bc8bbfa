"""The causes of a bridge opened up: which wish, which task, which part, which day.

The items of a cause are weighed one at a time: what first start moves by where only that item is
switched on, and where only it is switched off again, the mean of the two; a few estimates by their
Shapley values among themselves. What these weights miss
of the cause's share is shared in proportion to their sizes, so that the items sum to the cause.
Where no single item moves first start, and where a cause other than the estimates has more than
`MOST_REPLAYED` items, they are weighed by their hours.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Literal

from webapp.build.precedence import needed_for
from webapp.planning.bridge.replay import Replay
from webapp.planning.bridge.replay_changes import CAUSE_OF_KIND, Change, Changes
from webapp.planning.bridge.shapley import scaled_to, shapley
from webapp.planning.bridge.side_by_side import moves_of

ItemKind = Literal["wish", "task", "setup", "part", "day", "shop", "rest"]
ItemKey = tuple[ItemKind, str]
Weights = dict[ItemKey, float]

MOST_REPLAYED = 5
MOST_PLAYERS = 6
"""So many tasks share a move of their estimates by Shapley values, 64 variants of a replay."""
KIND_OF_CHANGE: dict[str, ItemKind] = {
    "added": "task",
    "dropped": "task",
    "rest": "rest",
    "task": "task",
    "setup": "setup",
    "part": "part",
    "outside": "task",
    "day": "day",
    "shop": "shop",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgeItem:
    """One thing behind a cause. `key` names it: a wish, task, setup, part or date (YYYY-MM-DD).

    "shop" is the shop week from then on, "rest" what comes before what, and what it needs: both
    have neither key nor name.
    `hours` is how many shop hours it added to the work, or a day lost; `days_late`, of a part and
    of outside work, by how many days of wall time it came later.
    """

    kind: ItemKind
    key: str
    name: str
    minutes: int
    hours: float = 0.0
    days_late: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderOfWork:
    """What stands behind the order of work.

    aside_hours : hours that went into work that first start does not need
    early, left : names of tasks worked on before their turn, and left although it was theirs
    """

    aside_hours: float
    early: tuple[str, ...]
    left: tuple[str, ...]


def items_of(replay: Replay, shares: Mapping[str, int]) -> dict[str, tuple[BridgeItem, ...]]:
    """The items of every cause that can be replayed, largest first; they sum to its share."""
    names = _names(replay)
    opened: dict[str, tuple[BridgeItem, ...]] = {}
    for cause, total in shares.items():
        groups = _groups(replay, cause)
        hours = {
            item: sum(replay.hours_of(change) for change in group) for item, group in groups.items()
        }
        weights = _weights(replay, cause, groups) if total else dict.fromkeys(groups, 0.0)
        if not any(weights.values()):
            weights = {item: hours[item] * 60 for item in weights}
        parts = scaled_to(total, list(weights.values())) if total else [0] * len(weights)
        items = [
            BridgeItem(
                kind=i[0],
                key=i[1],
                name=names.get(i, i[1]),
                minutes=m,
                hours=0.0 if cause == "parts" else hours[i],
                days_late=hours[i] / 24 if cause == "parts" else 0.0,
            )
            for i, m in zip(weights, parts, strict=True)
            if m or hours[i]
        ]
        opened[cause] = tuple(sorted(items, key=lambda item: -abs(item.minutes)))
    return opened


def order_of_work(replay: Replay) -> OrderOfWork:
    """What was done before its turn, and what was left.

    The turn is that of the replay with every cause, which had the same hours to work.
    """
    hours, later = replay.between.hours(), replay.later
    keys = {task.key for task in later.tasks}
    first_start = later.first_start
    needed = needed_for(later, first_start) if first_start in keys else frozenset()
    in_turn = replay.begun_by(later.now)
    early = [t for t in later.tasks if hours.get(t.key) and t.key in needed - in_turn]
    left = [t for t in later.tasks if t.key in in_turn and t.is_open and t.begun_on is None]
    return OrderOfWork(
        aside_hours=sum(worked for key, worked in hours.items() if key not in needed),
        early=tuple(task.name for task in early),
        left=tuple(task.name for task in left),
    )


def _names(replay: Replay) -> dict[ItemKey, str]:
    names: dict[ItemKey, str] = {}
    for build in (replay.earlier, replay.later):
        names |= {("task", task.key): task.name for task in build.tasks}
        names |= {("part", part.key): part.name for part in build.parts}
        names |= {("setup", setup.key): setup.name for setup in build.shop.setups}
        names |= {("wish", wish.key): wish.text for wish in build.wishes}
    return names


def _groups(replay: Replay, cause: str) -> dict[ItemKey, frozenset[Change]]:
    """The changes of a cause by the item they belong to; the tasks of one wish are one item."""
    builds = (replay.earlier, replay.later)
    wish_of = {task.key: task.wish for build in builds for task in build.tasks}
    groups: dict[ItemKey, set[Change]] = {}
    for change in sorted(replay.all_changes):
        kind, key = change
        if CAUSE_OF_KIND[kind] != cause:
            continue
        wish = wish_of.get(key) if kind in ("added", "dropped") else None
        item: ItemKey = (KIND_OF_CHANGE[kind], key) if wish is None else ("wish", wish)
        groups.setdefault(item, set()).add(change)
    return {item: frozenset(group) for item, group in groups.items()}


# --- one at a time --------------------------------------------------------------------------


def _weights(replay: Replay, cause: str, groups: Mapping[ItemKey, Changes]) -> Weights:
    if len(groups) == 1:
        return dict.fromkeys(groups, 0.0)
    if cause == "estimates":
        together = _estimate_weights(replay, [key for kind, key in groups if kind == "task"])
    elif cause == "scope":
        together = _scope_weights(replay, groups)
    elif cause == "parts":
        together = _part_weights(replay, groups)
    else:
        together = {}
    single = [item for item in groups if item not in together]
    if len(single) > MOST_REPLAYED:
        return dict.fromkeys(single, 0.0) | together
    # New dependencies alone may mean nothing: what is dropped is weighed on top of them.
    base = groups.get(("rest", ""), frozenset())
    return together | {item: _weight(replay, groups[item], base - groups[item]) for item in single}


def _weight(replay: Replay, group: Changes, base: Changes) -> float:
    """The mean of what a group moves first start by as the first and as the last to come."""
    everything = replay.all_changes
    moves = []
    for before, after in ((base, base | group), (everything - group, everything)):
        begin, end = replay.minutes(before), replay.minutes(after)
        if begin is not None and end is not None:
            moves.append(end - begin)
    return sum(moves) / len(moves) if moves else 0.0


# --- many side by side, as variants of one replay -------------------------------------------


def _first_and_last(first: list[float], last: list[float]) -> list[float]:
    """The means of moves from the first replay and to the last one; either may be missing."""
    if first and last:
        return [(f + one) / 2 for f, one in zip(first, last, strict=True)]
    return first or last


def _scope_weights(replay: Replay, groups: Mapping[ItemKey, Changes]) -> Weights:
    """Weights of the items that only add tasks; order passes through tasks that are not there."""
    added = {
        item: frozenset(key for _, key in group)
        for item, group in groups.items()
        if all(kind == "added" for kind, _ in group)
    }
    every = frozenset[str]().union(*added.values())
    scope = frozenset(c for c in replay.all_changes if CAUSE_OF_KIND[c[0]] == "scope")

    def moved(on: Changes, absences: list[frozenset[str]]) -> list[float]:
        variant = replay.variant(on)
        return moves_of(replay.laid_out(on), [replace(variant, absent=keys) for keys in absences])

    first = moved(scope, [every, *(every - keys for keys in added.values())])
    last = moved(replay.all_changes, [frozenset(), *added.values()])
    weights = _first_and_last(first, [-move for move in last])
    return dict(zip(added, weights, strict=False))


def _part_weights(replay: Replay, groups: Mapping[ItemKey, Changes]) -> Weights:
    """Weights of parts that come at another time; outside work is weighed one at a time."""
    late = {item: group for item, group in groups.items() if item[0] == "part"}
    everything, nothing = replay.all_changes, frozenset[Change]()

    def moved(sets: list[Changes]) -> list[float]:
        return moves_of(replay.laid_out(sets[0]), [replay.variant(on) for on in sets])

    first = moved([nothing, *late.values()])
    last = moved([everything, *(everything - group for group in late.values())])
    return dict(zip(late, _first_and_last(first, [-move for move in last]), strict=False))


def _estimate_weights(replay: Replay, keys: list[str]) -> Weights:
    """Weights of the hours of shop work, up to `MOST_PLAYERS` of them by Shapley values."""
    between = replay.tasks_between
    keys = [key for key in keys if between.is_shop_work(key)]
    if not keys:
        return {}
    on = {key: between.seconds_on(key) for key in keys}
    off = {key: between.seconds_off(key) for key in keys}
    size = len(keys) if len(keys) <= MOST_PLAYERS else 1
    subsets = [frozenset(s) for n in range(size + 1) for s in combinations(keys, n)]
    halves = []
    for changes, own, other, sign in (
        (frozenset[Change](), off, on, 1),
        (replay.all_changes, on, off, -1),
    ):
        variant = replay.variant(changes)
        variants = [
            replace(
                variant,
                seconds={**variant.seconds, **{k: (other if k in s else own)[k] for k in keys}},
            )
            for s in subsets
        ]
        moves = moves_of(replay.laid_out(changes), variants)
        if moves and size > 1:
            values = dict(zip(subsets, [0, *map(round, moves)], strict=True))
            moves = [float(share) for share in map(shapley(values).__getitem__, keys)]
        halves.append([sign * move for move in moves])
    return {("task", k): w for k, w in zip(keys, _first_and_last(*halves), strict=False)}
