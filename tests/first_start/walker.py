"""A person with a clock who goes through a list by the verbs alone."""

import datetime as dt
from collections.abc import Callable

from tests.first_start.lists import DAY
from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.build.first_start import LicensedPaper, RunKind
from webapp.build.openings import with_openings
from webapp.first_start import engine_runs, signing
from webapp.first_start.check_list import Check, CheckList
from webapp.first_start.evaluation import start_standing
from webapp.first_start.list_facts import OPENED_SINCE
from webapp.first_start.standing import StartStanding
from webapp.first_start.typed_readings import TypedReading
from webapp.first_start.who_signs import Signing


def typed_readings(check: Check, volts: str | None = "12") -> tuple[TypedReading, ...]:
    """Readings in their range: its lower end, else its upper, else one or a level in words."""
    found = []
    for one in check.readings:
        low, high = one.bounds(volts)
        number = low if low is not None else high if high is not None else 1.0
        value: float | str = "near MAX" if one.is_words else number
        found.append(TypedReading(name=one.name, value=value, is_sure=True))
    return tuple(found)


def typed(check: Check, on: dt.date, signer: str = "A. Builder") -> Signing:
    """All that a check asks for."""
    return Signing(
        signer=signer,
        helper="B. Second" if check.who == "helper" else "",
        seen="by the wing, tied away",
        readings=typed_readings(check),
        paper=LicensedPaper(name="J. Ferro", firm="Ferro", number="118", on=on),
        saw_paper=True,
        opened=() if check.key == OPENED_SINCE else None,
    )


_LAST: dict[str, tuple[BuildInput, CheckList, dt.datetime, StartStanding]] = {}


def remembered_standing(build: BuildInput, checks: CheckList, *, at: dt.datetime) -> StartStanding:
    """What stands, worked out anew unless it was just asked of this very build and moment."""
    last = _LAST.get("")
    if last is None or last[0] is not build or last[1] is not checks or last[2] != at:
        last = (build, checks, at, start_standing(build, checks, at=at))
        _LAST[""] = last
    return last[3]


class Walker:
    """Signs, cranks and waits; `last` is what the last verb came to."""

    def __init__(self, build: BuildInput, checks: CheckList, at: dt.datetime = DAY) -> None:
        self.build, self.checks, self.at = build, checks, at
        self.last: Edited[str] | None = None

    @property
    def standing(self) -> StartStanding:
        return remembered_standing(self.build, self.checks, at=self.at)

    def wait(self, **time: float) -> None:
        self.at += dt.timedelta(**time)

    def take(self, edited: Edited[str]) -> bool:
        """Stores what a verb came to, as a change is stored; False where it was refused."""
        self.last = edited
        if edited.is_refused or edited.faults or edited.lost:
            return False
        self.build = with_openings(self.build, edited.build, at=self.at)
        return True

    def sign(self, key: str, version: str | None = None, **other: object) -> bool:
        check = next(one for one in self.standing.checks.checks if one.key == key)
        said = typed(check, self.at.date())
        if other:
            from dataclasses import replace

            said = replace(said, **other)  # type: ignore[arg-type]
        edited = signing.sign(
            self.build,
            self.checks,
            key,
            said,
            at=self.at,
            version=version or self.standing.version,
        )
        return self.take(edited)

    def figures(self, key: str) -> bool:
        check = next(one for one in self.checks.checks if one.key == key)
        return self.take(
            signing.type_figures(
                self.build,
                self.checks,
                key,
                typed_readings(check),
                at=self.at,
                version=self.standing.version,
            )
        )

    def begin(self, kind: RunKind) -> bool:
        version = self.standing.version
        run = engine_runs.begin_run(self.build, self.checks, kind, at=self.at, version=version)
        return self.take(run)

    def fire(self) -> bool:
        return self.take(engine_runs.fired(self.build, at=self.at))

    def end(self) -> bool:
        return self.take(engine_runs.end_run(self.build, at=self.at))

    def abort(self) -> bool:
        return self.take(engine_runs.abort(self.build, self.checks, at=self.at))

    def write_cause(self, why: str, cause: str = "a bolt was loose, tightened") -> bool:
        key = self.build.start.runs[-1].key
        return self.take(
            engine_runs.write_cause(self.build, self.checks, key, why=why, cause=cause, at=self.at)
        )

    def it_ran(self) -> bool:
        version = self.standing.version
        return self.take(engine_runs.it_ran(self.build, self.checks, at=self.at, version=version))

    def sign_all(
        self, *stages: str, only: Callable[[Check], bool] = lambda _check: True
    ) -> list[str]:
        """Signs what can be signed in these stages until nothing more can; what was signed."""
        done: list[str] = []
        while True:
            ready = [
                one.check.key
                for one in self.standing.all
                if one.check.stage in stages and one.can_be_signed and only(one.check)
            ]
            signed = [key for key in ready if self._one(key)]
            done += signed
            if not signed:
                return done

    def _one(self, key: str) -> bool:
        self.wait(seconds=9)
        found = self.standing.of(key)
        return found is not None and found.can_be_signed and self.sign(key)


