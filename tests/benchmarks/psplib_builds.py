"""PSPLIB instances (Kolisch & Sprecher 1997) read as builds, the way a person would enter them.

Activities are tasks that run by themselves (no people) in a shop open day and night; renewable
resources are stations; a period is an hour.
"""

import csv
import datetime as dt
import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from webapp.build.build_input import BuildInput, Dependency, StationNeed, Task
from webapp.build.shop import DayHours, Shop, Station, WeekSession
from webapp.build.three_point import ThreePoint

BESIDE_THE_PROJECT = Path(__file__).resolve().parents[3] / "shared" / "psplib"
FOLDER = Path(os.environ.get("PSPLIB_FOLDER", BESIDE_THE_PROJECT))
"""Not part of the project: what needs it is skipped with a word where it is missing."""
NOW = dt.datetime(2026, 1, 5)
DAY_AND_NIGHT = tuple(
    WeekSession(weekday=day, hours=DayHours(opens_minute=0, closes_minute=1440)) for day in range(7)
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """A resource-constrained project: one row per activity, numbered from 0.

    needs : units of each resource per activity; capacities : units of each resource
    """

    hours: tuple[int, ...]
    successors: tuple[tuple[int, ...], ...]
    needs: tuple[tuple[int, ...], ...]
    capacities: tuple[int, ...]


def read_instance(text: str) -> Instance:
    """The project of a single-mode .sm file."""
    lines = text.splitlines()
    numbers = {title: _numbers_after(lines, title) for title in ("PRECEDENCE", "REQUESTS/DUR")}
    capacities = _numbers_after(lines, "RESOURCEAVAILABILITIES")[0]
    return Instance(
        hours=tuple(row[2] for row in numbers["REQUESTS/DUR"]),
        successors=tuple(tuple(j - 1 for j in row[3:]) for row in numbers["PRECEDENCE"]),
        needs=tuple(tuple(row[3:]) for row in numbers["REQUESTS/DUR"]),
        capacities=tuple(capacities),
    )


def _numbers_after(lines: Sequence[str], title: str) -> list[list[int]]:
    """The rows of numbers under a heading, up to the next line of stars."""
    at = next(i for i, line in enumerate(lines) if line.startswith(title))
    rows = []
    for line in lines[at + 1 :]:
        if line.startswith("*"):
            break
        words = line.split()
        if words and all(word.isdecimal() for word in words):
            rows.append([int(word) for word in words])
    return rows


def build_of_instance(name: str, instance: Instance) -> BuildInput:
    """The project as a build whose first start is its last activity."""
    count = len(instance.hours)
    return BuildInput(
        name=name,
        now=NOW,
        first_start=f"a{count - 1}",
        shop=Shop(
            week=DAY_AND_NIGHT,
            stations=tuple(
                Station(key=f"r{k}", name=f"Resource {k}", count=units)
                for k, units in enumerate(instance.capacities)
            ),
        ),
        tasks=tuple(
            Task(
                key=f"a{i}",
                name=f"Activity {i}",
                hours=ThreePoint.certain(instance.hours[i]),
                people=0,
                stations=tuple(
                    StationNeed(station=f"r{k}", count=units)
                    for k, units in enumerate(instance.needs[i])
                    if units
                ),
            )
            for i in range(count)
        ),
        dependencies=tuple(
            Dependency(before=f"a{i}", after=f"a{j}")
            for i in range(count)
            for j in instance.successors[i]
        ),
    )


def instances(prefix: str) -> list[tuple[str, Instance, int | None, int]]:
    """Name, project, published lower bound and best known makespan; () without the folder."""
    if not (FOLDER / "best-known.csv").exists():
        return []
    with (FOLDER / "best-known.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["instance"].startswith(prefix)]
    return [
        (
            row["instance"].removesuffix(".sm"),
            read_instance((FOLDER / row["instance"]).read_text(encoding="latin-1")),
            int(row["lower_bound"]) if row["lower_bound"] else None,
            int(row["best_known"]),
        )
        for row in rows
        if (FOLDER / row["instance"]).exists()
    ]
