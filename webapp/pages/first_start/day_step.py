"""Which screen of the day comes next: one thing at a time, the gravest first.

While it runs a screen asks one tap; what is typed comes after the stop.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from webapp.build.first_start import EngineRun, FirstStart, RunKind
from webapp.first_start.attempts import ended_runs, open_run
from webapp.first_start.check_list import Check
from webapp.first_start.list_facts import ListFacts, facts_of
from webapp.first_start.standing import CheckStanding, StartStanding
from webapp.pages.first_start.at_hand import AtHand

Screen = Literal[
    "running", "cranking", "stopped", "cause", "enough", "figures", "it ran", "watch", "sign",
    "turn", "not yet", "over",
]  # fmt: skip
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
    """

    screen: Screen
    check: CheckStanding | None = None
    run: EngineRun | None = None
    kind: RunKind | None = None


def step_of(hand: AtHand) -> Step:
    """The next screen of the day."""
    return _Day(hand.standing, hand.build.start).step()


class _Day:
    def __init__(self, standing: StartStanding, start: FirstStart) -> None:
        self.standing, self.start = standing, start
        self.facts: ListFacts = facts_of(standing.checks)
        self.stages = [stage.stage.key for stage in standing.stages]
        self.kinds: Mapping[str, RunKind] = {key: kind for kind, key in self.facts.gates.items()}

    def step(self) -> Step:
        going = open_run(self.start)
        if going is not None:
            if not going.is_running:
                return Step(screen="cranking", run=going, kind=going.kind)
            return Step(screen="running", check=self._next_tap(), run=going, kind=going.kind)
        return self._after_a_stop() or self._still()

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
            if one.check.key == self.facts.fire_watch and self._may_watch(one):
                return Step(screen="watch", check=one)
            if not one.can_be_signed:
                return Step(screen="not yet", check=one)
            kind = self._turns(one.check)
            if kind is None:
                return Step(screen="sign", check=one)
            again = self._asked_before(kind)
            if again is not None:
                return Step(screen="sign", check=again)
            return Step(screen="turn", check=one, kind=kind)
        return Step(screen="over")

    def _of_the_day(self) -> Iterator[CheckStanding]:
        begin = self.stages.index(self.facts.place_stage)
        for stage in self.standing.stages[begin:]:
            for one in stage.checks:
                is_day = stage.stage.key != LAST_STAGE or one.check.key == self.facts.fire_watch
                if one.is_kept and is_day:
                    yield one

    def _may_watch(self, one: CheckStanding) -> bool:
        return one.can_be_signed or one.state == "figures missing"

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
