"""What is said of the records of earlier builds: whose they are, and what they showed."""

import datetime as dt
from collections.abc import Iterable, Sequence

from webapp.build.build_input import BuildInput
from webapp.build.earlier_record import EarlierRecord
from webapp.pages.words import amounts as words
from webapp.pages.words.how import factor, percent
from webapp.pages.words.quoted import shown

TAKE_ALONG = "Take its record along"
TAKE_AS_IT_IS = "Take it as it is now"
LET_GO = "Let go of it"
SWITCH = {"off": "Switch it off", "on": "Let it count again"}
SHOWS_OTHERWISE = (
    "That build shows something else by now, so nothing was taken. What it shows stands below:"
    " look at it, and press again."
)
NOT_THERE = (
    "That record is not here any more: it was let go, or its build was deleted. What there is"
    " stands below."
)


def heard(records: Iterable[EarlierRecord]) -> tuple[EarlierRecord, ...]:
    """Those that count."""
    return tuple(record for record in records if record.counts)


def names_of(records: Iterable[EarlierRecord]) -> str:
    """The builds by name: "The Heron and The Grebe"."""
    return words.listed([shown(record.name) for record in records])


def shows(record: EarlierRecord) -> str:
    """ "38 tasks took 1.24 times their hours, 8 weeks, 82 % of the workable hours"."""
    said = []
    if record.tasks:
        hours = "its" if record.tasks == 1 else "their"
        said.append(
            f"{words.count(record.tasks, 'task')} took {record.times_estimate:.2f} times {hours}"
            " hours"
        )
    if record.weeks:
        said.append(f"{words.count(record.weeks, 'week')}, {percent(record.share_worked)} of the")
        said[-1] += " workable hours"
    return ", ".join(said)


def offer_words(record: EarlierRecord) -> str:
    """A record among those that a new build can begin with."""
    return f"Begin with the record of {shown(record.name)}: {shows(record)}"


def behind(own: int, one: str, records: Sequence[EarlierRecord], earlier: int) -> str:
    """What stands behind a factor: "3 tasks", "3 tasks here and 38 of The Heron"; "" for nothing.

    `records` are those that it was heard of, `earlier` so many of `one` in them.
    """
    if not earlier:
        return words.count(own, one) if own else ""
    theirs = f"of {names_of(records)}"
    if not own:
        return f"{words.count(earlier, one)} {theirs}"
    return f"{words.count(own, one)} here and {earlier:,} {theirs}"


def tasks_behind(own: int, build: BuildInput, one: str = "task") -> str:
    """The tasks behind the factors, where estimates are corrected."""
    records = [record for record in heard(build.earlier_records) if record.tasks]
    return behind(own, one, records, sum(record.tasks for record in records))


def weeks_behind(own: int, build: BuildInput, one: str = "week") -> str:
    """The weeks behind the attendance."""
    records = [record for record in heard(build.earlier_records) if record.weeks]
    return behind(own, one, records, sum(record.weeks for record in records))


def whose(build: BuildInput) -> str:
    """Whose records the forecast hears beside its own: "the record of The Heron"; "" of nobody."""
    records = heard(build.earlier_records)
    if not records or not (build.calibrated or build.attended):
        return ""
    return f"{'the records' if len(records) > 1 else 'the record'} of {names_of(records)}"


def drawn_words(build: BuildInput, level: float, attendance: float) -> tuple[str, ...]:
    """Lines for the command: whose records the draws hear, and what comes of them; () of nobody."""
    if not whose(build):
        return ()
    said = [
        f"{shown(record.name)}, taken {record.taken_on.isoformat()}: {shows(record)}"
        for record in heard(build.earlier_records)
    ]
    made = f"Work is drawn round {factor(level)} of its estimate" if build.calibrated else ""
    worked = f"{percent(attendance)} of the workable hours as worked" if build.attended else ""
    return (
        f"With {whose(build)} beside its own.",
        *(f"  {line}." for line in said),
        f"{' and '.join(part for part in (made, worked) if part)}.",
    )


def taken_words(record: EarlierRecord, today: dt.date) -> str:
    """When a record was taken, and what it shows."""
    return f"taken {words.day(record.taken_on, today=today)}: {shows(record)}"
