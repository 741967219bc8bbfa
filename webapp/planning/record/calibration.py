"""What finished work says of the estimates: actual over expected hours by kind of work.

A kind of work is the setup it needs, or none. Kinds scatter round the level of all of them, so
that what one kind has shown is believed, in part, of the others; and a person's builds scatter
round the person, so that what an earlier build has shown is believed, in part, of this one
(`levels`). All of it is in logs of actual over expected hours.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from webapp.build.build_input import BuildInput, Task
from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.build.folded_name import folded_name
from webapp.build.logged_hours import logged_hours
from webapp.planning.chances.factors import (
    NO_SETUP,
    Attendance,
    Factors,
    KindFactor,
    Level,
    kind_of,
    setup_of,
)
from webapp.planning.record.attendance import attendance_of
from webapp.planning.record.levels import KindSays, in_levels

TASK_LOG_SD = 0.50
"""Scatter of single tasks' log of actual over expected hours, before the record says: one task
in three takes more than 1.65 times, or less than 0.6 times, what was expected. Common practice,
no source."""
TASK_LOG_SD_WORTH = 8
"""So many tasks of the record weigh as much as that first guess of the scatter. Common practice,
no source."""

Hours = tuple[float, float]
"""Actual and expected hours of one task."""


def calibration_of(build: BuildInput) -> tuple[Level, tuple[KindFactor, ...]]:
    """The level of all work, and the factor of every kind that has a record, by kind.

    A task counts once it is finished, or has taken longer than was expected of it: it takes at
    least the hours logged. Left out: tasks with no logged hours, with no expected hours, and
    outside work. Earlier builds' records count as far as they are on.
    """
    found = levels_of(build)
    return found.level, found.kinds


def levels_of(build: BuildInput) -> Factors:
    """The same, with the level of hours once taken; attendance as without a record."""
    return in_levels(said_of(build), names_of(build))


def said_of(build: BuildInput) -> tuple[KindSays, ...]:
    """What every kind of work says, of this build and of the earlier ones that count."""
    earlier = [record for record in build.earlier_records if record.counts]
    return said_by(records_of(build), names_of(build), earlier)


def said_by(
    records: Mapping[str, Sequence[Hours]],
    names: Mapping[str, str],
    earlier: Sequence[EarlierRecord] = (),
) -> tuple[KindSays, ...]:
    """What one or more tasks of each kind say, and earlier builds; `names` as in `in_levels`.

    The ratio of a kind is that of the sums, actual over expected hours, so that a large task
    counts for more than a small one; with tasks of expected hours e the record is worth
    n = (sum e)^2 / sum e^2 tasks (Kish 1965), which is their number where all are alike. With
    single tasks scattered by s the log of a mean of n lies s^2 / 2n too low, which is put back
    (second-order expansion of the log). Then, without an earlier build, each kind's
    y = log ratio + s^2 / 2n with v = 0.15^2 + s^2 / n, and 0.30 the spread of the level:

        level m = sum(y / v) / (1 / 0.30^2 + sum(1 / v)), variance 1 / the same denominator
        kind    = m + b (y - m), b = 0.15^2 / v, variance 0.15^2 (1 - b) + (1 - b)^2 var m
    """
    own = {kind: summed(names.get(kind, kind), record) for kind, record in records.items()}
    variance = _task_variance([*own.values(), *(kind for one in earlier for kind in one.kinds)])
    return tuple(_says(own, earlier, variance))


def records_of(build: BuildInput) -> dict[str, list[Hours]]:
    """By kind of work the actual and expected hours of every task that counts."""
    logged = logged_hours(build.log)
    records: dict[str, list[Hours]] = defaultdict(list)
    for task in build.tasks:
        actual = logged.get(task.key, 0.0)
        if _counts(task, actual):
            records[kind_of(task)].append((actual, task.hours.expected))
    return records


def _counts(task: Task, actual: float) -> bool:
    if task.outside_days is not None or actual <= 0 or task.hours.expected <= 0:
        return False
    return task.finished_on is not None or actual > task.hours.expected


def names_of(build: BuildInput) -> dict[str, str]:
    """The kinds of work of a build, each by its name in all builds of the person."""
    setups = {setup.key: folded_name(setup.name) for setup in build.shop.setups}
    kinds = {NO_SETUP, *setups, *map(kind_of, build.tasks)}
    return {kind: setups.get(setup_of(kind), setup_of(kind)) for kind in kinds}


def summed(name: str, record: Sequence[Hours]) -> EarlierKind:
    """What one or more tasks of a kind come to."""
    logs = [math.log(actual / expected) for actual, expected in record]
    mean = sum(logs) / len(logs)
    expected = sum(hours for _, hours in record)
    return EarlierKind(
        name=name,
        tasks=len(record),
        actual_hours=sum(hours for hours, _ in record),
        expected_hours=expected,
        worth=expected**2 / sum(hours**2 for _, hours in record),
        log_squares=sum((one - mean) ** 2 for one in logs),
    )


def _task_variance(kinds: Iterable[EarlierKind]) -> float:
    """s^2: the variance of single tasks' logs within their kind, pooled with the first guess."""
    squares, freedom = TASK_LOG_SD_WORTH * TASK_LOG_SD**2, TASK_LOG_SD_WORTH
    for kind in kinds:
        squares += kind.log_squares
        freedom += kind.tasks - 1
    return squares / freedom


def _says(
    own: Mapping[str, EarlierKind], earlier: Sequence[EarlierRecord], variance: float
) -> Iterator[KindSays]:
    for kind in sorted(own):
        yield _kind_says(kind, own[kind], 0, variance)
    for build, record in enumerate(earlier, start=1):
        for each in record.kinds:
            yield _kind_says(folded_name(each.name), each, build, variance)


def _kind_says(kind: str, said: EarlierKind, build: int, variance: float) -> KindSays:
    noise = variance / said.worth
    return KindSays(
        kind=kind,
        name=folded_name(said.name),
        build=build,
        log_ratio=math.log(said.actual_hours / said.expected_hours) + noise / 2,
        noise=noise,
        count=said.tasks,
    )


def factors_of(build: BuildInput, *, calibrated: bool = True, attended: bool = True) -> Factors:
    """What the forecast draws from; either half can be switched off and then has its prior."""
    factors = levels_of(build) if calibrated else Factors()
    return replace(factors, attendance=attendance_of(build) if attended else Attendance())
