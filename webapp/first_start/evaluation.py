"""What stands between a build and the key is worked out here, from what was signed and opened.

Nothing of it is stored: a signature stands or has fallen by what was opened since.
"""

import datetime as dt
import hashlib
from collections.abc import Iterator

from webapp.build.build_input import BuildInput
from webapp.build.start_answers import start_answers
from webapp.first_start.attempts import (
    WATCHED_WITHIN,
    is_to_be_watched,
    open_run,
    shut_by,
)
from webapp.first_start.check_list import Check, CheckList, Stage
from webapp.first_start.holes import Hole, build_holes, circuits_open
from webapp.first_start.list_facts import OPENED_SINCE, asked_questions, facts_of
from webapp.first_start.own_list import list_of_build
from webapp.first_start.records import Record, Records
from webapp.first_start.standing import Blocked, CheckStanding, StageStanding, StartStanding
from webapp.plumbing.plumbed import Plumbed, plumbed

NOTHING_TO_WATCH = (
    f"Nothing was stopped within the last {WATCHED_WITHIN // dt.timedelta(hours=1)} hours."
)


def start_standing(
    build: BuildInput, checks: CheckList, *, at: dt.datetime, plumbed: Plumbed | None = None
) -> StartStanding:
    """What stands of the list of a build at the moment `at`; `plumbed` where it is at hand."""
    return _Evaluation(build, checks, at, plumbed).whole()


