"""The build documents that come with the program: the demo build and the starter list."""

import datetime as dt

from webapp.build.build_input import BuildInput
from webapp.exchange.build_document import read_document
from webapp.exchange.week_shift import shift_weeks, weeks_to_present
from webapp.settings import resource_root


def demo_build(now: dt.datetime) -> BuildInput:
    """The demo build, moved by whole weeks so that its story reaches the present week."""
    build = shipped_demo()
    return shift_weeks(build, weeks_to_present(build.now, now))


def shipped_demo() -> BuildInput:
    """The demo build in the weeks it was written for."""
    return _seed("heron.json", dt.datetime.min)  # it has a moment of its own


def starter_build(now: dt.datetime) -> BuildInput:
    """The starter list for an engine swap; nothing in it is done."""
    return _seed("starter.json", now)


def _seed(file: str, now: dt.datetime) -> BuildInput:
    text = (resource_root() / "seed_data" / file).read_bytes()
    build, faults = read_document(text, now=now)
    if build is None or faults:
        raise RuntimeError(f"{file}: {[fault.text for fault in faults]}")
    return build
