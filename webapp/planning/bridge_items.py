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

import numpy as np

from webapp.planning.build_input import ThreePoint
from webapp.planning.house_rules import HouseRules, rank_tasks
from webapp.planning.network import needed_for
from webapp.planning.replay import CAUSE_OF_KIND, Change, Changes, Replay
from webapp.planning.shapley import scaled_to, shapley
from webapp.planning.shop_calendar import NEVER, seconds_of
from webapp.planning.simulate import simulate
from webapp.planning.variants import Variants
from webapp.planning.work_arrays import for_first_start_only, lay_out

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

    `hours` is how many shop hours it added to the work, or a day lost; of a part and of outside
    work, how many hours of wall time it came later.
    """

    kind: ItemKind
    key: str
    name: str
    minutes: int
    hours: float = 0.0


def items_of(
    replay: Replay, shares: Mapping[str, int], wish_of: Mapping[str, str]
) -> dict[str, tuple[BridgeItem, ...]]:
    """The items of every cause that can be replayed, largest first; they sum to its share."""
    names = _names(replay)
    opened: dict[str, tuple[BridgeItem, ...]] = {}
    for cause, total in shares.items():
        groups = _groups(replay, cause, wish_of)
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


def order_words(replay: Replay) -> str:
    """What stands behind the order of work, as far as the log tells."""
    hours, later = replay.between.hours, replay.later
    keys = {task.key for task in later.tasks}
    first_start = later.first_start
    needed = needed_for(later, first_start) if first_start in keys else frozenset()
    aside = sum(worked for key, worked in hours.items() if key not in needed)
    if aside > 0:
        return f"{aside:.3g} hours went into work that first start does not need."
    return "Work was done in another order than planned, or not all of its hours are in the log."


def _names(replay: Replay) -> dict[ItemKey, str]:
    names: dict[ItemKey, str] = {("rest", ""): "what comes before what, and what it needs"}
    for build in (replay.earlier, replay.later):
        names |= {("task", task.key): task.name for task in build.tasks}
        names |= {("part", part.key): part.name for part in build.parts}
        names |= {("setup", setup.key): setup.name for setup in build.shop.setups}
        names |= {("wish", wish.key): wish.text for wish in build.wishes}
    return names | {("shop", ""): "the shop week from today on"}


def _groups(
    replay: Replay, cause: str, wish_of: Mapping[str, str]
) -> dict[ItemKey, frozenset[Change]]:
    """The changes of a cause by the item they belong to; the tasks of one wish are one item."""
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
        return _estimate_weights(replay, groups)
    if len(groups) > MOST_REPLAYED:
        return dict.fromkeys(groups, 0.0)
    # New dependencies alone may mean nothing: what is added is laid on top of them.
    base = groups.get(("rest", ""), frozenset())
    return {item: _weight(replay, group, base - group) for item, group in groups.items()}


def _weight(replay: Replay, group: Changes, base: Changes) -> float:
    """The mean of what a group moves first start by as the first and as the last to come."""
    everything = replay.all_changes
    moves = []
    for before, after in ((base, base | group), (everything - group, everything)):
        begin, end = replay.minutes(before), replay.minutes(after)
        if begin is not None and end is not None:
            moves.append(end - begin)
    return sum(moves) / len(moves) if moves else 0.0


def _estimate_weights(replay: Replay, groups: Mapping[ItemKey, Changes]) -> Weights:
    """What each estimate moves first start by, all tasks of the shop as variants of one replay.

    Up to `MOST_PLAYERS` of them by their Shapley values, else one at a time as `_weight` does;
    the mean of both over the replay with no cause and the one with every cause switched on. Only
    the hours of tasks differ; outside work and setups, of which there are few, go one by one.
    """
    weights = {
        item: 0.0 if replay.is_shop_work(item) else _weight(replay, group, frozenset())
        for item, group in groups.items()
    }
    keys = [key for kind, key in groups if replay.is_shop_work((kind, key))]
    on = {key: replay.hours_on(key) for key in keys}
    off = {key: replay.hours_off(key) for key in keys}
    first = _moves(replay, frozenset(), off, on)
    last = _moves(replay, replay.all_changes, on, off)
    for key in keys:
        weights["task", key] = (first.get(key, 0.0) - last.get(key, 0.0)) / 2
    return weights


def _moves(
    replay: Replay, changes: Changes, hours: Mapping[str, float], other: Mapping[str, float]
) -> dict[str, float]:
    """What first start moves by, in minutes, where each task takes its other hours instead."""
    build = replay.build(changes)
    # A task of no hours would take no hands in any variant: it gets a second.
    second = 1 / 3600
    tasks = tuple(
        replace(
            t,
            hours=ThreePoint.certain(second),
            hours_left=None if t.hours_left is None else second,
        )
        if t.is_open and t.outside_days is None and not hours.get(t.key, second)
        else t
        for t in build.tasks
    )
    work = for_first_start_only(lay_out(replace(build, tasks=tasks)))
    place = {key: i for i, key in enumerate(work.keys)}
    keys = [key for key in hours if key in place and not work.wall_only[place[key]]]
    if work.first_start < 0 or not keys:
        return {}
    most = len(keys) if len(keys) <= MOST_PLAYERS else 1
    subsets = [frozenset(s) for size in range(most + 1) for s in combinations(keys, size)]
    seconds = np.repeat(work.work_seconds[:, np.newaxis], len(subsets), axis=1)
    for column, switched in enumerate(subsets):
        for key in keys:
            own = other[key] if key in switched else hours[key]
            seconds[place[key], column] = seconds_of(own)
    variants = Variants(
        count=len(subsets),
        rankings=(rank_tasks(work, HouseRules()),),
        work_seconds=seconds,
    )
    ends = simulate(work, variants).end_wall(work.first_start)
    if ends.max() >= NEVER:
        return {}
    minutes = dict(zip(subsets, (ends // 60).tolist(), strict=True))
    if most > 1:
        return {key: float(share) for key, share in shapley(minutes).items()}
    return {key: float(minutes[frozenset({key})] - minutes[frozenset()]) for key in keys}
