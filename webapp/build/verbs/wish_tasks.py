"""What a wish would bring into the build, each way: tasks, dependencies and parts."""

from dataclasses import dataclass, replace
from typing import Literal

from webapp.build.assumed_range import COMMON_SHARES, RangeShares, shares_of_kind
from webapp.build.build_input import BuildInput, Dependency, Part, Task
from webapp.build.by_key import find_by_key
from webapp.build.money import cents_of
from webapp.build.three_point import ThreePoint
from webapp.build.wish import Wish, WishSize, WishWay

Assumption = Literal[
    "size", "range", "rough_in_hours", "later_extra_hours", "parts", "after", "before"
]
ASSUMED_SIZE = "evening"
ROUGH_IN_SHARE = 0.25
LATER_EXTRA_SHARE = 0.5
FINISH_EXTRA_SHARE = 0.5
"""Guesses for what nobody has said yet; the person is told so. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SizedWish:
    """A wish with everything said about it or assumed.

    hours : fitting it now; rough_in_hours : making provision for it now
    finish_hours : finishing it after a rough-in; later_hours : fitting it after first start
    assumed : what was not said, in the order it is told
    assumed_size : the quick size that is taken where neither hours nor a size were named
    range_shares : how far hours are assumed to run, where one number of them was named alone
    hours_ranged, rough_in_ranged : whether that was assumed of them
    """

    wish: Wish
    hours: ThreePoint
    rough_in_hours: ThreePoint
    finish_hours: ThreePoint
    later_hours: ThreePoint
    assumed: tuple[Assumption, ...]
    assumed_size: WishSize | None = None
    range_shares: RangeShares = COMMON_SHARES
    hours_ranged: bool = False
    rough_in_ranged: bool = False

    @property
    def cost(self) -> float:
        """Money for its parts and whatever else was named."""
        sums = (*(part.cost for part in self.wish.parts), self.wish.cost or 0.0)
        return sum(map(cents_of, sums)) / 100

    def hours_of(self, way: WishWay) -> float:
        """Expected hours that a way adds over the whole build."""
        return sum(task.expected for task in self.estimates(way))

    def estimates(self, way: WishWay) -> tuple[ThreePoint, ...]:
        """The estimates of the tasks a way adds."""
        return {
            "fit now": (self.hours,),
            "rough in": (self.rough_in_hours, self.finish_hours),
            "fit later": (self.later_hours,),
            "let go": (),
        }[way]

    def ranged(self, way: WishWay) -> tuple[bool, ...]:
        """Of each of these estimates, whether its range is assumed."""
        if way == "rough in":
            return self.rough_in_ranged, self.hours_ranged
        return (self.hours_ranged,) * len(self.estimates(way))


def sized(build: BuildInput, wish: Wish) -> SizedWish:
    """Fill in what was not said about a wish, and keep what was assumed."""
    size = find_by_key(build.wish_sizes, wish.size)
    said = wish.hours or (size or _assumed_size(build)).hours
    shares = shares_of_kind(build, wish.setup)
    hours = _with_range(said, shares)
    rough_in = _scaled(hours, ROUGH_IN_SHARE)
    if wish.rough_in_hours is not None:
        rough_in = _with_range(wish.rough_in_hours, shares)
    rough_ranged = rough_in != (wish.rough_in_hours or _scaled(said, ROUGH_IN_SHARE))
    extra = wish.later_extra_hours
    if extra is None:
        extra = hours.most_likely * LATER_EXTRA_SHARE
    left = _plus(_less(hours, rough_in), extra * FINISH_EXTRA_SHARE)
    return SizedWish(
        wish=wish,
        hours=hours,
        rough_in_hours=rough_in,
        finish_hours=left,
        later_hours=_plus(hours, extra),
        assumed=_assumptions(
            wish, sized=bool(wish.hours or size), ranged=hours != said or rough_ranged
        ),
        assumed_size=None if wish.hours or size else _assumed_size(build),
        range_shares=shares,
        hours_ranged=hours != said,
        rough_in_ranged=rough_ranged,
    )


def with_wish(build: BuildInput, wish: Wish, way: WishWay) -> BuildInput:
    """The build with a wish fitted one way; "let go" leaves it as it is.

    Rough-in finishes after first start. Parts are ordered today.
    """
    if way == "let go":
        return build
    tasks = _tasks(build, sized(build, wish), way)
    keys = [task.key for task in tasks]
    links = _links(build, wish, way, keys)
    needs_parts = keys[-1]
    parts = tuple(
        Part(
            key=fresh_key(f"{wish.key}-part-{n}", {part.key for part in build.parts}),
            name=part.name,
            serves=(needs_parts,),
            arrived=part.lead_days <= 0,
            lead_days=part.lead_days,
            cost=part.cost,
        )
        for n, part in enumerate(wish.parts, start=1)
    )
    return replace(
        build,
        tasks=(*build.tasks, *tasks),
        dependencies=(*build.dependencies, *links),
        parts=(*build.parts, *parts),
    )


def fresh_key(wanted: str, taken: set[str]) -> str:
    """`wanted`, or with the first number behind it that makes it a key of its own."""
    if wanted not in taken:
        return wanted
    return next(key for n in range(2, len(taken) + 3) if (key := f"{wanted}-{n}") not in taken)


def _tasks(build: BuildInput, of: SizedWish, way: WishWay) -> tuple[Task, ...]:
    wish, taken = of.wish, {task.key for task in build.tasks}
    steps: dict[WishWay, tuple[tuple[str, str], ...]] = {
        "fit now": ((wish.key, wish.text),),
        "rough in": (
            (f"{wish.key}-rough", f"Rough in: {wish.text}"),
            (f"{wish.key}-finish", f"Finish: {wish.text}"),
        ),
        "fit later": ((wish.key, wish.text),),
    }
    return tuple(
        Task(
            key=fresh_key(key, taken),
            name=name,
            hours=hours,
            subsystem=wish.subsystem,
            setup=wish.setup,
            wish=wish.key,
            spread_assumed=ranged,
        )
        for (key, name), hours, ranged in zip(
            steps[way], of.estimates(way), of.ranged(way), strict=True
        )
    )


def _links(build: BuildInput, wish: Wish, way: WishWay, keys: list[str]) -> tuple[Dependency, ...]:
    """Before what and after what the new tasks stand, `keys` in their own order."""
    why = f"for the wish “{wish.text}”"
    open_keys = {task.key for task in build.tasks if task.is_open}
    first_start = build.first_start if build.first_start in open_keys else None
    now = keys[0] if way != "fit later" else None
    later = keys[-1] if way != "fit now" else None
    pairs: list[tuple[str | None, str | None]] = [(wish.after, keys[0])]
    if now is not None:
        pairs += [(now, wish.before or first_start)]
    if later is not None:
        pairs += [(first_start, later), (now, later)]
    return tuple(
        Dependency(before=before, after=after, why=why)
        for before, after in dict.fromkeys(pairs)
        if before is not None and after is not None and before != after
    )


def _assumed_size(build: BuildInput) -> WishSize:
    return find_by_key(build.wish_sizes, ASSUMED_SIZE) or build.wish_sizes[0]


def _assumptions(wish: Wish, *, sized: bool, ranged: bool) -> tuple[Assumption, ...]:
    missing: dict[Assumption, bool] = {
        "size": not sized,
        "range": ranged,
        "rough_in_hours": wish.rough_in_hours is None,
        "later_extra_hours": wish.later_extra_hours is None,
        "parts": not wish.parts and wish.cost is None,
        "after": wish.after is None,
        "before": wish.before is None,
    }
    return tuple(name for name, is_missing in missing.items() if is_missing)


def _with_range(hours: ThreePoint, shares: RangeShares) -> ThreePoint:
    """The hours; a single number is no certainty and gets the range that is assumed."""
    if hours.optimistic == hours.pessimistic:
        return shares.round(hours.most_likely)
    return hours


def _scaled(hours: ThreePoint, share: float) -> ThreePoint:
    return ThreePoint(
        optimistic=hours.optimistic * share,
        most_likely=hours.most_likely * share,
        pessimistic=hours.pessimistic * share,
    )


def _plus(hours: ThreePoint, more: float) -> ThreePoint:
    return ThreePoint(
        optimistic=hours.optimistic + more,
        most_likely=hours.most_likely + more,
        pessimistic=hours.pessimistic + more,
    )


def _less(hours: ThreePoint, done: ThreePoint) -> ThreePoint:
    points = (
        max(hours.optimistic - done.optimistic, 0.0),
        max(hours.most_likely - done.most_likely, 0.0),
        max(hours.pessimistic - done.pessimistic, 0.0),
    )
    low, likely, high = sorted(points)
    return ThreePoint(optimistic=low, most_likely=likely, pessimistic=high)