def still(check: Check) -> bool:
    """What is signed while nothing runs."""
    return not check.engine_running


def to_the_key(walker: Walker) -> None:
    """Everything before the first start of an engine, the priming among it.

    Builds are frozen, so a walk that was walked once is walked on from its end.
    """
    _walked(walker, "key", _walk_to_the_key)


def to_priming(walker: Walker) -> None:
    """All that is signed before the first crank."""
    _walked(walker, "prime", _walk_to_priming)


def _walk_to_priming(walker: Walker) -> None:
    stages = [stage.key for stage in walker.checks.stages]
    walker.sign_all(*stages[: stages.index("start")], only=lambda one: one.key != "oil_cranked")


def to_it_ran(walker: Walker) -> None:
    """To the end of the first minute of an engine, and "it ran"."""
    _walked(walker, "ran", _walk_to_it_ran)


_ENDS: dict[tuple[object, ...], tuple[BuildInput, dt.datetime]] = {}


def _walked(walker: Walker, to: str, walk: Callable[[Walker], None]) -> None:
    begin = (to, walker.checks.key, walker.build, walker.at)
    if begin not in _ENDS:
        walk(walker)
        _ENDS[begin] = (walker.build, walker.at)
    walker.build, walker.at = _ENDS[begin]


def _walk_to_the_key(walker: Walker) -> None:
    to_priming(walker)
    stages = [stage.key for stage in walker.checks.stages]
    assert walker.begin("prime"), walker.last
    walker.wait(seconds=10)
    assert walker.end()
    walker.sign_all(*stages[: stages.index("start")])


def _walk_to_it_ran(walker: Walker) -> None:
    to_the_key(walker)
    walker.wait(seconds=60)
    walker.sign_all("start", only=lambda one: still(one) and one.key != "cranked")
    assert walker.begin("start"), walker.last
    walker.wait(seconds=3)
    assert walker.fire()
    walker.sign_all("start", only=lambda one: one.key not in ("normal_stop", "charging"))
    walker.wait(seconds=20)
    assert walker.end()
    type_all(walker)
    walker.wait(seconds=9)
    assert walker.sign("normal_stop"), walker.last
    walker.wait(seconds=9)
    assert walker.it_ran(), walker.last


def type_all(walker: Walker) -> None:
    """Every figure that was left for after the stop."""
    for one in walker.standing.all:
        if one.state == "figures missing" and one.check.key != "fire_watch":
            assert walker.figures(one.check.key), walker.last


def to_the_hot_stop(one: Walker, *, signed: bool = True) -> None:
    """The rest of the first minute, and the heat cycle in a second run, to its stop `signed`."""
    one.wait(seconds=60)
    one.sign_all("start", "heat", only=still)
    before = [stage.key for stage in one.checks.stages][:5]
    one.sign_all(*before, only=lambda check: still(check) and check.every_run)
    assert one.begin("start"), one.last
    one.wait(seconds=3)
    one.fire()
    one.sign_all("start", "heat", only=lambda check: check.key not in ("hot_stop", "normal_stop"))
    one.wait(minutes=10)
    one.end()
    type_all(one)
    if not signed:
        return
    assert not one.sign("hot_stop")  # the heat is watched for ten minutes first
    one.wait(minutes=10)
    assert one.sign("hot_stop"), one.last
