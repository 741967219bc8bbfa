"""Many variants of one replay, run side by side: when first start is in each."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.simulator.house_rules import Ranking
from webapp.planning.simulator.simulate import first_starts, simulate
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Flags, WorkArrays


@dataclass(frozen=True, slots=True, kw_only=True)
class ReplayVariant:
    """What differs in one variant of a replay, by task key: shop seconds, presence, arrivals.

    `seconds` stand in for those of the work where they are given; `arrivals` are all there are,
    in wall seconds.
    """

    seconds: Mapping[str, int] = field(default_factory=dict)
    arrivals: Mapping[str, int]
    absent: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LaidOut:
    """A replay ready to be run: its work, and who goes first of it."""

    work: WorkArrays
    ranking: Ranking


def minutes_of(laid_out: LaidOut, variants: Sequence[ReplayVariant]) -> list[int | None]:
    """First start of each variant in minutes from `now`; None where it has none."""
    ends = first_starts(laid_out.work, _variants(laid_out, variants)).wall.tolist()
    return [None if end >= NEVER else end // 60 for end in ends]


def moves_of(laid_out: LaidOut | None, variants: Sequence[ReplayVariant]) -> list[float]:
    """Minutes by which first start moves from the first variant to each other one.

    Empty where one of them has no date.
    """
    found = [] if laid_out is None else minutes_of(laid_out, variants)
    ends = [end for end in found if end is not None]
    if len(ends) < len(variants):
        return []
    return [float(end - ends[0]) for end in ends[1:]]


def begun_by(laid_out: LaidOut, variant: ReplayVariant, moment: dt.datetime) -> set[str]:
    """The tasks that begin before a moment."""
    work = laid_out.work
    schedule = simulate(work, _variants(laid_out, [variant]))
    wall = work.calendar.wall_of(moment)
    return {key for i, key in enumerate(work.keys) if int(schedule.begin_wall(i)[0]) < wall}


def _variants(laid_out: LaidOut, variants: Sequence[ReplayVariant]) -> Variants:
    work = laid_out.work
    return Variants(
        count=len(variants),
        rankings=(laid_out.ranking,),
        work_seconds=_seconds(work, variants),
        arrival=_arrivals(work, variants),
        absent=_absences(work, variants),
    )


def _seconds(work: WorkArrays, variants: Sequence[ReplayVariant]) -> Seconds:
    """Shop seconds of each task in each variant, (n, v)."""
    place = {key: i for i, key in enumerate(work.keys) if not work.wall_only[i]}
    seconds = np.repeat(work.work_seconds[:, np.newaxis], len(variants), axis=1)
    for column, variant in enumerate(variants):
        for key in variant.seconds.keys() & place.keys():
            seconds[place[key], column] = variant.seconds[key]
    return seconds


def _arrivals(work: WorkArrays, variants: Sequence[ReplayVariant]) -> Seconds:
    """When the parts of each task are there in each variant, (n, v)."""
    place = {key: i for i, key in enumerate(work.keys)}
    arrival = np.zeros((len(work), len(variants)), np.int64)
    for column, variant in enumerate(variants):
        for key in variant.arrivals.keys() & place.keys():
            arrival[place[key], column] = variant.arrivals[key]
    return arrival


def _absences(work: WorkArrays, variants: Sequence[ReplayVariant]) -> Flags | None:
    """Which tasks are not there in each variant, (n, v); None where all are."""
    if not any(variant.absent for variant in variants):
        return None
    place = {key: i for i, key in enumerate(work.keys)}
    absent = np.zeros((len(work), len(variants)), bool)
    for column, variant in enumerate(variants):
        absent[[place[key] for key in variant.absent & place.keys()], column] = True
    return absent
