"""The lists as they are shipped, and builds that answer them, for the tests of this folder."""

import datetime as dt
from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.first_start import (
    FirstStart,
    LicensedPaper,
    Signature,
    SignedReading,
    StartAnswer,
    StopLine,
)
from webapp.first_start.check_list import Check, CheckList
from webapp.first_start.evaluation import start_standing
from webapp.first_start.standing import StartStanding
from webapp.services.seed_builds import check_lists

ENGINE, ELECTRIC, BOAT = check_lists()
LISTS = (ENGINE, ELECTRIC, BOAT)
STARTER_OF = {"engine": "swap", "electric": "electric", "boat": "boat"}
DAY = dt.datetime(2026, 5, 2, 9).astimezone()
"""A Saturday, nine in the morning, with its offset from UTC as every moment of first start."""
DIESEL = {
    "fuel": "diesel",
    "fuel_system": "mechanical injection",
    "turbo": "yes",
    "intercooler": "used",
    "control": "mechanical",
    "gearbox": "manual",
    "driven_by": "propshaft",
    "steering": "manual",
    "servo": "yes",
    "ac": "none",
    "compressor": "clutch",
    "fan": "electric",
    "air_stop": "valve",
    "oil_filter": "where it was",
    "stood_long": "yes",
    "earth": "negative",
    "volts": "12",
}
ELECTRIC_SAID = {"servo": "yes"}
BOAT_SAID = {
    "water": "afloat",
    "drive": "shaft",
    "exhaust": "wet",
    "raw_pump": "yes",
    "cooling": "heat exchanger",
    "fuel_system": "common rail",
    "gas_aboard": "no",
    "blower": "yes",
    "volts": "12",
}
SAID = {"engine": DIESEL, "electric": ELECTRIC_SAID, "boat": BOAT_SAID}


def start_build(checks: CheckList, **said: str) -> BuildInput:
    """A build of nothing but its answers and stop lines."""
    answers = SAID[checks.key] | said
    lines = checks.stop_words_for(answers).typed
    return BuildInput(
        name="Test",
        now=DAY.replace(tzinfo=None),
        first_start=None,
        starter_list=STARTER_OF[checks.key],
        start=FirstStart(
            answers=tuple(StartAnswer(question=q, answer=a) for q, a in answers.items()),
            stop_lines=tuple(StopLine(name=name, words="there") for name in lines),
        ),
    )


def signature(check: Check, at: dt.datetime, number: int) -> Signature:
    """A check signed with all it asks for."""
    return Signature(
        key=f"{check.key}-{number}",
        check=check.key,
        at=at,
        signer="A. Builder",
        helper="B. Second" if check.who == "helper" else "",
        readings=tuple(
            SignedReading(name=one.name, unit=one.unit, value=_value(one.low, one.high))
            for one in check.readings
        ),
        paper=(
            LicensedPaper(name="J. Ferro", firm="Ferro", number="118", on=at.date())
            if check.who == "licensed"
            else None
        ),
    )


def _value(low: float | None, high: float | None) -> float:
    if low is not None:
        return low
    return high if high is not None else 1.0


def signed(
    build: BuildInput, checks: CheckList, *stages: str, at: dt.datetime, every_seconds: float = 10
) -> BuildInput:
    """The build with every kept check of some stages signed one after the other."""
    done, moment = list(build.start.signatures), at
    for one in standing(build, checks, at=at).all:
        if one.is_kept and one.check.stage in stages:
            done.append(signature(one.check, moment, len(done)))
            moment += dt.timedelta(seconds=every_seconds)
    return replace(build, start=replace(build.start, signatures=tuple(done)))


def standing(build: BuildInput, checks: CheckList, *, at: dt.datetime) -> StartStanding:
    """What stands at a moment."""
    return start_standing(build, checks, at=at)


def before_key(checks: CheckList) -> tuple[str, ...]:
    """The stages that are signed before the key is turned."""
    keys = [stage.key for stage in checks.stages]
    return tuple(keys[: keys.index("power" if checks.key == "electric" else "start")])
