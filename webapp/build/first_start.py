"""What was said and done on the way to first start: answers, signatures, openings, runs.

Stored is only what a person said or did, each with its moment. Whether a signature stands, has
fallen or lapsed is worked out anew by `webapp.first_start`, never stored. Moments are local time
with its offset from UTC, to the fraction of a second: rests and watches are worked out from them,
and a clock that is set back an hour makes none of them longer or shorter.
"""

import datetime as dt
from dataclasses import dataclass
from typing import Literal

RunKind = Literal["prime", "start", "power", "spin", "drive"]
RUN_KINDS: tuple[RunKind, ...] = ("prime", "start", "power", "spin", "drive")
"""A turn that must not fire, a start; of an electric drive: powered up, turned free, driven."""
Ending = Literal["not fired", "stopped", "aborted"]
ENDINGS: tuple[Ending, ...] = ("not fired", "stopped", "aborted")
Choice = Literal["left out", "taken in"]
CHOICES: tuple[Choice, ...] = ("left out", "taken in")
OpenedHow = Literal[
    "begun",
    "logged",
    "edited",
    "deleted",
    "added",
    "reopened",
    "not here",
    "answered",
    "said",
    "copied",
]
OPENED_HOW: tuple[OpenedHow, ...] = (
    *("begun", "logged", "edited", "deleted", "added"),
    *("reopened", "not here", "answered", "said", "copied"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class StartAnswer:
    """What was answered to a question of first start that the starter list does not ask."""

    question: str
    answer: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SignedReading:
    """A reading as it was typed, with its unit; `makers` is the maker's figure where it was
    typed because the reading lies outside of the usual."""

    name: str
    unit: str
    value: float | str
    makers: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LicensedPaper:
    """The paper of a licensed person that the signer saw."""

    name: str
    firm: str
    number: str
    on: dt.date


@dataclass(frozen=True, slots=True, kw_only=True)
class Signature:
    """One check, signed once: a check that is signed anew has one signature more.

    `seen` is what was seen, in words, or where somebody stands. `taken_back_at`: it was signed
    by mistake and counts no more. `is_tap`: tapped while it ran, its readings come after the stop.
    """

    key: str
    check: str
    at: dt.datetime
    signer: str
    helper: str = ""
    seen: str = ""
    readings: tuple[SignedReading, ...] = ()
    paper: LicensedPaper | None = None
    is_tap: bool = False
    taken_back_at: dt.datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside:
    """A check that is set aside, why, by whom and when. It falls as a signature does."""

    key: str
    check: str
    at: dt.datetime
    name: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckChange:
    """What a person made of a check of the list: other words, left out, or taken in."""

    check: str
    at: dt.datetime
    name: str
    words: str = ""
    choice: Choice | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnCheck:
    """A check of the person's own, in a stage and a circuit of the list."""

    key: str
    stage: str
    circuit: str
    text: str
    why: str = ""
    caution: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """That something was opened or changed, which makes signatures before it fall.

    `what` is the noun and key of the thing ("task:hoses_fit"), `name` what it was called.
    `reaches` says where it belongs, as it stood then, so that it is known after the thing is
    gone: "task:…", "part:…", "answer:…", "drawn:…", "subsystem:…", "circuit:…", "said:…".
    No opening is ever taken back: what was done stays done.
    """

    what: str
    name: str
    how: OpenedHow
    at: dt.datetime
    reaches: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineRun:
    """A crank, and the run that came of it where it fired.

    `abort` and `cause` are asked for after the stop: which of the list's aborts it was, what it
    was and what was done. `ran_at` is the moment at which somebody said "it ran".
    """

    key: str
    kind: RunKind
    begun_at: dt.datetime
    fired_at: dt.datetime | None = None
    ended_at: dt.datetime | None = None
    ending: Ending | None = None
    abort: str = ""
    cause: str = ""
    cause_at: dt.datetime | None = None
    ran_at: dt.datetime | None = None

    @property
    def is_running(self) -> bool:
        """Fired and not stopped yet."""
        return self.fired_at is not None and self.ended_at is None


@dataclass(frozen=True, slots=True, kw_only=True)
class StopLine:
    """What is typed into the lines that say how to stop it: where the lever is, the way out."""

    name: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstStart:
    """All of it; empty where nobody has signed or answered anything."""

    answers: tuple[StartAnswer, ...] = ()
    signatures: tuple[Signature, ...] = ()
    set_asides: tuple[SetAside, ...] = ()
    changes: tuple[CheckChange, ...] = ()
    own_checks: tuple[OwnCheck, ...] = ()
    openings: tuple[Opening, ...] = ()
    runs: tuple[EngineRun, ...] = ()
    stop_lines: tuple[StopLine, ...] = ()


NOTHING_SIGNED = FirstStart()
