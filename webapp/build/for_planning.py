"""What no plan hangs on: two builds that differ in nothing else are planned alike."""

import datetime as dt
from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.circuit_dependencies import as_planned
from webapp.build.data_sheet import EMPTY_SHEET
from webapp.build.first_start import NOTHING_SIGNED
from webapp.build.plumbing import NOTHING_PLUMBED


def for_planning(build: BuildInput) -> BuildInput:
    """The build as a plan sees it: without steps, sizes, looks, photographs, rooms, sheet,
    units, money that was paid, what was signed, and earlier records that are switched off.

    Of what is plumbed it sees what circuits ask of the order of work, and nothing else.
    """
    build = replace(as_planned(build), plumbing=NOTHING_PLUMBED)
    tasks = tuple(
        replace(task, steps=(), measures=(), cost=None, paid=None)
        if task.steps or task.measures or task.cost is not None or task.paid is not None
        else task
        for task in build.tasks
    )
    parts = tuple(
        replace(part, paid=None) if part.paid is not None else part for part in build.parts
    )
    wishes = tuple(
        replace(wish, paid=None) if wish.paid is not None else wish for wish in build.wishes
    )
    earlier = tuple(
        replace(record, key="", name="", taken_on=dt.date.min)
        for record in build.earlier_records
        if record.counts
    )
    return replace(
        build,
        earlier_records=earlier,
        tasks=tasks,
        parts=parts,
        wishes=wishes,
        currency="",
        money_limit=None,
        looked_at=(),
        photographs=(),
        rooms=(),
        data_sheet=EMPTY_SHEET,
        start=NOTHING_SIGNED,
        units="metric",
        now=dt.datetime.min,
    )


def are_planned_alike(one: BuildInput, other: BuildInput) -> bool:
    """Whether nothing that a plan or a forecast hangs on differs, but for the moment."""
    return for_planning(one) == for_planning(other)
