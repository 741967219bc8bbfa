"""Faults of earlier builds' records: figures that none can have, names that stand twice."""

from collections.abc import Iterator

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.fault_words import Thing, number_words
from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.build.folded_name import folded_name
from webapp.build.limits import (
    MOST_EARLIER_HOURS,
    MOST_EARLIER_WEEKS,
    MOST_LOG_SQUARES,
    MOST_SETUPS,
    MOST_TASKS,
)

TAKE_ANEW = "Take the record anew from that build, or take this kind of work out."


def earlier_record_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of every record; that a key stands twice is told with the other keys."""
    for number, record in enumerate(build.earlier_records, start=1):
        thing = Thing(kind="earlier record", key=record.key, name=record.name, number=number)
        yield from thing.key_faults()
        yield from thing.text_faults("name", record.name, required=True)
        yield from thing.day_faults("taken_on", "the day it was taken,", record.taken_on)
        yield from _week_faults(thing, record)
        yield from _kind_faults(thing, record)


def _week_faults(thing: Thing, record: EarlierRecord) -> Iterator[Fault]:
    yield from thing.number_faults("weeks", "its weeks", record.weeks, most=MOST_EARLIER_WEEKS)
    for field, what, hours in (
        ("workable_hours", "the hours that could be worked", record.workable_hours),
        ("worked_hours", "the hours that were worked", record.worked_hours),
    ):
        yield from thing.number_faults(field, what, hours, most=MOST_EARLIER_HOURS)
    if record.weeks > 0 and record.workable_hours == 0:
        yield thing.fault(
            "workable_hours",
            f"of {number_words(record.weeks)} weeks no hour could be worked. Enter the hours that "
            "could be, or 0 weeks.",
        )


def _kind_faults(thing: Thing, record: EarlierRecord) -> Iterator[Fault]:
    yield from thing.count_faults("kinds", "kinds of work", record.kinds, MOST_SETUPS + 1)
    names = set[str]()
    for kind in record.kinds:
        called = Thing(
            kind="earlier record",
            key=record.key,
            name=f"{record.name}, {kind.name or 'work without a setup'}",
        )
        yield from called.text_faults("kinds", kind.name)
        yield from _figure_faults(called, kind)
        if folded_name(kind.name) in names:
            yield called.fault(
                "kinds", "it stands there twice. Take one of the two out, or name it otherwise."
            )
        names.add(folded_name(kind.name))


def _figure_faults(called: Thing, kind: EarlierKind) -> Iterator[Fault]:
    yield from called.number_faults("kinds", "its tasks", kind.tasks, least=1, most=MOST_TASKS)
    for what, hours in (
        ("the hours it took", kind.actual_hours),
        ("the hours that were expected", kind.expected_hours),
    ):
        if hours == 0:
            yield called.fault("kinds", f"{what} are 0, which says nothing. {TAKE_ANEW}")
        yield from called.number_faults("kinds", what, hours, most=MOST_EARLIER_HOURS)
    if 1 <= kind.tasks <= MOST_TASKS and not 1 <= kind.worth <= kind.tasks:
        yield called.fault(
            "kinds",
            f"its {number_words(kind.tasks)} tasks are worth {number_words(kind.worth)} of one "
            f"size: that is from 1 to as many as there are. {TAKE_ANEW}",
        )
    yield from called.number_faults(
        "kinds", "the squares of its logs", kind.log_squares, most=MOST_LOG_SQUARES
    )
