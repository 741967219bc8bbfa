"""Entering a new build: name, vehicle, dates, and what it begins with."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from webapp.build.build_input import BuildInput, Task
from webapp.build.by_key import find_by_key
from webapp.build.earlier_record import EarlierRecord
from webapp.build.house_rules import SOONEST_RULES
from webapp.build.shop import Shop
from webapp.build.starter.fitting import begun_with
from webapp.build.starter.own_list import begun_from
from webapp.build.starter.starter_list import StarterList
from webapp.build.three_point import ThreePoint
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.shop.hours_forms import OFFERED_WEEK
from webapp.pages.words.own_lists import NOT_READABLE
from webapp.services.earlier_records import shows_the_same
from webapp.storage.own_lists import OwnListHeading

RECORD = "record-"
"""What stands before the key of an earlier build in the field that takes its record along."""
OWN = "own-"
"""What stands before the key of a list of one's own."""
EMPTY = "empty"
"""What a build begins with where it begins with nothing but first start."""
FIRST_START = Task(key="first-start", name="First start", hours=ThreePoint.certain(0))
"""The task of no hours that a build which begins empty is planned towards."""


def new_build_values(
    today: dt.date,
    begin_with: str,
    lists: Sequence[StarterList],
    own: Sequence[OwnListHeading] = (),
    records: Sequence[EarlierRecord] = (),
) -> Mapping[str, Sequence[str]]:
    """What the form of a new build shows when it is opened: the first list, unless it is named.

    Every earlier record is ticked once: a build that was imported twice has shown one record.
    """
    offered = (*(each.key for each in lists), *(f"{OWN}{each.key}" for each in own), EMPTY)
    begins = begin_with if begin_with in offered else offered[0]
    unlike = [
        record
        for at, record in enumerate(records)
        if not any(shows_the_same(record, other) for other in records[:at])
    ]
    ticked = {f"{RECORD}{record.key}": ("on",) for record in unlike}
    return {"starts_on": (today.isoformat(),), "begin_with": (begins,), **ticked}


def read_new_build(
    form: TypedForm,
    lists: Sequence[StarterList],
    now: dt.datetime,
    own: Mapping[str, BuildInput | None] = MappingProxyType({}),
    records: Sequence[EarlierRecord] = (),
) -> BuildInput:
    """The new build as the form says: a list with its usual answers, or empty with a week.

    `own` are the lists of one's own by their value in the form; None: it can not be read. Of the
    `records` of earlier builds it takes along those that are ticked.
    """
    begun = _begun(form, lists, now, own)
    ticked = tuple(record for record in records if form.ticked(f"{RECORD}{record.key}"))
    return replace(begun, earlier_records=ticked)


def _begun(
    form: TypedForm,
    lists: Sequence[StarterList],
    now: dt.datetime,
    own: Mapping[str, BuildInput | None],
) -> BuildInput:
    name = form.text("name", "The name of the build", needed=True)
    vehicle = form.text("vehicle", "The vehicle")
    starts_on = form.date("starts_on", "Starts on")
    wanted_by = form.date("wanted_by", "Wanted by")
    if starts_on and wanted_by and wanted_by < starts_on:
        form.fault(
            "wanted_by",
            f"Wanted by {wanted_by.isoformat()} lies before it starts on {starts_on.isoformat()}."
            " Correct one of the two.",
        )
    begin_with = form.one_of(
        "begin_with", "What the build begins with", (*(each.key for each in lists), *own, EMPTY)
    )
    build = BuildInput(
        name=name or "Build",
        now=now,
        first_start=FIRST_START.key,
        house_rules=SOONEST_RULES,
        vehicle=vehicle,
        starts_on=starts_on,
        wanted_by=wanted_by,
        tasks=(FIRST_START,),
        shop=Shop(week=OFFERED_WEEK),
    )
    made = own.get(begin_with or "")
    if made is not None:
        return begun_from(
            made,
            name=build.name,
            now=now,
            vehicle=vehicle,
            starts_on=starts_on,
            wanted_by=wanted_by,
        )
    if begin_with in own:
        form.fault("begin_with", NOT_READABLE)
    starter = find_by_key(lists, begin_with)
    return build if starter is None else begun_with(build, starter, starter.usual)
