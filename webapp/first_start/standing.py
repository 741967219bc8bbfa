"""What stands between a build and the key, check by check, at one moment: the answer.

It is worked out anew on each request, by `start_standing` in `evaluation.py`; nothing of it is
stored.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from webapp.build.first_start import SetAside, Signature
from webapp.first_start.attempts import Shut
from webapp.first_start.check_list import Check, CheckList, Stage, StartQuestion
from webapp.first_start.holes import Hole
from webapp.first_start.records import Fallen, State

BlockedKind = Literal[
    "check",
    "task",
    "circuit",
    "stage",
    "answer",
    "current on",
    "helper",
    "stop line",
    "shut",
    "watch",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Blocked:
    """What has to be so before a check can be signed; `name` is what it is called.

    `key` is the check, task, circuit, question, stop line, or why it is shut; of an earlier stage
    it is the first of its checks that does not stand, of the watch "".
    """

    kind: BlockedKind
    key: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckStanding:
    """A check as it stands. `blocked_by` () means that it can be signed now, if it is to be.

    fallen : by what its signature fell or lapsed
    dropped_by : the question whose answer drops it
    asks_again : it stands, and is to be signed anew before or in the next run
    """

    check: Check
    state: State
    is_met: bool
    signature: Signature | None = None
    set_aside: SetAside | None = None
    fallen: Fallen | None = None
    dropped_by: str | None = None
    blocked_by: tuple[Blocked, ...] = ()
    asks_again: bool = False

    @property
    def is_kept(self) -> bool:
        """On the list: neither dropped nor left out nor only offered."""
        return self.state not in ("dropped", "left out", "offered")

    @property
    def can_be_signed(self) -> bool:
        """Kept, not signed as it has to be, and nothing in the way.

        What is spent may be signed anew at any time (the battery taken off again), and need not.
        """
        is_signed = self.state in ("stands", "figures missing", "set aside")
        wants = self.asks_again or not (is_signed or (self.state == "spent" and self.is_met))
        return self.is_kept and wants and not self.blocked_by


@dataclass(frozen=True, slots=True, kw_only=True)
class StageStanding:
    """A stage: `is_open` where all kept before it stand, `stands` where all of its own do."""

    stage: Stage
    checks: tuple[CheckStanding, ...]
    is_open: bool
    stands: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class StartStanding:
    """Everything at one moment.

    holes : all that is known to be open before the key
    version : a hash of answers, signatures and open circuits; a form carries it
    unanswered : questions on which checks hang and that nobody answered
    shut : why nothing is cranked now
    """

    checks: CheckList
    at: dt.datetime
    answers: Mapping[str, str]
    stages: tuple[StageStanding, ...]
    holes: tuple[Hole, ...]
    unanswered: tuple[StartQuestion, ...]
    shut: Shut | None
    version: str
    ran_at: dt.datetime | None

    @property
    def all(self) -> tuple[CheckStanding, ...]:
        """Every check of the list and of the person's own, in the order they are walked."""
        return tuple(one for stage in self.stages for one in stage.checks)

    def of(self, key: str) -> CheckStanding | None:
        """The check of that key."""
        return next((one for one in self.all if one.check.key == key), None)

    def stage_of(self, key: str) -> StageStanding:
        """The stage of that key. StopIteration where there is none."""
        return next(stage for stage in self.stages if stage.stage.key == key)

    @property
    def is_nothing_known_open(self) -> bool:
        """No hole is known. It never means more than that."""
        return not self.holes

    @property
    def set_aside(self) -> tuple[CheckStanding, ...]:
        """What is set aside, with reasons and names."""
        return tuple(one for one in self.all if one.state == "set aside")

    @property
    def dropped(self) -> tuple[CheckStanding, ...]:
        """What answers dropped."""
        return tuple(one for one in self.all if one.state == "dropped")

    @property
    def not_taken(self) -> tuple[CheckStanding, ...]:
        """What is offered and was not taken in, or was left out."""
        return tuple(one for one in self.all if one.state in ("offered", "left out"))

    @property
    def oldest(self) -> tuple[Signature, ...]:
        """The ten oldest signatures it rests on."""
        signed = [one.signature for one in self.all if one.state == "stands" and one.signature]
        return tuple(sorted(signed, key=lambda one: one.at)[:10])
