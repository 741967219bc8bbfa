"""First starts of several builds, those that are alike run side by side.

A round of the simulator costs hardly more for two builds than for one. Builds are alike where all
that may differ between variants of one build is all that differs between them.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from webapp.build.time.shop_calendar import Seconds, ShopCalendar
from webapp.planning.simulator.house_rules import Ranking
from webapp.planning.simulator.missed_helper import MissedHelper
from webapp.planning.simulator.simulate import FirstStarts, first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import WorkArrays

OF_ALL = ("keys", "people_count", "setups_out", "first_start", "station_counts")
OF_TASKS = (
    *("wall_only", "outside_seconds", "earliest_end", "people", "setup", "setup_seconds"),
    *("helper", "in_one_go", "stations", "wait_until", "successors", "waits"),
    *("predecessor_counts", "for_first_start"),
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Run:
    """A build and variants of it, all in one order and with every task there."""

    work: WorkArrays
    variants: Variants


def first_starts_of(runs: Sequence[Run]) -> list[FirstStarts]:
    """First start of every variant of each run, to the second as if it were run alone."""
    found: dict[int, FirstStarts] = {}
    left = list(range(len(runs)))
    while left:
        longest = max(left, key=lambda place: len(runs[place].work.calendar.opens))
        beside = [p for p in left if _are_alike(runs[longest].work, runs[p].work)]
        left = [place for place in left if place not in beside]
        if len(beside) > 1:
            found |= _run_beside(runs, longest, beside)
        for place in beside:
            if place not in found:
                found[place] = first_starts(runs[place].work, runs[place].variants)
    return [found[place] for place in range(len(runs))]


def _run_beside(runs: Sequence[Run], longest: int, beside: list[int]) -> dict[int, FirstStarts]:
    """Run them on the longest calendar; without those that end after their own calendar does."""
    work = runs[longest].work
    together = first_starts(work, _joined(work, [runs[place] for place in beside]))
    found, first = {}, 0
    for place in beside:
        columns = slice(first, first + runs[place].variants.count)
        wall, shop = together.wall[columns], together.shop[columns]
        if wall.max(initial=0) <= runs[place].work.calendar.closes[-1]:
            found[place] = FirstStarts(wall=wall, shop=shop)
        first = columns.stop
    return found


def _are_alike(one: WorkArrays, other: WorkArrays) -> bool:
    """Whether the other can be run on the calendar of the one, which is no shorter."""
    if one is other:
        return True
    windowed = one.in_one_go | one.helper
    return (
        all(getattr(one, name) == getattr(other, name) for name in OF_ALL)
        and all(np.array_equal(getattr(one, name), getattr(other, name)) for name in OF_TASKS)
        # Room is judged by the build's own hours.
        and np.array_equal(one.work_seconds[windowed], other.work_seconds[windowed])
        and _begins_alike(one.calendar, other.calendar)
    )


def _begins_alike(longer: ShopCalendar, calendar: ShopCalendar) -> bool:
    """Whether a calendar is the beginning of a longer one, with the same longest stretches."""
    if longer.now != calendar.now or not len(calendar.opens):
        return False
    pairs = (
        (longer.opens, calendar.opens),
        (longer.closes, calendar.closes),
        (longer.helper_from, calendar.helper_from),
        (longer.helper_to, calendar.helper_to),
    )
    return (
        all(np.array_equal(long[: len(short)], short) for long, short in pairs)
        # Work that is longer than every stretch takes one of the longest.
        and _longest_stretches(longer) == _longest_stretches(calendar)
    )


def _longest_stretches(calendar: ShopCalendar) -> tuple[int, int]:
    """Seconds of the longest session, and of the longest stretch with the helper."""
    helped = calendar.helper_to - calendar.helper_from
    return int((calendar.closes - calendar.opens).max()), int(helped.max(initial=0))


def _joined(work: WorkArrays, runs: Sequence[Run]) -> Variants:
    """The variants of all runs, one after the other, as variants of one of them."""
    counts = [run.variants.count for run in runs]
    rankings = [run.variants.rankings[0] for run in runs]
    arrivals = [run.work.arrival for run in runs]
    one_order = all(_is_same(ranking, rankings[0]) for ranking in rankings)
    as_in_work = all(np.array_equal(arrival, work.arrival) for arrival in arrivals)
    return Variants(
        count=sum(counts),
        rankings=tuple(rankings[:1] if one_order else rankings),
        ranking_of=None if one_order else np.repeat(np.arange(len(runs)), counts),
        work_seconds=np.concatenate([_seconds(run) for run in runs], axis=1),
        arrival=None if as_in_work else np.repeat(np.array(arrivals).T, counts, axis=1),
        missed_helper=MissedHelper.joined(
            [(run.variants.missed_helper, run.variants.count) for run in runs]
        ),
    )


def _is_same(ranking: Ranking, other: Ranking) -> bool:
    return ranking is other or (
        np.array_equal(ranking.rank, other.rank)
        and np.array_equal(ranking.rank_out, other.rank_out)
    )


def _seconds(run: Run) -> Seconds:
    own = run.variants.work_seconds
    if own is not None:
        return own
    return np.repeat(run.work.work_seconds[:, np.newaxis], run.variants.count, axis=1)
