"""What every page of a build has at hand, and what its frame shows."""

import datetime as dt
from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Request

from webapp.build.build_input import BuildInput, Fault, RunningClock
from webapp.build.by_key import find_by_key
from webapp.build.circuit_dependencies import as_planned
from webapp.pages import addresses
from webapp.pages.frame.errors import missing_build
from webapp.pages.words import amounts as words
from webapp.pages.words.earlier_records import whose
from webapp.pages.words.faults import said
from webapp.pages.words.how import How, firm_how, headroom_how, likely_how, together
from webapp.pages.words.missing import SHORT_WORDS
from webapp.pages.words.money import write_money_in
from webapp.pages.words.sizes import write_in
from webapp.pages.words.the_end import call_the_end
from webapp.planning.order.known_date import what_is_missing
from webapp.planning.order.plan import Plan
from webapp.services.background import Answer
from webapp.services.forecast_figures import ForecastFigures
from webapp.services.planned_build import PlannedBuild
from webapp.services.program import Services
from webapp.services.shared_hours import SharedHours
from webapp.services.sharing import planned_at

FORECAST_SECONDS = 0.15
"""So long the first page of a build that was changed waits for its forecast."""
VEHICLE_CHARACTERS = 56
"""So much of the vehicle stands in the frame; all of it on Shop."""
THUMB_PAGES = ("Bench", "Order", "Path", "Wishes", "Week")
"""The pages within thumb's reach on a phone."""


def services_of(request: Request) -> Services:
    services = request.app.state.services
    assert isinstance(services, Services)
    return services


ServicesOf = Annotated[Services, Depends(services_of)]


