"""The attempts of a day: what ends one, which rest is still to be kept, what shuts the start.

Worked out from the stored moments of cranks, so a screen that went dark shows the right rest.
"""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from webapp.build.first_start import EngineRun, FirstStart
from webapp.build.moments import by_the_clock_of
from webapp.first_start.check_list import CheckList
from webapp.first_start.list_facts import ENDS_THE_DAY, facts_of

THREE_CRANKS = "three cranks without firing"
"""As the list of the boat calls it."""
WATCHED_WITHIN = dt.timedelta(hours=12)
"""Longer after a stop nobody can say any more that he watched. No source: a day's length."""
ShutWhy = Literal["running", "abort to name", "cause to write", "enough for today", "rest", "pause"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shut:
    """Why nothing is cranked now; `until` where it is a matter of time."""

    why: ShutWhy
    run: str = ""
    until: dt.datetime | None = None


def ended_runs(start: FirstStart, now: dt.datetime) -> tuple[EngineRun, ...]:
    """The runs that were over by a moment, in the order of time."""
    over = (run for run in start.runs if run.ended_at is not None and run.ended_at <= now)
    return tuple(sorted(over, key=lambda run: run.begun_at))


def open_run(start: FirstStart) -> EngineRun | None:
    """The crank or run that goes on."""
    return next((run for run in start.runs if run.ended_at is None), None)


def last_stop(start: FirstStart, now: dt.datetime) -> dt.datetime | None:
    """When what fired was last stopped."""
    stops = [run.ended_at for run in ended_runs(start, now) if run.fired_at and run.ended_at]
    return max(stops, default=None)


def is_to_be_watched(start: FirstStart, now: dt.datetime) -> bool:
    """Whether what fired stands still and is warm: from its stop on somebody watches for fire."""
    stopped = last_stop(start, now)
    return stopped is not None and open_run(start) is None and now - stopped <= WATCHED_WITHIN


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """What a check waits for: so long after `since`, which is None where it has not been yet.

    `what` is what that was, in words.
    """

    since: dt.datetime | None
    lasts: dt.timedelta
    what: str

    @property
    def until(self) -> dt.datetime | None:
        """The moment from which on it is signed."""
        return None if self.since is None else self.since + self.lasts


def wait_of(checks: CheckList, start: FirstStart, key: str, now: dt.datetime) -> Wait | None:
    """What a check waits for by the clock; None for those that do not."""
    facts, timings = facts_of(checks), checks.timings
    after_stop = {
        facts.soak: dt.timedelta(minutes=timings.heat_soak_minutes),
        facts.siphon: dt.timedelta(minutes=timings.boat_siphon_look_minutes),
        facts.fire_watch: dt.timedelta(minutes=timings.fire_watch_minutes),
        facts.cold: dt.timedelta(hours=timings.cold_again_hours),
    }
    if key and key in after_stop:
        return Wait(since=last_stop(start, now), lasts=after_stop[key], what="stop")
    if key and key == facts.charge_look:
        charged = [
            one.at
            for one in start.signatures
            if one.check == facts.charge and one.taken_back_at is None and one.at <= now
        ]
        lasts = dt.timedelta(minutes=timings.electric_second_look_minutes)
        return Wait(since=max(charged, default=None), lasts=lasts, what="charge")
    return None


def three_unfired(runs: tuple[EngineRun, ...]) -> Iterator[dt.datetime]:
    """The ends of every third try of a day that did not fire."""
    count, day = 0, None
    for run in sorted(runs, key=lambda one: one.begun_at):
        if run.kind != "start" or run.ended_at is None:
            continue
        if day != run.begun_at.date() or run.fired_at is not None or run.ending == "aborted":
            count, day = 0, run.begun_at.date()
        if run.ending == "not fired" and run.fired_at is None:
            count += 1
            if count % 3 == 0:
                yield run.ended_at


def attempt_ends(checks: CheckList, start: FirstStart, now: dt.datetime) -> tuple[dt.datetime, ...]:
    """The moments at which an attempt ended: an abort, three tries, the round of priming."""
    found = [
        run.ended_at
        for run in ended_runs(start, now)
        if run.ending == "aborted" and run.ended_at is not None
    ]
    found += [at for at in three_unfired(start.runs) if at <= now]
    found += [at for at in _priming_ends(checks, start) if at <= now]
    return tuple(sorted(found))


def _priming_ends(checks: CheckList, start: FirstStart) -> Iterator[dt.datetime]:
    """The end of a round of cranks that gave no pressure: none was signed within the pause."""
    pause = dt.timedelta(minutes=checks.timings.pause_after_three_minutes)
    for ended in _rounds(checks, start.runs):
        signed = (
            one.at
            for one in start.signatures
            if one.check == "oil_cranked" and one.taken_back_at is None
        )
        if not any(ended <= at <= ended + pause for at in signed):
            yield ended + pause


def _rounds(checks: CheckList, runs: tuple[EngineRun, ...]) -> Iterator[dt.datetime]:
    count, day = 0, None
    for run in sorted(runs, key=lambda one: one.begun_at):
        if run.kind != "prime" or run.ended_at is None:
            continue
        if day != run.begun_at.date() or run.ending == "aborted":
            count, day = 0, run.begun_at.date()
        if run.ending != "aborted":
            count += 1
            if count == checks.timings.prime_cranks:
                count = 0
                yield run.ended_at


def shut_by(
    checks: CheckList, start: FirstStart, answers: Mapping[str, str], now: dt.datetime
) -> Shut | None:
    """What keeps everything from being cranked at a moment, the gravest first; None: nothing."""
    running = open_run(start)
    if running is not None:
        return Shut(why="running", run=running.key)
    runs = ended_runs(start, now)
    for run in runs:
        if run.ending == "aborted" and not run.abort:
            return Shut(why="abort to name", run=run.key)
        if run.ending == "aborted" and not run.cause:
            return Shut(why="cause to write", run=run.key)
    today = [run for run in runs if run.begun_at.date() == now.date()]
    named = [run.abort for run in today if run.ending == "aborted"]
    if any(named.count(key) >= 2 or key in ENDS_THE_DAY for key in named):
        morning = dt.datetime.combine(now.date() + dt.timedelta(days=1), dt.time(), now.tzinfo)
        return Shut(why="enough for today", until=morning)
    without_cause = _tried_out(checks, start, today, answers)
    if without_cause is not None:
        return Shut(why="cause to write", run=without_cause.key)
    return _rest(checks, today, now)


def _tried_out(
    checks: CheckList, start: FirstStart, today: list[EngineRun], answers: Mapping[str, str]
) -> EngineRun | None:
    """The try after which is found out why, until that is written down.

    Three tries; on a common rail, which bleeds itself, twice three. Five cranks of priming,
    unless they gave pressure.
    """
    timings = checks.timings
    most = (
        timings.tries_common_rail_air
        if answers.get("fuel_system") == "common rail"
        else timings.tries_then_find_out
    )
    pressure = [
        one.at
        for one in start.signatures
        if one.check == "oil_cranked" and one.taken_back_at is None
    ]
    tries = primes = 0
    for run in today:
        if run.fired_at is not None or run.cause:
            tries = primes = 0
        elif run.kind == "start":
            tries += 1
        elif run.kind == "prime":
            primes += 1
        if primes and any(run.begun_at <= at for at in pressure):
            primes = 0
        if tries >= most or primes >= timings.prime_cranks:
            return run
    return None


def _rest(checks: CheckList, today: list[EngineRun], now: dt.datetime) -> Shut | None:
    cranks = [run for run in today if run.kind in ("prime", "start") and run.ended_at is not None]
    if not cranks or cranks[-1].ended_at is None:
        return None
    ended = cranks[-1].ended_at
    pause = ended + dt.timedelta(minutes=checks.timings.pause_after_three_minutes)
    if ended in (*three_unfired(tuple(today)), *_rounds(checks, tuple(today))) and now < pause:
        return Shut(why="pause", until=by_the_clock_of(pause, now))
    rest = ended + dt.timedelta(seconds=checks.timings.rest_seconds)
    return Shut(why="rest", until=by_the_clock_of(rest, now)) if now < rest else None


def may_be_turned(checks: CheckList, kind: str) -> bool:
    """Whether the list knows a crank or run of that kind."""
    return kind in facts_of(checks).gates
