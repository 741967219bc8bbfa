"""What the record says of estimates and of shop time: factors that the forecast draws.

A *kind* of work is the setup it needs, or none. Estimates are off in two levels: all of a
builder's estimates together (the *level*), and each kind of work round that level. Without a
record every factor is 1 with a stated prior spread; `calibration` and `attendance` turn the log
into a record.

Hours that the same work took in an earlier build are no estimates any more: the builder's factor
is in them already. Work with such hours is of kinds of its own, round a level of its own that is 1
without a record.
"""

import math
from dataclasses import dataclass, replace

from webapp.build.build_input import Task

NO_SETUP = ""
_HOURS_TAKEN = "\nhours taken"
"""Behind the setup in a kind of hours once taken: no key holds the end of a line."""
LEVEL_LOG_SD = 0.30
"""Spread of the level's log factor before any task is finished: one in three builders is off by
more than a third over all of their work. Common practice, no source."""
KIND_LOG_SD = 0.15
"""Spread of the kinds' log factors round the level. Common practice, no source."""
SAME_PERSON = 0.8
"""So much of both variances is the person's, in every build of theirs; the rest is the build's. So
two builds of one person differ by more than a fifth in one case of three. Common practice, no
source."""
TAKEN_LEVEL_LOG_SD = math.sqrt(2 * (1 - SAME_PERSON)) * LEVEL_LOG_SD
TAKEN_KIND_LOG_SD = math.sqrt(2 * (1 - SAME_PERSON)) * KIND_LOG_SD
"""Of hours taken in another build: the person is in both builds, each build has a part of its own.
"""
PRIOR_ATTENDANCE_SD = 0.20
"""Spread of attendance before any week has gone by. Common practice, no source."""
SAME_EVENINGS = 0.5
"""So much of its variance is the person's, the rest the build's: what comes between an evening and
the shop changes with the years. Common practice, no source."""
LEAST_ATTENDANCE = 0.05
"""Attendance is never taken as lower: the shop would have no date at all."""


def kind_of(task: Task) -> str:
    """The kind of work of a task: the setup it needs, apart where its hours were once taken."""
    return kind_called(task.setup or NO_SETUP, is_taken=task.hours_taken)


def kind_called(setup: str, *, is_taken: bool) -> str:
    """The kind of work with a setup."""
    return setup + _HOURS_TAKEN if is_taken else setup


def setup_of(kind: str) -> str:
    """The setup of a kind of work, `NO_SETUP` without one."""
    return kind.removesuffix(_HOURS_TAKEN)


def is_of_hours_taken(kind: str) -> bool:
    """Whether the hours of a kind of work are what it took in an earlier build."""
    return kind.endswith(_HOURS_TAKEN)


def luck_of_kind(kind: str) -> str:
    """The name of the luck that a kind of work has by itself."""
    return f"kind {kind}"


LUCK_OF_LEVEL, LUCK_OF_TAKEN = "level", "level of hours taken"


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """Actual over expected hours of all of a builder's work, as a log-normal factor.

    `count` tasks of this build stand behind it, of all kinds, and `earlier` ones of other builds;
    `log_sd` is the uncertainty of the level itself.
    """

    log_mean: float = 0.0
    log_sd: float = LEVEL_LOG_SD
    count: int = 0
    earlier: int = 0

    @property
    def factor(self) -> float:
        """The median factor, 1 without a record: that of every kind without one of its own."""
        return math.exp(self.log_mean)


@dataclass(frozen=True, slots=True, kw_only=True)
class KindFactor:
    """Actual over expected hours of one kind of work, as a log-normal factor.

    `count` tasks of this build stand behind it, and `earlier` ones of other builds. `weight` is
    how far it stands apart from the level: the rest, 1 - `weight`, follows the level, wherever
    that is drawn. `apart_log_sd` is its uncertainty by itself; None: what a kind has whose own
    record is believed to `weight`. `beside` are the names of other luck that it goes with, each
    with how far.
    """

    kind: str
    log_mean: float = 0.0
    weight: float = 0.0
    count: int = 0
    earlier: int = 0
    apart_log_sd: float | None = None
    beside: tuple[tuple[str, float], ...] = ()

    @property
    def factor(self) -> float:
        """The median factor."""
        return math.exp(self.log_mean)

    @property
    def own_log_sd(self) -> float:
        """The uncertainty of the factor where all that it follows is known; not the scatter of
        tasks."""
        if self.apart_log_sd is not None:
            return self.apart_log_sd
        return KIND_LOG_SD * math.sqrt(1 - self.weight)

    def log_sd(self, level: Level) -> float:
        """The whole uncertainty of the factor: its own and that of what it follows."""
        beside = (by for _, by in self.beside)
        return math.hypot(self.own_log_sd, (1 - self.weight) * level.log_sd, *beside)


HOURS_TAKEN = KindFactor(
    kind=kind_called(NO_SETUP, is_taken=True),
    weight=SAME_PERSON,
    apart_log_sd=TAKEN_KIND_LOG_SD,
    beside=(
        (
            LUCK_OF_TAKEN,
            math.sqrt(TAKEN_LEVEL_LOG_SD**2 - ((1 - SAME_PERSON) * LEVEL_LOG_SD) ** 2),
        ),
    ),
)
"""What is known of hours once taken without a record: 1. It follows the level as far as that is
this build's own: of its variance the share 1 - `SAME_PERSON`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Attendance:
    """Hours worked over those that could be; `weeks` whole weeks of this build stand behind it,
    and `earlier` ones of other builds.
    """

    mean: float = 1.0
    sd: float = PRIOR_ATTENDANCE_SD
    weeks: int = 0
    earlier: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Factors:
    """All factors of a build; kinds that are not listed have no record and follow the level.

    Those of hours once taken follow theirs, `taken`.
    """

    level: Level = Level()
    kinds: tuple[KindFactor, ...] = ()
    attendance: Attendance = Attendance()
    taken: KindFactor = HOURS_TAKEN

    def of_kind(self, kind: str) -> KindFactor:
        """The factor of one kind of work."""
        unseen = KindFactor(kind=kind, log_mean=self.level.log_mean)
        if is_of_hours_taken(kind):
            unseen = replace(self.taken, kind=kind)
        return next((k for k in self.kinds if k.kind == kind), unseen)


NO_RECORD = Factors()
