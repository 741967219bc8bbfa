"""Which screen of the day comes next: one thing at a time, the gravest first.

While it runs a screen asks one tap; what is typed comes after the stop.
"""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from webapp.build.first_start import EngineRun, FirstStart, RunKind
from webapp.build.moments import by_the_clock_of
from webapp.first_start.attempts import (
    ended_runs,
    is_to_be_watched,
    open_run,
    wait_of,
)
from webapp.first_start.check_list import Check
from webapp.first_start.list_facts import ENDS_THE_DAY, ListFacts, facts_of
from webapp.first_start.standing import CheckStanding, StartStanding
from webapp.pages.first_start.at_hand import AtHand

Screen = Literal[
    "running", "cranking", "stopped", "cause", "enough", "figures", "it ran", "wait", "watch",
    "sign", "turn", "not yet", "over",
]  # fmt: skip
Asked = Literal["", "yes", "no"]
"""Whether the watch for fire was asked for before what else there is of the day, or left again."""
STOPS: frozenset[str] = frozenset(("normal_stop", "hot_stop"))
"""Signed once it was stopped the normal way, each with its figure."""
LAST_STAGE = "after"
"""Signed cold, on another day, from the list."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """What a screen of the day is about.

    check : the one that is asked; while it runs None says that nothing is left to tap
    run : the crank or run that goes on, or the one whose cause is asked
    kind : what is turned
    until : the moment before which the check is not signed, where it waits from a stop
    """

    screen: Screen
    check: CheckStanding | None = None
    run: EngineRun | None = None
    kind: RunKind | None = None
    until: dt.datetime | None = None


def step_of(hand: AtHand, watch: Asked = "") -> Step:
    """The next screen of the day; `watch` "yes": the watch for fire, wherever the run ended."""
    return _Day(hand.standing, hand.build.start).step(watch)


def may_watch(hand: AtHand) -> bool:
    """Whether somebody may end here and watch: not where everybody is to be out and away."""
    over = ended_runs(hand.build.start, hand.at)
    if not over or over[-1].abort in ENDS_THE_DAY:
        return False
    return _Day(hand.standing, hand.build.start).watch() is not None


class _Day:
    def __init__(self, standing: StartStanding, start: FirstStart) -> None:
        self.standing, self.start = standing, start
        self.facts: ListFacts = facts_of(standing.checks)
        self.stages = [stage.stage.key for stage in standing.stages]
        self.kinds: Mapping[str, RunKind] = {key: kind for kind, key in self.facts.gates.items()}

    def step(self, watch: Asked = "") -> Step:
        going = open_run(self.start)
        if going is not None:
            if not going.is_running:
                return Step(screen="cranking", run=going, kind=going.kind)
            return Step(screen="running", check=self._next_tap(), run=going, kind=going.kind)
        watched = self.watch()
        looked_once = watched is not None and watched.state == "figures missing"
        if watched is not None and (watch == "yes" or (looked_once and watch != "no")):
            return Step(screen="watch", check=watched, until=self._until(watched))
        return self._after_a_stop() or self._still()

    def watch(self) -> CheckStanding | None:
        """The watch for fire, where it is to be signed or looked at again."""
        one = self.standing.of(self.facts.fire_watch)
        if one is None or not is_to_be_watched(self.start, self.standing.at):
            return None
        return one if one.can_be_signed or one.state == "figures missing" else None

    def _after_a_stop(self) -> Step | None:
        """What is asked before anything else once it stands still."""
        shut = self.standing.shut
        if shut is not None and shut.why in ("abort to name", "cause to write"):
            run = next(one for one in self.start.runs if one.key == shut.run)
            return Step(screen="stopped" if run.ending == "aborted" else "cause", run=run)
        for one in self.standing.all:
            if one.state == "figures missing" and one.check.key != self.facts.fire_watch:
                return Step(screen="figures", check=one)
        if shut is not None and shut.why == "enough for today":
            return Step(screen="enough")
        ran = self.standing.of(self.facts.ran)
        over = [run for run in self.start.runs if run.fired_at is not None and run.ended_at]
        if self.standing.ran_at is None and ran is not None and ran.state == "stands" and over:
            return Step(screen="it ran", check=ran)
        return None

    def _still(self) -> Step:
        """The first check of the day that is not as it has to be."""
        for one in self._of_the_day():
            if one.is_met:
                continue
            if self._until(one) is not None:
                return self._by_the_clock(one.check.stage)
            if one.check.key == self.facts.fire_watch and not one.can_be_signed:
                # nobody watched while it was warm: the next run asks it anew
                return self._to_turn(one, self._kind_of_stage(one.check.stage))
            if not one.can_be_signed:
                first = self._first_of(one)
                if first is None:
                    return Step(screen="not yet", check=one)
                one = first
            kind = self._turns(one.check)
            if kind is None:
                return Step(screen="sign", check=one)
            return self._to_turn(one, kind)
        return Step(screen="over")

    def _to_turn(self, one: CheckStanding, kind: RunKind) -> Step:
        """What is turned for a check, and before it what is asked before each run."""
        again = self._asked_before(kind)
        if again is not None:
            return Step(screen="sign", check=again)
        return Step(screen="turn", check=one, kind=kind)

    def _of_the_day(self) -> Iterator[CheckStanding]:
        begin = self.stages.index(self.facts.place_stage)
        for stage in self.standing.stages[begin:]:
            for one in stage.checks:
                is_day = stage.stage.key != LAST_STAGE or one.check.key == self.facts.fire_watch
                if one.is_kept and is_day:
                    yield one

    def _first_of(self, one: CheckStanding) -> CheckStanding | None:
        """What comes before a check and can be signed now: it is asked, not pointed at."""
        keys = {blocked.key for blocked in one.blocked_by}
        return next(
            (each for each in self._of_the_day() if each.check.key in keys and each.can_be_signed),
            None,
        )

    def _by_the_clock(self, stage: str) -> Step:
        """Of what waits in a stage, what comes soonest: a look is not missed for another."""
        waiting = [
            (until, one)
            for one in self._of_the_day()
            if one.check.stage == stage
            and not one.is_met
            and (until := self._until(one)) is not None
        ]
        until, soonest = min(waiting, key=lambda each: each[0])
        is_watch = soonest.check.key == self.facts.fire_watch
        return Step(screen="watch" if is_watch else "wait", check=soonest, until=until)

    def _until(self, one: CheckStanding) -> dt.datetime | None:
        """Until when a check waits from the last stop; None where the clock holds it no more.

        Of the watch for fire the moment of its next look, past ones too: it has its own screen.
        """
        at = self.standing.at
        wait = wait_of(self.standing.checks, self.start, one.check.key, at)
        is_watch = one.check.key == self.facts.fire_watch
        is_asked = one.can_be_signed or (is_watch and one.state == "figures missing")
        if wait is None or wait.since is None or wait.until is None or not is_asked:
            return None
        until = wait.until
        if is_watch and one.state == "figures missing":
            minutes = self.standing.checks.timings.fire_second_look_minutes
            until = wait.since + dt.timedelta(minutes=minutes)
        until = by_the_clock_of(until, at)
        return until if is_watch or at < until else None

    def _turns(self, check: Check) -> RunKind | None:
        """What has to be turned for a check first; None where it is signed as it is."""
        kind = self.kinds.get(check.key)
        if kind is None and not check.engine_running:
            return None
        kind = kind or self._kind_of_stage(check.stage)
        last = self._last_of(kind)
        was_run = last is not None and (last.ending == "stopped" or kind == "prime")
        signed_still = check.key in STOPS or check.who == "licensed" or kind == "prime"
        if was_run and signed_still and kind != "prime":
            return None
        return kind

    def _kind_of_stage(self, stage: str) -> RunKind:
        """What runs in a stage: the last gate that stands in it or before it."""
        place, found = self.stages.index(stage), next(iter(self.facts.gates))
        for kind, key in self.facts.gates.items():
            gate = self.standing.of(key)
            if gate is not None and self.stages.index(gate.check.stage) <= place:
                found = kind
        return found

    def _last_of(self, kind: RunKind) -> EngineRun | None:
        """The last crank or run of a kind today."""
        today = self.standing.at.date()
        over = ended_runs(self.start, self.standing.at)
        found = [one for one in over if one.kind == kind and one.begun_at.date() == today]
        return found[-1] if found else None

    def _asked_before(self, kind: RunKind) -> CheckStanding | None:
        """What stands and is asked anew before each run."""
        gate = self.standing.of(self.facts.gates[kind])
        assert gate is not None
        early = self.stages[: self.stages.index(gate.check.stage) + 1]
        asked = (one for one in self.standing.all if one.asks_again and one.is_kept)
        return next((one for one in asked if one.check.stage in early), None)

    def _next_tap(self) -> CheckStanding | None:
        """What is tapped next while it runs; a stop where that is all that is left."""
        for one in self.standing.all:
            is_of_run = one.check.engine_running or one.check.key in self.kinds
            is_tap = is_of_run and one.check.who != "licensed"
            if is_tap and one.can_be_signed and one.check.key not in STOPS:
                return one
        stops = (one for one in self.standing.all if one.check.key in STOPS)
        return next((one for one in stops if one.can_be_signed), None)


def prime_was_cranked(hand: AtHand) -> bool:
    """Whether something was cranked today to prime: then its gate is signed beside the next."""
    today = hand.at.date()
    return any(
        run.kind == "prime" and run.ended_at is not None and run.begun_at.date() == today
        for run in hand.build.start.runs
    )
