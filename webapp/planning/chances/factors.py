"""What the record says of estimates and of shop time: factors that the forecast draws.

A *kind* of work is the setup it needs, or none. Estimates are off in two levels: all of a
builder's estimates together (the *level*), and each kind of work round that level. Without a
record every factor is 1 with a stated prior spread; `calibration` and `attendance` turn the log
into a record.
"""

import math
from dataclasses import dataclass

NO_SETUP = ""
LEVEL_LOG_SD = 0.30
"""Spread of the level's log factor before any task is finished: one in three builders is off by
more than a third over all of their work. Common practice, no source."""
KIND_LOG_SD = 0.15
"""Spread of the kinds' log factors round the level. Common practice, no source."""
PRIOR_ATTENDANCE_SD = 0.20
"""Spread of attendance before any week has gone by. Common practice, no source."""
LEAST_ATTENDANCE = 0.05
"""Attendance is never taken as lower: the shop would have no date at all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """Actual over expected hours of all of a builder's work, as a log-normal factor.

    `count` tasks stand behind it, of all kinds; `log_sd` is the uncertainty of the level itself.
    """

    log_mean: float = 0.0
    log_sd: float = LEVEL_LOG_SD
    count: int = 0

    @property
    def factor(self) -> float:
        """The median factor, 1 without a record: that of every kind without one of its own."""
        return math.exp(self.log_mean)


@dataclass(frozen=True, slots=True, kw_only=True)
class KindFactor:
    """Actual over expected hours of one kind of work, as a log-normal factor.

    `count` tasks stand behind it. `weight`, from 0 to 1, is how far the kind's own record is
    believed against the level: the rest follows the level, wherever that is drawn.
    """

    kind: str
    log_mean: float = 0.0
    weight: float = 0.0
    count: int = 0

    @property
    def factor(self) -> float:
        """The median factor."""
        return math.exp(self.log_mean)

    @property
    def own_log_sd(self) -> float:
        """The uncertainty of the factor where the level is known; not the scatter of tasks."""
        return KIND_LOG_SD * math.sqrt(1 - self.weight)

    def log_sd(self, level: Level) -> float:
        """The whole uncertainty of the factor: its own and its share of the level's."""
        return math.hypot(self.own_log_sd, (1 - self.weight) * level.log_sd)


@dataclass(frozen=True, slots=True, kw_only=True)
class Attendance:
    """Hours worked over those that could be; `weeks` whole weeks stand behind it."""

    mean: float = 1.0
    sd: float = PRIOR_ATTENDANCE_SD
    weeks: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Factors:
    """All factors of a build; kinds that are not listed have no record and follow the level."""

    level: Level = Level()
    kinds: tuple[KindFactor, ...] = ()
    attendance: Attendance = Attendance()

    def of_kind(self, kind: str) -> KindFactor:
        """The factor of one kind of work."""
        unseen = KindFactor(kind=kind, log_mean=self.level.log_mean)
        return next((k for k in self.kinds if k.kind == kind), unseen)


NO_RECORD = Factors()
