"""Cranks and runs on the day: begun, fired, stopped, aborted with a cause, and "it ran"."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.edited import Edited
from webapp.build.first_start import Ending, EngineRun, RunKind
from webapp.build.limits import LEAST_WORDS_OF_A_REASON
from webapp.first_start.after_work import with_after_work
from webapp.first_start.attempts import ended_runs, may_be_turned, open_run
from webapp.first_start.check_list import CheckList
from webapp.first_start.desk import (
    Desk,
    blocked_faults,
    check_fault,
    desk_of,
    lost,
    next_key,
    refused,
    with_start,
)
from webapp.first_start.list_facts import facts_of
from webapp.first_start.names import words_in

MOVES_AT_ONCE: frozenset[RunKind] = frozenset(("power", "spin", "drive"))
"""An electric drive needs no firing: it runs from the moment it is begun."""


def begin_run(
    build: BuildInput, checks: CheckList, kind: RunKind, *, at: dt.datetime, version: str
) -> Edited[str]:
    """A crank or a run begins; made is its key. Refused while anything is in its way.

    What has to be signed for it has to stand, what is of every run to be signed since the last
    stop, rests to be kept, the figures of the last run to be typed.
    """
    desk = desk_of(build, checks, at, version)
    if desk.stale:
        return refused(build, desk.stale)
    if not may_be_turned(checks, kind):
        return refused(build, _fault("kind", "This list knows no such crank or run."))
    faults = tuple(_against_turning(desk, kind))
    if faults:
        return refused(build, *faults)
    run = EngineRun(
        key=next_key("r", {one.key for one in build.start.runs}),
        kind=kind,
        begun_at=at,
        fired_at=at if kind in MOVES_AT_ONCE else None,
    )
    return Edited(build=with_start(build, runs=(*build.start.runs, run)), made=run.key)


def _against_turning(desk: Desk, kind: RunKind) -> Iterator[Fault]:
    standing = desk.standing
    if standing.shut is not None:
        yield _fault("shut", _SHUT[standing.shut.why].format(until=_clock(standing.shut.until)))
    gate = standing.of(facts_of(standing.checks).gates[kind])
    assert gate is not None
    yield from blocked_faults(gate)
    stages = [stage.stage.key for stage in standing.stages]
    early = stages[: stages.index(gate.check.stage) + 1]
    watch = facts_of(standing.checks).fire_watch
    for one in standing.all:
        is_before_each = one.check.every_run and not one.check.engine_running
        is_due = one.is_kept and (one.asks_again or not one.is_met)
        if is_before_each and is_due and one.check.stage in early:
            text = f"This is asked before every run: {one.check.text}"
            yield check_fault(one.check.key, "", text)
        if one.state == "figures missing" and one.check.key != watch:
            text = f"The figures of the last run are not typed: {one.check.text}"
            yield check_fault(one.check.key, "", text)


_SHUT = {
    "running": "It is cranked or running already.",
    "abort to name": "It was stopped. What was it, and what was done? Write that first.",
    "cause to write": "Find out why first. What was it, and what was done? Write that down.",
    "enough for today": "Enough for today: find it cold. It opens again in the morning.",
    "rest": "The starter rests until {until}.",
    "pause": "The starter cools and raw fuel airs out until {until}. Meanwhile find out why.",
}


def _clock(moment: dt.datetime | None) -> str:
    return "" if moment is None else f"{moment:%H:%M:%S}"


def _fault(field: str, text: str) -> Fault:
    return Fault(kind="first start", key="", field=field, text=text)


def fired(build: BuildInput, *, at: dt.datetime) -> Edited[str]:
    """What is being cranked fires; a crank that must not fire is stopped instead."""
    run = open_run(build.start)
    if run is None:
        text = "The crank was over already. If it runs, press Stopped and stop it."
        return refused(build, _fault("kind", text))
    if run.fired_at is not None:
        return Edited(build=build, made=run.key)
    if run.kind == "prime":
        text = "It must not fire now: stop it, and say what it was."
        return refused(build, _fault("kind", text))
    return Edited(build=_with_run(build, replace(run, fired_at=at)), made=run.key)


def end_run(build: BuildInput, *, at: dt.datetime, was_firing: bool = True) -> Edited[str]:
    """The crank is over, or what ran was stopped the normal way. Twice is once.

    `was_firing` False: the screen that it was pressed on showed a crank. Where it fires by now,
    somebody said so on another device, and it is not taken for stopped.
    """
    run = open_run(build.start)
    if run is None:
        return Edited(build=build, made="")
    if run.fired_at is not None and not was_firing:
        text = "It fires: that was pressed before. Stop it the normal way, or press Stopped."
        return refused(build, _fault("kind", text))
    ending: Ending = "stopped" if run.fired_at is not None else "not fired"
    return Edited(build=_with_run(build, replace(run, ended_at=at, ending=ending)), made=run.key)


def abort(build: BuildInput, checks: CheckList, *, at: dt.datetime) -> Edited[str]:
    """ "Stopped": never refused, whatever page it comes from, and what it was is asked after.

    Where nothing was begun on the page the stop is written down all the same. Twice is once.
    """
    run = open_run(build.start)
    if run is not None:
        stopped = replace(run, ended_at=at, ending="aborted")
        return Edited(build=_with_run(build, stopped), made=run.key)
    over = ended_runs(build.start, at)
    if over and over[-1].ending == "aborted" and not over[-1].abort:
        return Edited(build=build, made=over[-1].key)
    kind: RunKind = "power" if checks.key == "electric" else "start"
    alone = EngineRun(
        key=next_key("r", {one.key for one in build.start.runs}),
        kind=kind,
        begun_at=at,
        ended_at=at,
        ending="aborted",
    )
    return Edited(build=with_start(build, runs=(*build.start.runs, alone)), made=alone.key)


def write_cause(
    build: BuildInput, checks: CheckList, key: str, *, why: str, cause: str, at: dt.datetime
) -> Edited[str]:
    """What it was and what was done, after an abort `why`, or ("") after tries that did not fire.

    What the abort makes fall falls from the moment of the stop.
    """
    run = find_by_key(build.start.runs, key)
    if run is None or run.ended_at is None:
        return lost(build, "engine run", key)
    if run.cause:
        return refused(build, _fault("cause", "That is written down already."))
    faults = []
    known = {one.key for _, aborts in checks.aborts for one in aborts}
    if run.ending == "aborted" and why not in known:
        faults.append(_fault("abort", "Say which of these it was."))
    if words_in(cause) < LEAST_WORDS_OF_A_REASON:
        text = f"What was it, and what was done? {LEAST_WORDS_OF_A_REASON} words or more."
        faults.append(_fault("cause", text))
    if faults:
        return refused(build, *faults)
    said = why if run.ending == "aborted" else ""
    written = replace(run, abort=said, cause=cause.strip(), cause_at=at)
    return Edited(build=_with_run(build, written), made=key)


def it_ran(build: BuildInput, checks: CheckList, *, at: dt.datetime, version: str) -> Edited[str]:
    """It ran: the moment is kept, first start is finished, and what comes after waits on Bench.

    It is said once the first minute is through: the normal stop was tried and signed.
    """
    desk = desk_of(build, checks, at, version)
    if desk.stale:
        return refused(build, desk.stale)
    if desk.standing.ran_at is not None:
        return Edited(build=build, made="")
    ran = desk.standing.of(facts_of(checks).ran)
    over = [run for run in ended_runs(build.start, at) if run.fired_at is not None]
    going = open_run(build.start)
    run = over[-1] if over else going
    if run is None or run.fired_at is None:
        return refused(build, _fault("", "Nothing has run yet."))
    if ran is None or ran.signature is None or ran.state not in ("stands", "figures missing"):
        text = ran.check.text if ran is not None else ""
        return refused(build, _fault("", f"This is signed first: {text}"))
    moment = run.fired_at
    build = _with_run(build, replace(run, ran_at=at))
    return Edited(build=with_after_work(build, checks, ran=moment), made=run.key)


def _with_run(build: BuildInput, run: EngineRun) -> BuildInput:
    return with_start(build, runs=replaced_by_key(build.start.runs, run))