class _Evaluation:
    def __init__(
        self, build: BuildInput, checks: CheckList, at: dt.datetime, known: Plumbed | None
    ) -> None:
        self.build, self.at = build, at
        self.checks = list_of_build(build, checks)
        self.facts = facts_of(checks)
        self.answers = start_answers(build)
        self.records = Records(build, self.checks, self.answers, at)
        self.plumbed = plumbed(build) if known is None else known
        self.open_circuits = circuits_open(build, self.checks, self.plumbed)
        self.places = {stage.key: place for place, stage in enumerate(self.checks.stages)}
        self.shut = shut_by(self.checks, build.start, self.answers, at)
        self.ran_at = min(
            (run.ran_at for run in build.start.runs if run.ran_at is not None), default=None
        )
        self.by_key = {check.key: check for check in self.checks.checks}
        asked = asked_questions(self.checks, self.answers)
        self.unanswered = tuple(one for one in asked if one.key not in self.answers)
        typed = {line.name for line in build.start.stop_lines if line.words.strip()}
        words = self.checks.stop_words_for(self.answers)
        self.untyped = tuple(name for name in words.typed if name not in typed)
        self.tasks = {task.key: task for task in build.tasks}
        self.running = open_run(build.start)
        self._shuts: dict[tuple[str, bool], Check | None] = {}

    def whole(self) -> StartStanding:
        stages = tuple(self._stage(stage) for stage in self.checks.stages)
        return StartStanding(
            checks=self.checks,
            at=self.at,
            answers=self.answers,
            stages=stages,
            holes=tuple(self._holes(stages)),
            unanswered=self.unanswered,
            shut=self.shut,
            version=self._version(stages),
            ran_at=self.ran_at,
        )

    def _stage(self, stage: Stage) -> StageStanding:
        checks = tuple(self._check(check) for check in stage.checks)
        for_running = any(check.needs_place_today for check in stage.checks)
        return StageStanding(
            stage=stage,
            checks=checks,
            is_open=self._shut_by(stage.key, for_running=for_running) is None,
            stands=all(one.is_met for one in checks),
        )

    def _check(self, check: Check) -> CheckStanding:
        record = self.records.of(check.key)
        return CheckStanding(
            check=check,
            state=record.state,
            is_met=self._is_met(check.key, for_running=True),
            signature=record.signature,
            set_aside=record.set_aside,
            fallen=record.fallen,
            dropped_by=record.dropped_by,
            blocked_by=tuple(self._blocked(check)),
            asks_again=self.records.asks_again(check, record),
        )

    def _is_met(self, key: str, *, for_running: bool, tap: bool = False) -> bool:
        """Whether a check is as it has to be for another, of one that runs or is on the day."""
        record = self.records.of(key)
        match record.state:
            case "dropped" | "offered" | "left out" | "set aside" | "stands":
                return True
            case "figures missing":
                return tap
            case "spent":
                later = self.by_key[key].superseded_by
                return later is not None and self._is_met(later, for_running=for_running, tap=tap)
            case "lapsed" if key == self.facts.fire_watch:
                return self._was_watched(record)
            case "lapsed":
                return not for_running or self._not_asked_again(key, record)
            case _:
                return False

    def _was_watched(self, record: Record) -> bool:
        """While a later run goes on, the watch of the one before still counts; after it, no more.

        One that was not looked at twice counts for nothing, on no later day.
        """
        if self.running is None or record.signature is None or record.fallen is None:
            return False
        looks = len(self.by_key[self.facts.fire_watch].readings)
        return record.fallen.how == "run" and len(record.signature.readings) == looks

    def _not_asked_again(self, key: str, record: Record) -> bool:
        """A later run asks the place, the helper and what is of every run, and no more (rule 7)."""
        check = self.by_key[key]
        is_later = self.places[check.stage] > self.places[self.facts.place_stage]
        is_asked = check.every_run or key == self.facts.helper
        fell_by_time = record.fallen is not None and record.fallen.how in ("day", "attempt")
        return self.ran_at is not None and is_later and not is_asked and fell_by_time

    def _shut_by(self, stage: str, *, for_running: bool) -> Check | None:
        """The first check that keeps a stage shut, in the order they are walked."""
        if (stage, for_running) not in self._shuts:
            earlier = self.checks.stages[: self.places[stage]]
            shuts = (
                check
                for each in earlier
                for check in each.checks
                if not self._is_met(
                    check.key, for_running=for_running, tap=self._is_of_this_run(check)
                )
            )
            self._shuts[stage, for_running] = next(shuts, None)
        return self._shuts[stage, for_running]

    def _is_of_this_run(self, check: Check) -> bool:
        """Tapped in the run that goes on: its figure comes after the stop."""
        if self.running is None:
            return False
        signature = self.records.of(check.key).signature
        fired = self.running.fired_at
        return signature is not None and fired is not None and signature.at >= fired

    def _blocked(self, check: Check) -> Iterator[Blocked]:
        if check.key == self.facts.fire_watch:
            # wherever a run ended: it is never held by what is not signed, and opens nothing
            if not is_to_be_watched(self.build.start, self.at):
                yield Blocked(kind="watch", key="", name=NOTHING_TO_WATCH)
            return
        yield from self._blocked_by_stage(check)
        yield from self._blocked_by_needs(check)
        yield from self._blocked_by_the_day(check)
        for question in self._undecided(check):
            yield Blocked(kind="answer", key=question, name=question)
        if check.stage in self.facts.current_off and check.key != self.facts.off:
            off = self.records.of(self.facts.off)
            on_was_signed = self.records.was_signed(self.facts.on)
            if on_was_signed and off.state not in ("stands", "dropped"):
                name = self.by_key[self.facts.off].text
                yield Blocked(kind="current on", key=self.facts.off, name=name)

    def _blocked_by_stage(self, check: Check) -> Iterator[Blocked]:
        first = self._shut_by(check.stage, for_running=check.needs_place_today)
        if first is not None:
            yield Blocked(kind="stage", key=first.key, name=first.text)

    def _blocked_by_needs(self, check: Check) -> Iterator[Blocked]:
        tap = check.engine_running or (self.shut is not None and self.shut.why == "running")
        own = self.tasks.get(check.key)
        if own is not None and own.finished_on is None and self._waits_for(own.key):
            yield Blocked(kind="task", key=own.key, name=own.name)
        for need in check.needs:
            if need.kind == "check" and need.key in self.by_key:
                for_running = check.needs_place_today
                if not self._is_met(need.key, for_running=for_running, tap=tap):
                    name = self.by_key[need.key].text
                    yield Blocked(kind="check", key=need.key, name=name)
            elif need.kind == "task":
                task = self.tasks.get(need.key)
                if task is not None and task.finished_on is None:
                    yield Blocked(kind="task", key=task.key, name=task.name)
            elif need.kind == "circuit":
                for circuit in self.open_circuits.get(need.key, ()):
                    yield Blocked(kind="circuit", key=circuit.key, name=circuit.name)

    def _waits_for(self, key: str) -> bool:
        """Whether a task that was made of a check comes before first start."""
        end = self.build.first_start
        return any(one.before == key and one.after == end for one in self.build.dependencies)

    def _blocked_by_the_day(self, check: Check) -> Iterator[Blocked]:
        place, key = self.places[check.stage], self.places[self.facts.key_stage]
        on_the_day = place == self.places[self.facts.place_stage] or check.needs_place_today
        waits = on_the_day and check.key != OPENED_SINCE and check.lasts != "until opened"
        if waits and not self._is_met(OPENED_SINCE, for_running=True):
            name = self.by_key[OPENED_SINCE].text
            yield Blocked(kind="check", key=OPENED_SINCE, name=name)
        if on_the_day:
            for line in self.untyped:
                yield Blocked(kind="stop line", key=line, name=line)
        if place < key or not check.needs_place_today:
            return
        helper = self.by_key[self.facts.helper]
        if check.key != helper.key and not self._is_met(helper.key, for_running=True):
            yield Blocked(kind="helper", key=helper.key, name=helper.text)
        if self.shut is not None and self.shut.why not in ("running", "rest"):
            yield Blocked(kind="shut", key=self.shut.why, name=self.shut.why)

    def _undecided(self, check: Check) -> Iterator[str]:
        """Questions that decide what is done at the engine, and have no answer (rule 6)."""
        open_now = {one.key for one in self.unanswered}
        is_late = self.places[check.stage] >= self._first_turned()
        hangs_on = {question for question, _ in check.when}
        for question in self.facts.decides:
            if question in open_now and (is_late or question in hangs_on):
                yield question

    def _first_turned(self) -> int:
        return self.places.get("prime", self.places[self.facts.key_stage])

    def _holes(self, stages: tuple[StageStanding, ...]) -> Iterator[Hole]:
        before_key = self.places[self.facts.key_stage]
        for stage in stages[:before_key]:
            for one in stage.checks:
                if not one.is_met:
                    yield Hole(
                        kind="check",
                        key=one.check.key,
                        name=one.check.text,
                        why=one.state,
                        stage=stage.stage.key,
                    )
        for question in self.facts.decides:
            if any(one.key == question for one in self.unanswered):
                yield Hole(kind="answer", key=question, name=question, why="not answered")
        for line in self.untyped:
            yield Hole(kind="stop line", key=line, name=line, why="not typed")
        if self.shut is not None and self.shut.why not in ("running", "rest", "pause"):
            yield Hole(kind="shut", key=self.shut.run, name=self.shut.why, why=self.shut.why)
        yield from build_holes(self.build, self.plumbed)

    def _version(self, stages: tuple[StageStanding, ...]) -> str:
        said = (
            sorted(self.answers.items()),
            [
                (one.check.key, one.check.text, one.state, one.signature and one.signature.key)
                for stage in stages
                for one in stage.checks
            ],
            sorted((key, [c.key for c in found]) for key, found in self.open_circuits.items()),
            [(run.key, run.fired_at, run.ending, run.abort) for run in self.build.start.runs],
            self.untyped,
        )
        return hashlib.sha256(repr(said).encode()).hexdigest()[:16]
