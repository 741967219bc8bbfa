"""Faults of what was signed on the way to first start: nobody's signatures, moments out of order.

Whether a signature counts is for `webapp.first_start`, which knows the list; here is what no
list could make good.
"""

import datetime as dt
from collections.abc import Iterator

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.fault_words import Thing, shown
from webapp.build.first_start import (
    CHOICES,
    ENDINGS,
    OPENED_HOW,
    RUN_KINDS,
    EngineRun,
    Signature,
)
from webapp.build.limits import (
    EARLIEST_DAY,
    LATEST_DAY,
    MOST_CHECK_CHANGES,
    MOST_ENGINE_RUNS,
    MOST_OF_A_READING,
    MOST_OPENINGS,
    MOST_OWN_CHECKS,
    MOST_REACHES,
    MOST_READINGS,
    MOST_SIGNATURES,
    MOST_START_ANSWERS,
    MOST_STOP_LINES,
)


def first_start_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of it."""
    yield from _counts(build)
    for one in build.start.signatures:
        yield from _signature_faults(one)
    for aside in build.start.set_asides:
        thing = Thing(kind="check set aside", key=aside.key, name=aside.check)
        yield from thing.key_faults()
        yield from _who_faults(thing, "name", aside.name)
        yield from thing.text_faults("reason", aside.reason, required=True, long=True)
        yield from _moment_faults(thing, "at", aside.at)
    yield from _list_faults(build)
    for run in build.start.runs:
        yield from _run_faults(run)
    if sum(run.ended_at is None for run in build.start.runs) > 1:
        yield Thing(kind="build", key="", name=build.name).fault(
            "start", "two engine runs go on at once. End one of them."
        )
    yield from _twice(build)


def _counts(build: BuildInput) -> Iterator[Fault]:
    start, thing = build.start, Thing(kind="build", key="", name=build.name)
    for words, things, most in (
        ("answers to questions of first start", start.answers, MOST_START_ANSWERS),
        ("signatures", start.signatures, MOST_SIGNATURES),
        ("checks set aside", start.set_asides, MOST_SIGNATURES),
        ("changed checks", start.changes, MOST_CHECK_CHANGES),
        ("checks of one's own", start.own_checks, MOST_OWN_CHECKS),
        ("openings", start.openings, MOST_OPENINGS),
        ("engine runs", start.runs, MOST_ENGINE_RUNS),
        ("stop lines", start.stop_lines, MOST_STOP_LINES),
    ):
        yield from thing.count_faults("start", words, things, most)


def _signature_faults(one: Signature) -> Iterator[Fault]:
    thing = Thing(kind="signature", key=one.key, name=one.check)
    yield from thing.key_faults()
    yield from thing.text_faults("check", one.check, required=True)
    yield from _who_faults(thing, "signer", one.signer)
    yield from thing.text_faults("helper", one.helper)
    yield from thing.text_faults("seen", one.seen, long=True)
    yield from _moment_faults(thing, "at", one.at)
    if one.taken_back_at is not None:
        yield from _moment_faults(thing, "taken_back_at", one.taken_back_at)
        if one.taken_back_at < one.at:
            yield thing.fault(
                "taken_back_at", "it was taken back before it was signed. Correct the moment."
            )
    if len(one.readings) > MOST_READINGS:
        yield thing.fault("readings", f"it has more than {MOST_READINGS} readings. Leave some out.")
    for reading in one.readings:
        yield from thing.text_faults("readings", reading.name)
        yield from thing.text_faults("readings", reading.unit)
        yield from thing.text_faults("readings", reading.makers)
        if isinstance(reading.value, str):
            yield from thing.text_faults("readings", reading.value)
        else:
            yield from thing.number_faults(
                "readings",
                shown(reading.name),
                reading.value,
                least=-MOST_OF_A_READING,
                most=MOST_OF_A_READING,
            )
    if one.paper is not None:
        for words in (one.paper.name, one.paper.firm, one.paper.number):
            yield from thing.text_faults("paper", words)
            if not words.strip():
                yield thing.fault("paper", "name, firm or number of the paper is missing. Type it.")
        yield from thing.day_faults("paper", "the date of the paper", one.paper.on)


def _who_faults(thing: Thing, field: str, name: str) -> Iterator[Fault]:
    yield from thing.text_faults(field, name)
    if not name.strip():
        yield thing.fault(field, "nobody signed it. Type who did.")


def _moment_faults(thing: Thing, field: str, at: dt.datetime) -> Iterator[Fault]:
    if not EARLIEST_DAY <= at.date() <= LATEST_DAY:
        yield from thing.day_faults(field, "its moment", at)


def _list_faults(build: BuildInput) -> Iterator[Fault]:
    start = build.start
    for answer in start.answers:
        thing = Thing(kind="start answer", key=answer.question)
        yield from thing.key_faults()
        yield from thing.text_faults("answer", answer.answer, required=True)
    for change in start.changes:
        thing = Thing(kind="check change", key=change.check)
        yield from thing.key_faults()
        yield from thing.text_faults("name", change.name)
        yield from thing.text_faults("words", change.words, long=True)
        yield from _moment_faults(thing, "at", change.at)
        if change.choice is not None and change.choice not in CHOICES:
            yield thing.fault("choice", f"must be one of {', '.join(CHOICES)}.")
    for own in start.own_checks:
        thing = Thing(kind="own check", key=own.key, name=own.text)
        yield from thing.key_faults()
        yield from thing.text_faults("stage", own.stage, required=True)
        yield from thing.text_faults("circuit", own.circuit, required=True)
        yield from thing.text_faults("text", own.text, required=True, long=True)
        yield from thing.text_faults("why", own.why, long=True)
        yield from thing.text_faults("caution", own.caution, long=True)
    for opening in start.openings:
        thing = Thing(kind="opening", key=opening.what, name=opening.name)
        yield from thing.key_faults()
        yield from thing.text_faults("name", opening.name)
        yield from _moment_faults(thing, "at", opening.at)
        if opening.how not in OPENED_HOW:
            yield thing.fault("how", f"must be one of {', '.join(OPENED_HOW)}.")
        if len(opening.reaches) > MOST_REACHES:
            yield thing.fault("reaches", f"it reaches more than {MOST_REACHES} things.")
        for reach in opening.reaches:
            yield from thing.text_faults("reaches", reach)
    for line in start.stop_lines:
        thing = Thing(kind="stop line", key="", name=line.name)
        yield from thing.text_faults("name", line.name, required=True)
        yield from thing.text_faults("words", line.words, long=True)


def _run_faults(run: EngineRun) -> Iterator[Fault]:
    thing = Thing(kind="engine run", key=run.key)
    yield from thing.key_faults()
    yield from thing.text_faults("abort", run.abort)
    yield from thing.text_faults("cause", run.cause, long=True)
    if run.kind not in RUN_KINDS:
        yield thing.fault("kind", f"must be one of {', '.join(RUN_KINDS)}.")
    if run.ending is not None and run.ending not in ENDINGS:
        yield thing.fault("ending", f"must be one of {', '.join(ENDINGS)}.")
    yield from _moment_faults(thing, "begun_at", run.begun_at)
    moments = [run.begun_at, run.fired_at, run.ended_at]
    known = [at for at in moments if at is not None]
    if known != sorted(known):
        yield thing.fault("ended_at", "it fired or ended before it was begun. Correct the moments.")
    if (run.ended_at is None) != (run.ending is None):
        yield thing.fault("ending", "how it ended and when go together. Say both or neither.")


def _twice(build: BuildInput) -> Iterator[Fault]:
    start = build.start
    for kind, keys in (
        ("start answer", [one.question for one in start.answers]),
        ("signature", [one.key for one in start.signatures]),
        ("check set aside", [one.key for one in start.set_asides]),
        ("check change", [one.check for one in start.changes]),
        ("own check", [one.key for one in start.own_checks]),
        ("engine run", [one.key for one in start.runs]),
        ("stop line", [one.name for one in start.stop_lines]),
    ):
        seen = set[str]()
        for key in keys:
            if key in seen:
                thing = Thing(kind=kind, key=key)
                yield thing.fault("key", f"there is a second {kind} of this key. Leave one out.")
            seen.add(key)
