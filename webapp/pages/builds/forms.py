"""Entering a new build: name, vehicle, dates, and what it begins with."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace

from webapp.build.build_input import BuildInput, Shop, Task, ThreePoint
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.shop.hours_forms import OFFERED_WEEK

BEGIN_WITH = ("starter", "empty")
FIRST_START = Task(key="first-start", name="First start", hours=ThreePoint.certain(0))
"""The task of no hours that a build which begins empty is planned towards."""


def new_build_values(today: dt.date, begin_with: str) -> Mapping[str, Sequence[str]]:
    """What the form of a new build shows when it is opened."""
    begins = begin_with if begin_with in BEGIN_WITH else BEGIN_WITH[0]
    return {"starts_on": (today.isoformat(),), "begin_with": (begins,)}


def read_new_build(form: TypedForm, starter: BuildInput, now: dt.datetime) -> BuildInput:
    """The new build as the form says, on the starter list or empty with a week offered."""
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
    begin_with = form.one_of("begin_with", "What the build begins with", BEGIN_WITH)
    if begin_with == "starter":
        build = starter
    else:
        build = BuildInput(
            name="",
            now=now,
            first_start=FIRST_START.key,
            tasks=(FIRST_START,),
            shop=Shop(week=OFFERED_WEEK),
        )
    return replace(
        build,
        name=name or "Build",
        now=now,
        vehicle=vehicle,
        starts_on=starts_on,
        wanted_by=wanted_by,
    )