@dataclass(frozen=True, slots=True, kw_only=True)
class NavLink:
    name: str
    address: str
    current: bool

    @property
    def in_reach(self) -> bool:
        return self.name in THUMB_PAGES


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchNote:
    """What is on the bench, as the frame shows it."""

    task_name: str
    clock: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameView:
    """The frame in strings. `first_start` says it in words where there is no date.

    `first_start_is` says that the date is the likely one: the end of the plan at the person's own
    pace. The brief dates are for a phone. `working` while the forecast is being worked out.
    """

    build_name: str
    vehicle: str
    first_start: str
    first_start_is: str
    first_start_brief: str
    wanted: str | None
    firm: str | None
    firm_brief: str
    firm_odds: str
    headroom: str | None
    working: bool
    how: How | None
    bench: BenchNote | None
    nav: tuple[NavLink, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultNote:
    text: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PageContext:
    """One page of one build at one moment.

    `build` is as stored at `now`, `revision` the number of its last change; `plan` is None
    while `faults` stand in the way.
    `planned` works out the dearer things (cost in days, rule prices) when asked.
    """

    slug: str
    name: str
    now: dt.datetime
    revision: int
    build: BuildInput
    plan: Plan | None
    faults: tuple[Fault, ...]
    planned: PlannedBuild
    forecast: Answer[ForecastFigures | None]
    frame: FrameView
    shared: SharedHours | None = None
    """How its hours are shared with other builds, where they are."""

    @property
    def figures(self) -> ForecastFigures | None:
        """The forecast where there is one at hand."""
        return self.forecast.value

    @property
    def clock(self) -> RunningClock | None:
        """The clock of the task on the bench."""
        return self.build.on_bench

    @property
    def today(self) -> dt.date:
        return self.now.date()

    @property
    def fault_notes(self) -> tuple[FaultNote, ...]:
        return tuple(
            FaultNote(text=said(fault), address=addresses.mend(self.slug, fault.kind, fault.key))
            for fault in self.faults
        )


def page_of(services: Services, slug: str, name: str) -> PageContext:
    """The context of the page called `name` ("Bench", "Order", ...) of the build `slug`.

    Raises
    ------
    Missing
        When there is no such build.
    """
    now = services.settings.now()
    with services.database.reading() as session:
        found = planned_at(services.plans, session, slug, now)
    if found is None:
        raise missing_build(slug)
    revision, planned = found.revision, found.planned
    call_the_end(planned.build)
    write_in(planned.build.units)
    write_money_in(planned.build.currency)
    # The first page after a change waits a moment, so that its date is the one that stays.
    forecast = planned.forecast(wait_seconds=FORECAST_SECONDS if planned.is_new() else 0.0)
    plan = planned.plan()
    return PageContext(
        slug=slug,
        name=name,
        now=now,
        revision=revision,
        build=planned.build,
        plan=plan,
        faults=planned.faults,
        planned=planned,
        forecast=forecast,
        frame=frame_view(slug, name, planned.build, plan, forecast, now),
        shared=found.shared,
    )


def frame_view(
    slug: str,
    page_name: str,
    build: BuildInput,
    plan: Plan | None,
    forecast: Answer[ForecastFigures | None],
    now: dt.datetime,
) -> FrameView:
    """The frame in strings, for the page called `page_name`."""
    at = plan.first_start_at if plan else None
    today = now.date()
    firm, firm_brief, headroom, figures = None, "", None, forecast.value
    if figures is not None:
        firm_at = figures.forecast.at(build.confidence)
        firm, firm_brief = words.day(firm_at, today=today), words.short_day(firm_at, today=today)
        if figures.headroom_hours is not None:
            headroom = words.tenth_hours(figures.headroom_hours)
    return FrameView(
        build_name=build.name,
        vehicle=words.one_line(build.vehicle, VEHICLE_CHARACTERS),
        first_start=first_start_words(build, plan, today),
        first_start_is="likely" if at else "",
        first_start_brief=words.short_day(at, today=today) if at else "",
        wanted=wanted_words(build.wanted_by, at, today),
        firm=firm,
        firm_brief=firm_brief,
        firm_odds=words.odds(build.confidence),
        headroom=headroom,
        working=not forecast.ready,
        how=_how(build, at, figures, today) if at and figures else None,
        bench=bench_note(slug, build, now),
        nav=tuple(
            NavLink(name=name, address=address(slug), current=name == page_name)
            for name, address in (
                ("Bench", addresses.bench),
                ("Order", addresses.order),
                ("Path", addresses.path),
                ("Wishes", addresses.wishes),
                ("Week", addresses.week),
                ("Parts", addresses.parts),
                ("Plumbing", addresses.plumbing),
                ("First start", addresses.first_start),
                ("Shop", addresses.shop),
                ("Find", addresses.find),
            )
        ),
    )


def _how(build: BuildInput, at: dt.datetime, figures: ForecastFigures, today: dt.date) -> How:
    """How the dates and the headroom of the frame were worked out."""
    forecast, draws = figures.forecast, len(figures.forecast.end_wall)
    attendance, firm = figures.factors.attendance.mean, forecast.at(build.confidence)
    parts = [
        likely_how(
            day=words.day(at, today=today),
            reached=forecast.draws_by(at.date()),
            draws=draws,
            level=figures.factors.level.factor,
            attendance=attendance,
            last=figures.factor,
            whose=whose(build),
        ),
        firm_how(
            day=words.day(firm, today=today),
            reached=forecast.draws_by(firm.date()),
            draws=draws,
            confidence=build.confidence,
        ),
    ]
    if build.wanted_by and figures.open_hours is not None and figures.headroom_hours is not None:
        parts.append(
            headroom_how(
                wanted=words.day(build.wanted_by, today=today),
                open_hours=figures.open_hours,
                needed_hours=forecast.shop_hours(build.confidence),
                confidence=build.confidence,
                attendance=attendance,
                headroom=figures.headroom_hours,
            )
        )
    return together("the dates and the headroom", *parts)


def first_start_words(build: BuildInput, plan: Plan | None, today: dt.date) -> str:
    if plan and plan.first_start_at:
        return words.day(plan.first_start_at, today=today)
    first = find_by_key(build.tasks, build.first_start)
    if first is not None and first.finished_on is not None:
        return f"done, {words.day(first.finished_on, today=today)}"
    if first is None and not build.tasks:
        return "no tasks yet"
    if plan is not None and (missing := what_is_missing(as_planned(build))):
        return SHORT_WORDS[missing]
    return "not yet known"


def wanted_words(wanted_by: dt.date | None, at: dt.datetime | None, today: dt.date) -> str | None:
    """The wanted-by date against the plan's: "4 days before Sat 20 June"."""
    if wanted_by is None:
        return None
    wanted = words.day(wanted_by, today=today)
    if at is None:
        return f"wanted by {wanted}"
    spare = words.days_apart(at, wanted_by)
    if spare == 0:
        return f"on the day it is wanted, {wanted}"
    side = "before" if spare > 0 else "after"
    return f"{words.days(abs(spare))} {side} {wanted}"


def bench_note(slug: str, build: BuildInput, now: dt.datetime) -> BenchNote | None:
    clock = build.on_bench
    if clock is None:
        return None
    task = find_by_key(build.tasks, clock.task)
    return BenchNote(
        task_name=task.name if task else clock.task,
        clock=words.running(clock.since, now),
        address=addresses.bench(slug),
    )
