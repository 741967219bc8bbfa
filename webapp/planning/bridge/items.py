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

from webapp.build.build_input import BuildInput, ThreePoint
from webapp.build.precedence import needed_for
from webapp.planning.bridge.replay import Replay
from webapp.planning.bridge.replay_changes import CAUSE_OF_KIND, Change, Changes
from webapp.planning.bridge.shapley import scaled_to, shapley
from webapp.planning.bridge.side_by_side import ReplayVariant, moves_of
from webapp.planning.order.job_order import make_plan

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
    "day": "day",
    "shop": "shop",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgeItem:
    """One thing behind a cause. `key` names it: a wish, task, setup, part or date (YYYY-MM-DD).

    "shop" is the shop week from then on, "rest" what comes before what, and what it needs: both
    have neither key nor name.
    `hours` is how many shop hours it added to the work, or a day lost; of a part and of outside
    work, how many hours of wall time it came later.
    """

    kind: ItemKind
    key: str
    name: str
    minutes: int
    hours: float = 0.0


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
            BridgeItem(kind=i[0], key=i[1], name=names.get(i, i[1]), minutes=m, hours=hours[i])
            for i, m in zip(weights, parts, strict=True)
            if m or hours[i]
        ]
        opened[cause] = tuple(sorted(items, key=lambda item: -abs(item.minutes)))
    return opened


def order_of_work(replay: Replay) -> OrderOfWork:
    """What was done before its turn, and what was left.

    The turn is that of the replay with every cause, which had the same hours to work.
    """
    hours, later = replay.between.hours, replay.later
    keys = {task.key for task in later.tasks}
    first_start = later.first_start
    needed = needed_for(later, first_start) if first_start in keys else frozenset()
    plan = make_plan(replay.build(replay.all_changes))
    in_turn = {task.key for task in plan.tasks if task.begins < later.now and task.for_first_start}
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
    alone = [
        ReplayVariant(absent=every),
        *(ReplayVariant(absent=every - keys) for keys in added.values()),
    ]
    without = [ReplayVariant(), *(ReplayVariant(absent=keys) for keys in added.values())]
    first = moves_of(replay.build(scope), alone)
    last = [-move for move in moves_of(replay.build(replay.all_changes), without)]
    return dict(zip(added, _first_and_last(first, last), strict=False))


def _part_weights(replay: Replay, groups: Mapping[ItemKey, Changes]) -> Weights:
    everything, nothing = replay.all_changes, frozenset[Change]()
    alone = [nothing, *groups.values()]
    without = [everything, *(everything - group for group in groups.values())]

    def moved(sets: list[Changes]) -> list[float]:
        variants = [ReplayVariant(arrivals=replay.arrivals(on)) for on in sets]
        return moves_of(replay.build(sets[0]), variants)

    first, last = moved(alone), moved(without)
    return dict(zip(groups, _first_and_last(first, [-move for move in last]), strict=False))


def _estimate_weights(replay: Replay, keys: list[str]) -> Weights:
    """Weights of the hours of shop work, up to `MOST_PLAYERS` of them by Shapley values."""
    keys = [key for key in keys if replay.tasks_between.is_shop_work(key)]
    if not keys:
        return {}
    on = {key: replay.tasks_between.hours_on(key) for key in keys}
    off = {key: replay.tasks_between.hours_off(key) for key in keys}
    size = len(keys) if len(keys) <= MOST_PLAYERS else 1
    subsets = [frozenset(s) for n in range(size + 1) for s in combinations(keys, n)]
    halves = []
    for changes, own, other, sign in (
        (frozenset[Change](), off, on, 1),
        (replay.all_changes, on, off, -1),
    ):
        variants = [
            ReplayVariant(hours={k: (other if k in s else own)[k] for k in keys}) for s in subsets
        ]
        moves = moves_of(_with_work(replay.build(changes), keys), variants)
        if moves and size > 1:
            values = dict(zip(subsets, [0, *map(round, moves)], strict=True))
            moves = [float(share) for share in map(shapley(values).__getitem__, keys)]
        halves.append([sign * move for move in moves])
    return {("task", k): w for k, w in zip(keys, _first_and_last(*halves), strict=False)}


def _with_work(build: BuildInput, keys: list[str]) -> BuildInput:
    """A task of no hours takes no hands in any variant: those of `keys` get a second at least."""
    second = 1 / 3600
    return replace(
        build,
        tasks=tuple(
            replace(
                t,
                hours=ThreePoint.certain(second),
                hours_left=None if t.hours_left is None else second,
            )
            if t.key in keys and t.is_open and t.hours.expected < second
            else t
            for t in build.tasks
        ),
    )
