"""The two builds as they are on the first evening: one of 500 tasks, one from a list."""

import datetime as dt
import random
from dataclasses import replace

from tests.benchmarks.workshop_builds import workshop_build
from webapp.build.build_input import BuildInput, Dependency, Part
from webapp.build.checks.input_checks import faults_of
from webapp.build.shop import DayHours as Hours
from webapp.build.shop import Shop, WeekSession
from webapp.build.starter.fitting import begun_with
from webapp.services.seed_builds import shipped_story, starter_list

BEGINS = dt.datetime(2026, 2, 9, 18)
"""A Monday."""
WEEKS = 52
TASKS = 500
EVENING = Hours(opens_minute=18 * 60 + 30, closes_minute=21 * 60 + 30)
SATURDAY = Hours(opens_minute=9 * 60, closes_minute=15 * 60, helper=True)
TUESDAY_ON, THURSDAY_ON, SATURDAY_ON = 1, 3, 5


def year_builds() -> tuple[BuildInput, BuildInput]:
    """A build on Tuesdays and Saturdays, and one on Thursdays: nobody is promised twice."""
    large = replace(
        _large_build(),
        wanted_by=BEGINS.date() + dt.timedelta(weeks=WEEKS + 26),
        currency="€",
        money_limit=12_000.0,
    )
    small = replace(_from_list(), wanted_by=BEGINS.date() + dt.timedelta(weeks=WEEKS), currency="€")
    builds = (
        _open_on(large, (TUESDAY_ON, EVENING), (SATURDAY_ON, SATURDAY)),
        _open_on(small, (THURSDAY_ON, EVENING)),
    )
    for build in builds:
        assert not faults_of(build), faults_of(build)
    return builds


def _open_on(build: BuildInput, *sessions: tuple[int, Hours]) -> BuildInput:
    """The build with a shop week; what does not fit into its evenings is cut in two there."""
    week = tuple(WeekSession(weekday=day, hours=hours) for day, hours in sessions)
    longest = max(hours.closes_minute - hours.opens_minute for _, hours in sessions) / 60
    has_helper = any(hours.helper for _, hours in sessions)
    tasks = tuple(
        replace(
            task,
            helper=task.helper and has_helper,
            in_one_go=task.in_one_go and task.hours.expected < longest - 1,
        )
        for task in build.tasks
    )
    return replace(build, tasks=tasks, shop=replace(build.shop, week=week))


def _large_build() -> BuildInput:
    """The Heron as it was begun, with what is plumbed in it, amid the work of a larger build."""
    heron = shipped_story().baseline
    more = workshop_build(TASKS - len(heron.tasks) + 1)
    tasks = tuple(task for task in more.tasks if task.key != more.first_start)
    end = heron.first_start
    assert end is not None
    links = tuple(
        Dependency(
            before=link.before,
            after=end if link.after == more.first_start else link.after,
            wait_hours=link.wait_hours,
        )
        for link in more.dependencies
    )
    return replace(
        heron,
        name="The Marlin",
        now=BEGINS,
        starts_on=BEGINS.date(),
        shop=Shop(
            setups=(*heron.shop.setups, *more.shop.setups),
            stations=heron.shop.stations,
        ),
        subsystems=(*heron.subsystems, *more.subsystems),
        tasks=(*heron.tasks, *tasks),
        dependencies=(*heron.dependencies, *links),
        parts=(*(_priced(part, part.key) for part in (*heron.parts, *more.parts)),),
    )


def _from_list() -> BuildInput:
    """A build from the starter list, its parts to be ordered one by one."""
    listed = starter_list("swap")
    assert listed is not None
    empty = BuildInput(name="The Gull", now=BEGINS, first_start=None, starts_on=BEGINS.date())
    build = begun_with(empty, listed, listed.usual)
    return replace(build, parts=tuple(_priced(part, part.key) for part in build.parts))


def _priced(part: Part, seed: str) -> Part:
    """A part with a price and a lead time, ordered by nobody yet."""
    chance = random.Random(seed)
    return replace(
        part,
        cost=float(chance.randrange(5, 300)),
        lead_days=float(chance.randrange(2, 25)),
        arrives_on=None,
        ordered_on=None,
        promised_on=None,
        arrived=chance.random() < 0.4,
    )
