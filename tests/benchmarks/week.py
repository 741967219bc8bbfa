"""Benchmark rows of the bridge and of the week sheet."""

import datetime as dt
from dataclasses import replace

import httpx

from tests.benchmarks.served import served
from tests.benchmarks.timing import Table, best_of, spread_of
from tests.benchmarks.workshop_builds import NOW, workshop_build
from webapp.build.build_input import BuildInput, Dependency, LogEntry, Task
from webapp.build.checks.input_checks import faults_of
from webapp.build.three_point import ThreePoint
from webapp.build.wish import Wish
from webapp.planning.bridge.bridge import CAUSES, bridge
from webapp.planning.record.attendance import attendance_of

DAY = dt.timedelta(days=1)
LOG_DAYS = 2 * 365
ASKED = 60


def bridge_of_five_causes(table: Table) -> None:
    """A week of wishes, estimates, a lost Saturday, late parts and stray work."""
    earlier, later = a_week_apart(250)
    way = bridge(earlier, later)
    moved = sum(way.minutes_of(cause) != 0 for cause in CAUSES)
    seconds = best_of(3, lambda: bridge(earlier, later))
    what = f"bridge of 250 tasks, {moved} of five causes move it"
    table.row(what, f"{seconds:.2f} s", seconds, "1 s")


def a_week_apart(count: int) -> tuple[BuildInput, BuildInput]:
    """A build and the same a week later, with something of every cause in between."""
    earlier = replace(workshop_build(count), starts_on=NOW.date())
    now = NOW + 7 * DAY
    tuesday, thursday = (NOW + DAY).date(), (NOW + 3 * DAY).date()
    log = (
        LogEntry(task="t0", on=tuesday, hours=3, left=6),
        # not its turn
        LogEntry(task="t9", on=thursday, hours=3, left=2),
    )

    def changed(task: Task) -> Task:
        if task.key in ("t0", "t9"):
            left = {"t0": 6.0, "t9": 2.0}[task.key]
            return replace(task, begun_on=NOW, hours_left=left, outside_days=None)
        if task.key in ("t20", "t40", "t60", "t80", "t100"):
            return replace(task, hours=ThreePoint.certain(task.hours.expected + 3))
        return task

    wish_tasks = tuple(
        Task(key=f"w{i}", name=f"Wish {i}", hours=ThreePoint.certain(2), wish=f"wish{i}")
        for i in range(3)
    )
    later = replace(
        earlier,
        now=now,
        log=log,
        tasks=(*(changed(task) for task in earlier.tasks), *wish_tasks),
        dependencies=(
            *earlier.dependencies,
            *(Dependency(before=task.key, after="start") for task in wish_tasks),
        ),
        wishes=tuple(Wish(key=f"wish{i}", text=f"Wish {i}", logged_on=tuesday) for i in range(3)),
        parts=tuple(
            replace(part, arrives_on=part.arrives_on + 14 * DAY)
            if part.arrives_on is not None and i % 4 == 0
            else part
            for i, part in enumerate(earlier.parts)
        ),
    )
    assert not faults_of(later)
    return earlier, later


def attendance_of_two_years(table: Table) -> None:
    """What a page works out anew after each entry: two years of log, most evenings short."""
    build = two_years_in(500)
    seconds = best_of(3, lambda: attendance_of(build))
    table.row("attendance, 500 tasks, two years of log", f"{seconds * 1e3:.0f} ms", seconds)


def week_sheet_over_http(table: Table) -> None:
    """The sheet of a 500-task build with two years of log, a baseline and a closed week."""
    with served(two_years_in(500)) as server:
        _ask(table, server)


def _ask(table: Table, server: str) -> None:
    with httpx.Client(timeout=60, headers={"Origin": server}, follow_redirects=True) as client:
        build = f"{server}/builds/workshop-build-500"
        assert client.post(f"{build}/week").status_code == 200
        assert client.post(f"{build}/close-week?week=2026-W06").status_code == 200
        first = best_of(1, lambda: client.get(f"{build}/week"))
        middle, tail = spread_of(ASKED, lambda: client.get(f"{build}/week"))
        measured = f"p50 {middle * 1e3:.0f} ms, p95 {tail * 1e3:.0f} ms"
        table.row(
            "week sheet, 500 tasks, two years of log, over HTTP", measured, middle, "p95 100 ms"
        )
        table.row("the same, the first time after a change", f"{first * 1e3:.0f} ms", first)


def two_years_in(count: int) -> BuildInput:
    """A build with 1,000 entries in its log; what was worked on first is finished."""
    build = workshop_build(count)
    start = NOW.date() - LOG_DAYS * DAY
    log: list[LogEntry] = []
    worked_on = build.tasks[: count // 2]
    for i in range(1000):
        task = worked_on[i * len(worked_on) // 1000]
        log.append(LogEntry(task=task.key, on=start + DAY * (i * LOG_DAYS // 1000), hours=1.5))
    last = {entry.task: entry.on for entry in log}
    first = {entry.task: entry.on for entry in reversed(log)}
    tasks = tuple(
        replace(task, begun_on=first[task.key], finished_on=last[task.key])
        if task.key in last
        else task
        for task in build.tasks
    )
    build = replace(build, starts_on=start, tasks=tasks, log=tuple(log))
    assert not faults_of(build)
    return build
