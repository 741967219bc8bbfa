"""What became of the signature of each check: it stands, fell, lapsed, or was spent."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from webapp.build.build_input import BuildInput
from webapp.build.first_start import SetAside, Signature
from webapp.first_start.attempts import attempt_ends, last_stop, open_run
from webapp.first_start.check_list import Check, CheckList
from webapp.first_start.list_facts import facts_of
from webapp.first_start.opened import Event, events_of

State = Literal[
    "not signed",
    "stands",
    "figures missing",
    "fallen",
    "lapsed",
    "spent",
    "set aside",
    "dropped",
    "offered",
    "left out",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fallen:
    """By what a signature fell or lapsed: what it was called, how it came, when.

    `how` is how something was opened, or: check (another check does not stand), aborted, cranked,
    days, day, attempt, run.
    """

    name: str
    how: str
    at: dt.datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """The last that was said of a check, and what became of it."""

    state: State
    at: dt.datetime | None = None
    signature: Signature | None = None
    set_aside: SetAside | None = None
    fallen: Fallen | None = None
    dropped_by: str | None = None


class Records:
    """The records of every check at one moment, each worked out once."""

    def __init__(
        self, build: BuildInput, checks: CheckList, answers: Mapping[str, str], at: dt.datetime
    ) -> None:
        self.build, self.checks, self.answers, self.at = build, checks, answers, at
        self.facts = facts_of(checks)
        self.events = events_of(checks, build.start, answers, at)
        self.copied = [one.at for one in self.events if one.how == "copied"]
        self.attempts = attempt_ends(checks, build.start, at)
        self.by_key = {check.key: check for check in checks.checks}
        self.choices = {one.check: one.choice for one in build.start.changes}
        self._known: dict[str, Record] = {}
        self._said: dict[str, list[Signature | SetAside]] = {key: [] for key in self.by_key}
        everything: list[Signature | SetAside] = [*build.start.signatures, *build.start.set_asides]
        for one in everything:
            if one.check in self._said and self._counts(one):
                self._said[one.check].append(one)
        for said in self._said.values():
            said.sort(key=lambda one: one.at)

    def of(self, key: str) -> Record:
        """The record of a check. KeyError where the list has none of that key."""
        if key not in self._known:
            self._known[key] = self._worked_out(self.by_key[key])
        return self._known[key]

    def was_signed(self, key: str) -> bool:
        """Whether a check was ever signed."""
        return any(isinstance(one, Signature) for one in self._said.get(key, ()))

    def asks_again(self, check: Check, record: Record) -> bool:
        """Whether what stands is asked anew before the next run: one was stopped since."""
        if not check.every_run or check.engine_running or record.state != "stands":
            return False
        stopped = last_stop(self.build.start, self.at)
        assert record.at is not None
        return stopped is not None and stopped > record.at

    def _counts(self, said: Signature | SetAside) -> bool:
        """What is not as the list asks it to be counts as nothing, wherever it came from."""
        check = self.by_key[said.check]
        if said.at > self.at:
            return False
        if isinstance(said, SetAside):
            return check.waive != "never"
        if said.taken_back_at is not None or not said.signer.strip():
            return False
        if check.who == "licensed" and said.paper is None:
            return False
        return check.who != "helper" or bool(said.helper.strip())

    def _is_asked(self, check: Check) -> bool:
        """Whether a check is on the list: not dropped, not left out, not only offered."""
        if check.dropped_by(self.answers) is not None:
            return False
        choice = self.choices.get(check.key)
        if choice == "left out":
            return check.waive == "never"
        return check.is_shown_at_first or choice == "taken in"

    def _worked_out(self, check: Check) -> Record:
        question = check.dropped_by(self.answers)
        if question is not None:
            return Record(state="dropped", dropped_by=question)
        if not self._is_asked(check):
            is_out = self.choices.get(check.key) == "left out"
            return Record(state="left out" if is_out else "offered")
        said = self._said[check.key]
        if not said:
            return Record(state="not signed")
        last = said[-1]
        signature = last if isinstance(last, Signature) else None
        set_aside = last if isinstance(last, SetAside) else None
        state, fallen = self._state(check, last)
        return Record(
            state=state, at=last.at, signature=signature, set_aside=set_aside, fallen=fallen
        )

    def _state(self, check: Check, last: Signature | SetAside) -> tuple[State, Fallen | None]:
        fallen = self._fallen(check, last.at)
        if fallen is not None:
            return "fallen", fallen
        if check.superseded_by is not None and self._is_spent(check.superseded_by, last.at):
            return "spent", None
        typed = {one.name for one in last.readings} if isinstance(last, Signature) else set()
        is_whole = typed.issuperset(wanted.name for wanted in check.readings)
        lapsed = self._lapsed(check, last.at, is_whole=is_whole)
        if lapsed is not None:
            return "lapsed", lapsed
        if isinstance(last, SetAside):
            return "set aside", None
        return ("stands" if is_whole else "figures missing"), None

    def _is_spent(self, later: str, at: dt.datetime) -> bool:
        return any(isinstance(one, Signature) and one.at > at for one in self._said.get(later, ()))

    def _fallen(self, check: Check, at: dt.datetime) -> Fallen | None:
        for event in self.events:
            if event.at >= at and event.hits(check):
                return _by(event)
        for fall in check.falls:
            if fall.kind == "days" and self.at > at + dt.timedelta(days=fall.days):
                over = at + dt.timedelta(days=fall.days)
                return Fallen(name=f"{fall.days}", how="days", at=over)
            if fall.kind == "check" and fall.key in self.by_key:
                fallen = self._by_check(fall.key, at)
                if fallen is not None:
                    return fallen
        return self._by_current(check, at)

    def _by_check(self, key: str, at: dt.datetime) -> Fallen | None:
        """What another check does to a signature that hangs on it, even after it is signed anew."""
        record, name = self.of(key), self.by_key[key].text
        if record.state in ("dropped", "offered", "left out"):
            return None
        if record.at is not None and record.at > at:
            return Fallen(name=name, how="check", at=record.at)
        if record.state in ("stands", "set aside", "figures missing", "spent"):
            return None
        return record.fallen or Fallen(name=name, how="check", at=at)

    def _by_current(self, check: Check, at: dt.datetime) -> Fallen | None:
        """Current that was on while something before it fell, or was taken away again (rule 9)."""
        if check.key != self.facts.on:
            return None
        off = self.by_key[self.facts.off]
        for said in self._said[off.key]:
            if said.at > at:
                return Fallen(name=off.text, how="check", at=said.at)
        early = [
            check
            for stage in self.checks.stages
            if stage.key in self.facts.current_off
            for check in stage.checks
            if check.key != off.key and self._said[check.key]
        ]
        for event in self.events:
            if event.at >= at:
                for one in early:
                    if self._said[one.key][0].at <= event.at and event.hits(one):
                        return _by(event)
        for one in early:
            for days in (fall.days for fall in one.falls if fall.kind == "days"):
                over = self._said[one.key][-1].at + dt.timedelta(days=days)
                if at < over < self.at and self._is_asked(one):
                    return Fallen(name=one.text, how="days", at=over)
        return None

    def _lapsed(self, check: Check, at: dt.datetime, *, is_whole: bool) -> Fallen | None:
        """A fire watch that was looked at twice is over: only a new run asks it anew."""
        is_watched = check.key == self.facts.fire_watch and is_whole
        if check.lasts != "until opened" and not is_watched:
            if at.date() != self.at.date():
                end = dt.datetime.combine(at.date() + dt.timedelta(days=1), dt.time(), at.tzinfo)
                return Fallen(name="", how="day", at=end)
            copied = next((when for when in self.copied if when >= at), None)
            if copied is not None:
                return Fallen(name="", how="day", at=copied)
        if check.lasts == "this attempt":
            ended = next((when for when in self.attempts if when >= at), None)
            if ended is not None:
                return Fallen(name="", how="attempt", at=ended)
        of_each_run = check.every_run and check.engine_running
        if of_each_run or check.key == self.facts.fire_watch:
            for run in self.build.start.runs:
                if run.fired_at is not None and at < run.fired_at <= self.at:
                    return Fallen(name="", how="run", at=run.fired_at)
        return None

    @property
    def is_running(self) -> bool:
        """Whether a crank or run goes on."""
        return open_run(self.build.start) is not None


def _by(event: Event) -> Fallen:
    return Fallen(name=event.name, how=event.how, at=event.at)
