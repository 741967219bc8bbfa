"""Way 3: two clients in any order, with replayed and late posts, never get past the order."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, replace

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from tests.first_start.brute_force import Plain
from tests.first_start.lists import BOAT, ENGINE, start_build
from tests.first_start.walker import Walker, to_priming, to_the_key, type_all, typed
from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.build.first_start import Opening, RunKind
from webapp.build.openings import with_openings
from webapp.first_start import engine_runs, signing
from webapp.first_start.list_changes import answer

CLIENTS = st.sampled_from(["phone", "laptop"])
PLACES = st.lists(st.integers(0, 200), min_size=1, max_size=6)
Post = Callable[[BuildInput, dt.datetime], Edited[str]]


@dataclass(frozen=True, slots=True)
class Sent:
    """A post as it went out, to be sent again later."""

    post: Post
    check: str = ""


class TwoClients(RuleBasedStateMachine):
    """One stored build; each client has the version that its page showed."""

    def __init__(self) -> None:
        super().__init__()
        self.checks = ENGINE
        self.one = Walker(start_build(ENGINE), ENGINE)
        self.seen: dict[str, str] = {}
        self.sent: list[Sent] = []

    @initialize(
        checks=st.sampled_from([ENGINE, BOAT]),
        to=st.sampled_from([None, to_priming, to_the_key, to_the_key]),
    )
    def begin(self, checks: object, to: Callable[[Walker], None] | None) -> None:
        self.checks = ENGINE if checks is ENGINE else BOAT
        self.one = Walker(start_build(self.checks), self.checks)
        if to is not None:
            to(self.one)
        self.one.wait(minutes=2)
        for client in ("phone", "laptop"):
            self.seen[client] = self.one.standing.version

    def store(self, sent: Sent) -> bool:
        """What the server does with a post; a signature is held against the plain evaluation."""
        before, at = self.one.build, self.one.at
        done = self.one.take(sent.post(before, at))
        new = [one for one in self.one.build.start.signatures if one.at == at]
        if done and sent.check and new:
            plain = Plain(before, self.checks.key, at)
            assert plain.shuts(sent.check) == set(), sent.check
            assert plain.is_kept(sent.check)
            if sent.check == "fire_watch":
                assert any(run.fired_at and run.ended_at for run in before.start.runs)
        return done

    def send(self, sent: Sent) -> bool:
        self.sent = [*self.sent[-12:], sent]
        return self.store(sent)

    def sign_post(self, key: str, version: str) -> Sent:
        check = next(one for one in self.checks.checks if one.key == key)
        said = typed(check, self.one.at.date())

        def post(build: BuildInput, at: dt.datetime) -> Edited[str]:
            return signing.sign(build, self.checks, key, said, at=at, version=version)

        return Sent(post, key)

    @rule(client=CLIENTS)
    def load(self, client: str) -> None:
        self.seen[client] = self.one.standing.version

    @rule(client=CLIENTS, places=PLACES, is_fresh=st.sampled_from([True, True, True, False]))
    def sign_what_can_be(self, client: str, places: list[int], is_fresh: bool) -> None:
        for place in places:
            ready = [one.check.key for one in self.one.standing.all if one.can_be_signed]
            self.sign_one_of(ready, place, client, is_fresh)

    @rule(client=CLIENTS, places=PLACES)
    def sign_what_only_an_earlier_stage_shuts(self, client: str, places: list[int]) -> None:
        for place in places:
            shut = [
                one.check.key
                for one in self.one.standing.all
                if {each.kind for each in one.blocked_by} <= {"stage", "helper", "check"}
                and one.blocked_by
                and one.is_kept
            ]
            self.sign_one_of(shut, place, client, True)

    def sign_one_of(self, keys: list[str], place: int, client: str, is_fresh: bool) -> None:
        self.one.wait(seconds=9)
        if is_fresh:
            self.load(client)
        if keys:
            self.send(self.sign_post(keys[place % len(keys)], self.seen[client]))

    @rule(client=CLIENTS, kind=st.sampled_from(["prime", "start", "start"]))
    def crank(self, client: str, kind: RunKind) -> None:
        version = self.seen[client]

        def post(build: BuildInput, at: dt.datetime) -> Edited[str]:
            return engine_runs.begin_run(build, self.checks, kind, at=at, version=version)

        primes = sum(run.kind == "prime" for run in self.one.build.start.runs)
        if kind == "start" or primes < 4:
            self.one.wait(seconds=61)
            self.send(Sent(post))

    @rule(client=CLIENTS)
    def crank_with_all_before_it(self, client: str) -> None:
        """The checks of every run, and the crank, by one client that looks each time."""
        stages = [stage.key for stage in self.checks.stages]
        self.one.sign_all(
            *stages, only=lambda check: not check.engine_running and check.key != "cranked"
        )
        self.load(client)
        self.crank(client, "start")

    @precondition(lambda self: any(not run.ended_at for run in self.one.build.start.runs))
    @rule(how=st.sampled_from(["fire", "end", "abort"]))
    def go_on(self, how: str) -> None:
        (run,) = (run for run in self.one.build.start.runs if not run.ended_at)
        self.one.wait(seconds=3)
        if how == "fire" or (how == "end" and run.fired_at is None and run.kind == "start"):
            self.send(Sent(lambda build, at: engine_runs.fired(build, at=at)))
        elif how == "end":
            self.send(Sent(lambda build, at: engine_runs.end_run(build, at=at)))
            type_all(self.one)
        else:
            self.send(Sent(lambda build, at: engine_runs.abort(build, self.checks, at=at)))

    @rule(place=st.integers(0, 40))
    def write_a_cause(self, place: int) -> None:
        aborts = [abort.key for abort in self.checks.aborts_for(self.one.standing.answers)]
        if self.one.build.start.runs:
            self.one.wait(seconds=30)
            self.one.write_cause(aborts[place % len(aborts)])

    @rule(place=st.integers(0, 60))
    def open_something(self, place: int) -> None:
        marks = [f"circuit:{key}" for key, _ in self.checks.groups]
        what = marks[place % len(marks)]
        new = Opening(what=what, name=what, how="begun", at=self.one.at, reaches=(what,))
        start = self.one.build.start
        after = replace(start, openings=(*start.openings, new))
        self.one.wait(seconds=1)
        self.one.build = with_openings(
            self.one.build, replace(self.one.build, start=after), at=self.one.at
        )

    @rule(place=st.integers(0, 60))
    def answer_there_and_back(self, place: int) -> None:
        asked = self.checks.questions[place % len(self.checks.questions)]
        said = self.one.standing.answers[asked.key]
        other = next(one for one in asked.answers if one != said)
        for each in (other, said):
            self.one.wait(seconds=1)
            self.one.take(answer(self.one.build, self.checks, asked.key, each, at=self.one.at))

    @precondition(lambda self: bool(self.sent))
    @rule(place=st.integers(0, 20), seconds=st.sampled_from([0, 0.2, 9, 400]))
    def send_again(self, place: int, seconds: float) -> None:
        """The same post once more: a double tap, an old tab, a queue that comes late."""
        self.one.wait(seconds=seconds)
        count = len(self.one.build.start.signatures)
        sent = self.sent[place % len(self.sent)]
        if self.store(sent) and sent.check:
            assert len(self.one.build.start.signatures) == count + 1

    @rule(hours=st.sampled_from([1, 14]))
    def wait(self, hours: int) -> None:
        self.one.wait(hours=hours)

    @invariant()
    def no_later_stage_is_open_while_an_earlier_check_is_fallen(self) -> None:
        found = self.one.standing
        is_fallen = False
        for stage in found.stages:
            assert not (stage.is_open and is_fallen), stage.stage.key
            is_fallen = is_fallen or any(one.state == "fallen" for one in stage.checks)

    @invariant()
    def one_run_goes_on_at_most(self) -> None:
        assert sum(not run.ended_at for run in self.one.build.start.runs) <= 1


TwoClients.TestCase.settings = settings(
    max_examples=10,
    stateful_step_count=20,
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
test_way_3_two_clients = TwoClients.TestCase
