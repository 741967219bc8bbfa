"""Signing a check, setting one aside, taking a signature back, typing figures after the stop."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited
from webapp.build.first_start import (
    EngineRun,
    Opening,
    SetAside,
    Signature,
    SignedReading,
)
from webapp.build.limits import LEAST_WORDS_OF_A_REASON, MOST_SECONDS_TO_TAKE_BACK
from webapp.build.moments import by_the_clock_of
from webapp.first_start.attempts import last_stop, open_run, wait_of
from webapp.first_start.check_list import Check, CheckList
from webapp.first_start.desk import (
    Desk,
    blocked_faults,
    check_fault,
    desk_of,
    lost,
    name_fault,
    next_key,
    refused,
    too_soon,
    with_start,
)
from webapp.first_start.list_facts import OPENED_SINCE, facts_of
from webapp.first_start.names import words_in
from webapp.first_start.standing import CheckStanding
from webapp.first_start.typed_readings import TypedReading, reading_faults, signed_readings
from webapp.first_start.who_signs import Signing as Signing
from webapp.first_start.who_signs import (
    helper_faults,
    opened_faults,
    paper_faults,
    seen_faults,
)


def sign(
    build: BuildInput,
    checks: CheckList,
    key: str,
    typed: Signing,
    *,
    at: dt.datetime,
    version: str,
) -> Edited[str]:
    """One check, one signature; made is its key. Refused where anything is in the way.

    While it runs it is a tap: figures and what was seen are typed after the stop.
    """
    desk = desk_of(build, checks, at, version)
    if desk.stale:
        return refused(build, desk.stale)
    one = desk.standing.of(key)
    if one is None:
        return lost(build, "check", key)
    faults = tuple(_in_the_way(desk, one)) or tuple(_sign_faults(desk, one.check, typed))
    if faults:
        return refused(build, *faults)
    running = _running(build)
    is_tap = running is not None
    new = Signature(
        key=next_key("s", {each.key for each in build.start.signatures}),
        check=key,
        at=at,
        signer=typed.signer.strip(),
        helper=typed.helper.strip() if one.check.who == "helper" else "",
        seen=typed.seen.strip(),
        readings=() if is_tap else _readings(desk, one.check, typed.readings),
        paper=typed.paper if one.check.who == "licensed" else None,
        is_tap=is_tap,
    )
    signed = with_start(build, signatures=(*build.start.signatures, new))
    if key == OPENED_SINCE:
        signed = with_start(signed, openings=_with_said(desk, typed.opened or ()))
    return Edited(build=signed, made=new.key)


def set_aside(
    build: BuildInput,
    checks: CheckList,
    key: str,
    *,
    name: str,
    reason: str,
    at: dt.datetime,
    version: str,
) -> Edited[str]:
    """A check is set aside, with a reason of three words or more; never one of the never-checks."""
    desk = desk_of(build, checks, at, version)
    if desk.stale:
        return refused(build, desk.stale)
    one = desk.standing.of(key)
    if one is None:
        return lost(build, "check", key)
    faults = [
        *blocked_faults(one, "stage", "current on", "answer", "stop line", "shut"),
        *(fault for fault in (name_fault(key, "name", name),) if fault),
    ]
    if one.check.waive == "never":
        text = "This one is never set aside: it drops out only through an answer."
        faults.insert(0, check_fault(key, "", text))
    elif not one.is_kept or one.state in ("stands", "set aside"):
        faults.insert(0, _not_asked(one))
    if words_in(reason) < LEAST_WORDS_OF_A_REASON:
        text = f"Say why in {LEAST_WORDS_OF_A_REASON} words or more."
        faults.append(check_fault(key, "reason", text))
    soon = too_soon(build, key, name, at)
    if soon is not None:
        faults.append(soon)
    if faults:
        return refused(build, *faults)
    aside = SetAside(
        key=next_key("a", {each.key for each in build.start.set_asides}),
        check=key,
        at=at,
        name=name.strip(),
        reason=reason.strip(),
    )
    return Edited(
        build=with_start(build, set_asides=(*build.start.set_asides, aside)), made=aside.key
    )


def take_back(build: BuildInput, key: str, *, at: dt.datetime) -> Edited[str]:
    """A signature counts no more, within five seconds of it; both moments stay written."""
    signature = find_by_key(build.start.signatures, key)
    if signature is None:
        return lost(build, "signature", key)
    seconds = (at - signature.at).total_seconds()
    if signature.taken_back_at is not None:
        return Edited(build=build, made=key)
    if not 0 <= seconds <= MOST_SECONDS_TO_TAKE_BACK:
        text = (
            f"It was signed more than {MOST_SECONDS_TO_TAKE_BACK:g} seconds ago. Say under "
            "“opened since” what does not stand."
        )
        return refused(build, check_fault(signature.check, "", text))
    marked = replace(signature, taken_back_at=at)
    return Edited(build=_with_signature(build, marked), made=key)


def type_figures(
    build: BuildInput,
    checks: CheckList,
    key: str,
    typed: tuple[TypedReading, ...],
    *,
    at: dt.datetime,
    version: str,
    seen: str = "",
) -> Edited[str]:
    """The figures of a check that was tapped while it ran, or its second look; `key` its check."""
    desk = desk_of(build, checks, at, version)
    if desk.stale:
        return refused(build, desk.stale)
    one = desk.standing.of(key)
    if one is None or one.signature is None:
        return lost(build, "check", key)
    if one.state != "figures missing":
        return refused(build, check_fault(key, "", "No figure of it is missing."))
    if _running(build) is not None:
        text = "It is running: look at the gauge. Figures are typed after the stop."
        return refused(build, check_fault(key, "", text))
    faults = tuple(_figure_faults(desk, one.check, typed, one.signature))
    if faults:
        return refused(build, *faults)
    whole = replace(
        one.signature,
        readings=_readings(desk, one.check, typed, one.signature.readings),
        seen=seen.strip() or one.signature.seen,
    )
    return Edited(build=_with_signature(build, whole), made=whole.key)


def _with_signature(build: BuildInput, new: Signature) -> BuildInput:
    signatures = tuple(new if one.key == new.key else one for one in build.start.signatures)
    return with_start(build, signatures=signatures)


def _running(build: BuildInput) -> EngineRun | None:
    run = open_run(build.start)
    return run if run is not None and run.is_running else None


def _not_asked(one: CheckStanding) -> Fault:
    words = {
        "dropped": "An answer dropped it.",
        "left out": "It was left out of the list.",
        "offered": "It is offered and not on the list yet. Take it in first.",
        "set aside": "It is set aside already.",
    }
    return check_fault(one.check.key, "", words.get(one.state, "It is signed already."))


def _in_the_way(desk: Desk, one: CheckStanding) -> Iterator[Fault]:
    """Whether the check is to be signed at all now, and what is in the way."""
    if not one.is_kept:
        yield _not_asked(one)
        return
    is_said_again = one.check.key == OPENED_SINCE  # whenever something is opened, or left
    if not (one.asks_again or is_said_again) and one.state in ("stands", "figures missing"):
        yield _not_asked(one)
    yield from blocked_faults(one)
    check, build = one.check, desk.build
    running = open_run(build.start)
    if running is not None and not running.is_running:
        yield check_fault(check.key, "", "It is being cranked: end the crank first.")
    if running is not None and running.is_running and not _is_of_a_run(desk, check):
        yield check_fault(check.key, "", "It is running: this one waits until it is stopped.")
    if running is not None and check.key == facts_of(desk.standing.checks).soak:
        yield check_fault(check.key, "", "It is running: this one is signed after the stop.")
    if check.engine_running and not _ran_today(desk):
        yield check_fault(check.key, "", "It is signed while it runs, and nothing has run today.")
    yield from _clock_faults(desk, check)


def _is_of_a_run(desk: Desk, check: Check) -> bool:
    """What may be tapped while it runs: what is of the run, and that it was cranked."""
    return check.engine_running or check.key in facts_of(desk.standing.checks).gates.values()


def _ran_today(desk: Desk) -> bool:
    return any(
        run.fired_at is not None
        and run.fired_at.date() == desk.at.date()
        and run.fired_at <= desk.at
        for run in desk.build.start.runs
    )


def _clock_faults(desk: Desk, check: Check) -> Iterator[Fault]:
    """What waits for the clock: the heat after a stop, the fire watch, all that is cold again."""
    wait = wait_of(desk.standing.checks, desk.build.start, check.key, desk.at)
    if wait is None or _running(desk.build) is not None:
        return
    if wait.since is None or wait.until is None:
        text = f"It waits from the last {wait.what}, and there has been none yet."
        yield check_fault(check.key, "", text)
    elif desk.at < wait.until:
        until, since = (by_the_clock_of(one, desk.at) for one in (wait.until, wait.since))
        text = f"Not before {until:%H:%M}: it waits from the {wait.what} at {since:%H:%M}."
        yield check_fault(check.key, "", text)


def _sign_faults(desk: Desk, check: Check, typed: Signing) -> Iterator[Fault]:
    key = check.key
    nobody = name_fault(key, "signer", typed.signer)
    if nobody is not None:
        yield nobody
    running = _running(desk.build)
    if running is None or not _is_of_a_run(desk, check):
        soon = too_soon(desk.build, key, typed.signer, desk.at)
        if soon is not None:
            yield soon
    if check.who == "helper":
        yield from helper_faults(check, typed)
    if check.who == "licensed":
        yield from paper_faults(desk, check, typed)
    if running is None:
        yield from _figure_faults(desk, check, typed.readings, None)
        if check.waive == "never" and not check.readings and check.who == "you":
            yield from seen_faults(check, typed)
    if key == OPENED_SINCE:
        yield from opened_faults(desk, typed)


def _with_said(desk: Desk, names: tuple[str, ...]) -> tuple[Opening, ...]:
    """The openings with those that were named; just before the signature that says so."""
    circuits = {circuit for circuit, _ in desk.standing.checks.groups}
    before = desk.at - dt.timedelta(microseconds=1)
    kept = tuple(
        one
        for one in desk.build.start.openings
        if one.what.removeprefix("circuit:").removeprefix("said:") not in names
        or not one.what.startswith(("circuit:", "said:"))
        or one.how != "said"
    )
    said = tuple(
        Opening(
            what=(what := f"circuit:{name}" if name in circuits else f"said:{name}"),
            name=name,
            how="said",
            at=before,
            reaches=(what,),
        )
        for name in names
    )
    return (*kept, *said)


def _figure_faults(
    desk: Desk, check: Check, typed: tuple[TypedReading, ...], signed: Signature | None
) -> Iterator[Fault]:
    if check.key == facts_of(desk.standing.checks).fire_watch:
        yield from _watch_faults(desk, check, signed)
    else:
        yield from reading_faults(check, typed, desk.standing.answers)


def _watch_faults(desk: Desk, check: Check, signed: Signature | None) -> Iterator[Fault]:
    """The second look waits an hour; the clock measures both looks, nobody types them."""
    if signed is None:
        return
    stopped = last_stop(desk.build.start, desk.at)
    minutes = desk.standing.checks.timings.fire_second_look_minutes
    if stopped is None or desk.at < stopped + dt.timedelta(minutes=minutes):
        text = f"The second look comes {minutes} minutes after the stop, not before."
        yield check_fault(check.key, f"reading:{check.readings[-1].name}", text)


def _readings(
    desk: Desk,
    check: Check,
    typed: tuple[TypedReading, ...],
    before: tuple[SignedReading, ...] = (),
) -> tuple[SignedReading, ...]:
    """The readings as they are kept; those of the fire watch come from the clock."""
    if check.key != facts_of(desk.standing.checks).fire_watch:
        return signed_readings(check, typed)
    stopped = last_stop(desk.build.start, desk.at)
    assert stopped is not None
    minutes = round((desk.at - stopped).total_seconds() / 60, 1)
    wanted = check.readings[len(before)]
    return (*before, SignedReading(name=wanted.name, unit=wanted.unit, value=minutes))
