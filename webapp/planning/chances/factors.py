"""What the record says of estimates and of shop time: factors that the forecast draws.

A *kind* of work is the setup it needs, or none. Without a record every factor is 1 with a stated
prior spread; `calibration` and `attendance` turn the log into a record.
"""

import math
from dataclasses import dataclass

NO_SETUP = ""
PRIOR_LOG_SD = 0.20
"""Spread of a kind's log factor before any task of it is finished: one in three builders is off
by more than a fifth over a whole kind of work. Common practice, no source."""
PRIOR_ATTENDANCE_SD = 0.10
"""Spread of attendance before any week has gone by. Common practice, no source."""
LEAST_ATTENDANCE = 0.05
"""Attendance is never taken as lower: the shop would have no date at all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KindFactor:
    """Actual over expected hours of one kind of work, as a log-normal factor.

    `count` finished tasks stand behind it; `log_sd` is the uncertainty of the factor itself,
    not the scatter of single tasks.
    """

    kind: str
    log_mean: float = 0.0
    log_sd: float = PRIOR_LOG_SD
    count: int = 0

    @property
    def factor(self) -> float:
        """The median factor, 1 without a record."""
        return math.exp(self.log_mean)


@dataclass(frozen=True, slots=True, kw_only=True)
class Attendance:
    """Hours worked over hours the shop week promised; `weeks` full weeks stand behind it."""

    mean: float = 1.0
    sd: float = PRIOR_ATTENDANCE_SD
    weeks: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Factors:
    """All factors of a build; kinds that are not listed have the prior."""

    kinds: tuple[KindFactor, ...] = ()
    attendance: Attendance = Attendance()

    def of_kind(self, kind: str) -> KindFactor:
        """The factor of one kind of work."""
        return next((k for k in self.kinds if k.kind == kind), KindFactor(kind=kind))


NO_RECORD = Factors()
