"""Many variants of one replay, run side by side: what each moves first start by."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.build.time_units import seconds_of
from webapp.planning.simulator.house_rules import HOUSE_RULES, rank_tasks
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Flags, WorkArrays, for_first_start_only, lay_out


@dataclass(frozen=True, slots=True, kw_only=True)
class ReplayVariant:
    """What differs in one variant of a replay, by task key: hours, presence, arrival of parts."""

    hours: Mapping[str, float] = field(default_factory=dict)
    absent: frozenset[str] = frozenset()
    arrivals: Mapping[str, int] | None = None


def moves_of(build: BuildInput, variants: list[ReplayVariant]) -> list[float]:
    """Minutes by which first start moves from the first variant to each other one.

    Empty where one of them has no date. What first start does not need moves nothing.
    """
    work = for_first_start_only(lay_out(build))
    if work.first_start < 0:
        return []
    laid_out = Variants(
        count=len(variants),
        rankings=(rank_tasks(work, HOUSE_RULES),),
        work_seconds=_varied_seconds(work, variants),
        arrival=_varied_arrivals(work, variants),
        absent=_absences(work, variants),
    )
    ends = first_starts(work, laid_out).wall
    if ends.max() >= NEVER:
        return []
    return [float(end) for end in ends[1:] // 60 - ends[0] // 60]


def _varied_seconds(work: WorkArrays, variants: list[ReplayVariant]) -> Seconds | None:
    """Shop seconds of each task in each variant, (n, v); None where they are those of the work."""
    if not any(variant.hours for variant in variants):
        return None
    place = {key: i for i, key in enumerate(work.keys) if not work.wall_only[i]}
    seconds = np.repeat(work.work_seconds[:, np.newaxis], len(variants), axis=1)
    for column, variant in enumerate(variants):
        for key, hours in variant.hours.items():
            if key in place:
                seconds[place[key], column] = seconds_of(hours)
    return seconds


def _varied_arrivals(work: WorkArrays, variants: list[ReplayVariant]) -> Seconds | None:
    """When the parts of each task are there in each variant, (n, v); None as in the work."""
    if all(variant.arrivals is None for variant in variants):
        return None
    place = {key: i for i, key in enumerate(work.keys)}
    arrival = np.repeat(work.arrival[:, np.newaxis], len(variants), axis=1)
    for column, variant in enumerate(variants):
        if variant.arrivals is not None:
            arrival[:, column] = 0
            for key in variant.arrivals.keys() & place.keys():
                arrival[place[key], column] = variant.arrivals[key]
    return arrival


def _absences(work: WorkArrays, variants: list[ReplayVariant]) -> Flags | None:
    """Which tasks are not there in each variant, (n, v); None where all are."""
    if not any(variant.absent for variant in variants):
        return None
    place = {key: i for i, key in enumerate(work.keys)}
    absent = np.zeros((len(work), len(variants)), bool)
    for column, variant in enumerate(variants):
        absent[[place[key] for key in variant.absent & place.keys()], column] = True
    return absent
