"""What a list of checks is: stages in the order they are walked, checks, aborts, timings.

Frozen values; the file they come from is read by `webapp.exchange.start_lists`.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from webapp.build.folded_name import folded_name

Who = Literal["you", "helper", "licensed"]
Waive = Literal["reason", "never"]
Lasts = Literal["until opened", "this day", "this attempt"]
NeedKind = Literal["check", "task", "circuit", "earlier stages"]
FallKind = Literal["circuit", "task", "answer", "check", "part", "days", "said"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What has to be so before a check is signed. `or_else`: words under which it need not."""

    kind: NeedKind
    key: str = ""
    or_else: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fall:
    """What makes a signature fall: something opened by its key, or a count of days."""

    kind: FallKind
    key: str = ""
    days: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A reading that a check asks for. `low` and `high` are the usual range, None without end."""

    name: str
    unit: str
    usual: str
    low: float | None
    high: float | None
    doubles_at_24_volts: bool
    basis: str

    @property
    def is_words(self) -> bool:
        """A level between marks is said in words, not in a number."""
        return self.unit.startswith("of ")

    def bounds(self, volts: str | None) -> tuple[float | None, float | None]:
        """The usual range on a system of so many volts."""
        times = 2 if self.doubles_at_24_volts and volts == "24" else 1
        return tuple(None if end is None else end * times for end in (self.low, self.high))  # type: ignore[return-value]


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check. `when`: the answers that keep it, by question.

    `every_run`: asked again before or in every later run. `needs_place_today`: only on a day on
    which the place was signed. `superseded_by`: the check whose signature spends this one's.
    """

    key: str
    stage: str
    circuit: str
    walk: str
    text: str
    why: str
    caution: str
    when: tuple[tuple[str, tuple[str, ...]], ...] = ()
    needs: tuple[Need, ...] = ()
    readings: tuple[Wanted, ...] = ()
    who: Who = "you"
    waive: Waive = "reason"
    falls: tuple[Fall, ...] = ()
    lasts: Lasts = "until opened"
    engine_running: bool = False
    superseded_by: str | None = None
    every_run: bool = False
    needs_place_today: bool = False
    source: str = ""
    is_own: bool = False

    @property
    def is_shown_at_first(self) -> bool:
        """Without being taken in: what is never set aside, or asks a reading or has a caution."""
        return self.waive == "never" or bool(self.readings or self.caution) or self.is_own

    def dropped_by(self, answers: Mapping[str, str]) -> str | None:
        """The question whose answer drops it; one without an answer keeps it."""
        for question, keep in self.when:
            if question in answers and answers[question] not in keep:
                return question
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """A stage: it opens when all that are kept in the stages before it stand."""

    key: str
    title: str
    note: str
    checks: tuple[Check, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StartQuestion:
    """A question and the answers to it."""

    key: str
    answers: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Abort:
    """Why it was stopped: what is noticed, done first, then looked for, and what falls."""

    key: str
    notice: str
    action: str
    after: str
    makes_fall: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StopWords:
    """The lines that say how to stop it, and what is typed into them beforehand."""

    lines: tuple[str, ...]
    typed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Timings:
    """How long what takes on the day; defaults, the maker's figure goes before."""

    crank_seconds: int
    crank_seconds_most: int
    rest_seconds: int
    tries_then_find_out: int
    tries_common_rail_air: int
    pause_after_three_minutes: int
    prime_cranks: int
    prime_rest_seconds: int
    fire_watch_minutes: int
    fire_second_look_minutes: int
    cold_again_hours: int
    heat_soak_minutes: int
    boat_siphon_look_minutes: int
    electric_second_look_minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckList:
    """A whole list. `groups` are its circuits, each with the subsystems it may belong to.

    `aborts` and `stop_words` are by kind: "diesel", "petrol", "electric", "boat".
    `task_names` are what the tasks that its checks hang on are called in the starter list.
    """

    key: str
    title: str
    questions: tuple[StartQuestion, ...]
    stages: tuple[Stage, ...]
    groups: tuple[tuple[str, tuple[str, ...]], ...]
    falls_when_opened: tuple[tuple[str, tuple[str, ...]], ...]
    task_names: tuple[tuple[str, str], ...]
    aborts: tuple[tuple[str, tuple[Abort, ...]], ...]
    stop_words: tuple[tuple[str, StopWords], ...]
    timings: Timings

    @property
    def checks(self) -> Iterator[Check]:
        """Every check, in the order they are walked."""
        return (check for stage in self.stages for check in stage.checks)

    def kind(self, answers: Mapping[str, str]) -> str:
        """Which stop words and aborts are its: a diesel's, as long as nobody said petrol."""
        if self.key == "engine":
            return "petrol" if answers.get("fuel") == "petrol" else "diesel"
        return self.key

    def aborts_for(self, answers: Mapping[str, str]) -> tuple[Abort, ...]:
        """The aborts of its kind."""
        return dict(self.aborts)[self.kind(answers)]

    def stop_words_for(self, answers: Mapping[str, str]) -> StopWords:
        """The stop lines of its kind."""
        return dict(self.stop_words)[self.kind(answers)]

    @property
    def named_falls(self) -> tuple[str, ...]:
        """What a person may say was done, beside the circuits: "gearbox taken off"."""
        said = (fall.key for check in self.checks for fall in check.falls if fall.kind == "said")
        return tuple(dict.fromkeys(said))

    def circuits_of_subsystem(self, key_or_name: str) -> frozenset[str]:
        """The circuits that may belong to a subsystem of that key, or of a name with it in it."""
        words = set(folded_name(key_or_name).replace("/", " ").split())
        return frozenset(
            circuit for circuit, subsystems in self.groups if words.intersection(subsystems)
        )

    def circuits_of_task(self, key: str) -> frozenset[str]:
        """The circuits of the checks that name a task; none where no check does."""
        return frozenset(
            check.circuit
            for check in self.checks
            if any(need.kind == "task" and need.key == key for need in check.needs)
            or any(fall.kind == "task" and fall.key == key for fall in check.falls)
        )
