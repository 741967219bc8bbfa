"""What finished work says of the estimates: actual over expected hours by kind of work.

A kind of work is the setup it needs, or none.
"""

import math
from collections import defaultdict

from webapp.build.build_input import BuildInput
from webapp.build.logged_hours import logged_hours
from webapp.planning.chances.factors import (
    NO_SETUP,
    PRIOR_LOG_SD,
    Attendance,
    Factors,
    KindFactor,
)
from webapp.planning.record.attendance import attendance_of

TASK_LOG_SD = 0.50
"""Scatter of single tasks' log of actual over expected hours: one task in three takes more than
1.65 times, or less than 0.6 times, what was expected. Common practice, no source."""


def calibration_of(build: BuildInput) -> tuple[KindFactor, ...]:
    """The factor of every kind of work that has a finished task with a record, by kind.

    The ratio is that of the sums, actual over expected hours, so that a large task counts for
    more than a small one; with tasks of expected hours e the record is worth
    n = (sum e)^2 / sum e^2 tasks (Kish 1965), which is their number where all are alike. The log
    of the ratio is shrunk toward zero, normal-normal: prior spread `PRIOR_LOG_SD`, scatter of
    single tasks `TASK_LOG_SD`, so the record has the weight w = n / (n + k),
    k = (0.50 / 0.20)^2 = 6.25 tasks, and the spread of the factor is 0.20 sqrt(1 - w).

    Left out: tasks with no logged hours, with no expected hours, and outside work. `count` is
    the plain number of tasks.
    """
    logged = logged_hours(build.log)
    records: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for task in build.tasks:
        actual, expected = logged.get(task.key, 0.0), task.hours.expected
        if task.finished_on is None or task.outside_days is not None:
            continue
        if actual > 0 and expected > 0:
            records[task.setup or NO_SETUP].append((actual, expected))
    return tuple(_factor(kind, records[kind]) for kind in sorted(records))


def _factor(kind: str, records: list[tuple[float, float]]) -> KindFactor:
    actual = sum(hours for hours, _ in records)
    expected = sum(hours for _, hours in records)
    worth = expected**2 / sum(hours**2 for _, hours in records)
    weight = worth / (worth + (TASK_LOG_SD / PRIOR_LOG_SD) ** 2)
    return KindFactor(
        kind=kind,
        log_mean=weight * math.log(actual / expected),
        log_sd=PRIOR_LOG_SD * math.sqrt(1 - weight),
        count=len(records),
    )


def factors_of(build: BuildInput, *, calibrated: bool = True, attended: bool = True) -> Factors:
    """What the forecast draws from; either half can be switched off and then has its prior."""
    return Factors(
        kinds=calibration_of(build) if calibrated else (),
        attendance=attendance_of(build) if attended else Attendance(),
    )
