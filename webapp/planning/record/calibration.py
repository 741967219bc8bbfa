"""What finished work says of the estimates: actual over expected hours by kind of work.

A kind of work is the setup it needs, or none. Kinds scatter round the level of all of them, so
that what one kind has shown is believed, in part, of the others: a normal two-level model with
known variances, empirical Bayes (Gelman et al., Bayesian Data Analysis, section 5.4; from
memory). All of it is in logs of actual over expected hours.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Task
from webapp.build.logged_hours import logged_hours
from webapp.planning.chances.factors import (
    KIND_LOG_SD,
    LEVEL_LOG_SD,
    NO_SETUP,
    Attendance,
    Factors,
    KindFactor,
    Level,
)
from webapp.planning.record.attendance import attendance_of

TASK_LOG_SD = 0.50
"""Scatter of single tasks' log of actual over expected hours, before the record says: one task
in three takes more than 1.65 times, or less than 0.6 times, what was expected. Common practice,
no source."""
TASK_LOG_SD_WORTH = 8
"""So many tasks of the record weigh as much as that first guess of the scatter. Common practice,
no source."""

Hours = tuple[float, float]
"""Actual and expected hours of one task."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _KindRecord:
    """What the record of one kind says by itself.

    log_ratio : y, the log of actual over expected hours
    variance : v, of y round the level: of the kind round the level and of the tasks round the kind
    """

    kind: str
    log_ratio: float
    variance: float
    count: int


def calibration_of(build: BuildInput) -> tuple[Level, tuple[KindFactor, ...]]:
    """The level of all work, and the factor of every kind that has a record, by kind.

    A task counts once it is finished, or has taken longer than was expected of it: it takes at
    least the hours logged. Left out: tasks with no logged hours, with no expected hours, and
    outside work.
    """
    return in_two_levels(records_of(build))


def records_of(build: BuildInput) -> dict[str, list[Hours]]:
    """By kind of work the actual and expected hours of every task that counts."""
    logged = logged_hours(build.log)
    records: dict[str, list[Hours]] = defaultdict(list)
    for task in build.tasks:
        actual = logged.get(task.key, 0.0)
        if _counts(task, actual):
            records[task.setup or NO_SETUP].append((actual, task.hours.expected))
    return records


def _counts(task: Task, actual: float) -> bool:
    if task.outside_days is not None or actual <= 0 or task.hours.expected <= 0:
        return False
    return task.finished_on is not None or actual > task.hours.expected


def in_two_levels(
    records: Mapping[str, Sequence[Hours]],
) -> tuple[Level, tuple[KindFactor, ...]]:
    """The level, and the factor of each kind, of one or more tasks of each kind.

    The ratio of a kind is that of the sums, actual over expected hours, so that a large task
    counts for more than a small one; with tasks of expected hours e the record is worth
    n = (sum e)^2 / sum e^2 tasks (Kish 1965), which is their number where all are alike. With
    single tasks scattered by s the log of a mean of n lies s^2 / 2n too low, which is put back
    (second-order expansion of the log). Then, each kind's y = log ratio + s^2 / 2n with
    v = 0.15^2 + s^2 / n, and 0.30 the spread of the level:

        level m = sum(y / v) / (1 / 0.30^2 + sum(1 / v)), variance 1 / the same denominator
        kind    = m + b (y - m), b = 0.15^2 / v, variance 0.15^2 (1 - b) + (1 - b)^2 var m

    Every `count` is the plain number of tasks.
    """
    scatter = _task_variance(records.values())
    kinds = [_kind_record(kind, records[kind], scatter) for kind in sorted(records)]
    precision = 1 / LEVEL_LOG_SD**2 + sum(1 / one.variance for one in kinds)
    level = Level(
        log_mean=sum(one.log_ratio / one.variance for one in kinds) / precision,
        log_sd=precision**-0.5,
        count=sum(one.count for one in kinds),
    )
    return level, tuple(_factor(one, level) for one in kinds)


def _task_variance(records: Iterable[Sequence[Hours]]) -> float:
    """s^2: the variance of single tasks' logs within their kind, pooled with the first guess."""
    squares, freedom = TASK_LOG_SD_WORTH * TASK_LOG_SD**2, TASK_LOG_SD_WORTH
    for record in records:
        logs = [math.log(actual / expected) for actual, expected in record]
        mean = sum(logs) / len(logs)
        squares += sum((one - mean) ** 2 for one in logs)
        freedom += len(logs) - 1
    return squares / freedom


def _kind_record(kind: str, record: Sequence[Hours], task_variance: float) -> _KindRecord:
    actual = sum(hours for hours, _ in record)
    expected = sum(hours for _, hours in record)
    worth = expected**2 / sum(hours**2 for _, hours in record)
    return _KindRecord(
        kind=kind,
        log_ratio=math.log(actual / expected) + task_variance / (2 * worth),
        variance=KIND_LOG_SD**2 + task_variance / worth,
        count=len(record),
    )


def _factor(record: _KindRecord, level: Level) -> KindFactor:
    weight = KIND_LOG_SD**2 / record.variance
    return KindFactor(
        kind=record.kind,
        log_mean=level.log_mean + weight * (record.log_ratio - level.log_mean),
        weight=weight,
        count=record.count,
    )


def factors_of(build: BuildInput, *, calibrated: bool = True, attended: bool = True) -> Factors:
    """What the forecast draws from; either half can be switched off and then has its prior."""
    level, kinds = calibration_of(build) if calibrated else (Level(), ())
    return Factors(
        level=level,
        kinds=kinds,
        attendance=attendance_of(build) if attended else Attendance(),
    )
