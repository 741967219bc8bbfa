"""The planner against PSPLIB (Kolisch & Sprecher 1997, European J. Operational Research 96:205).

The instances are an open research data set that is not part of this tree: the tests look for it
in `psplib/` beside the tree or where PSPLIB_FOLDER says, and are skipped by name without it.
"""

import csv
import os
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.build.builds import build_of, task
from tests.outside.networks import dates_of
from webapp.build.build_input import BuildInput, StationNeed
from webapp.build.shop import Station
from webapp.planning.order.job_order import make_plan
from webapp.planning.proof.plan_checks import violations

TREE = Path(__file__).resolve().parents[2]
FOLDER = Path(os.environ.get("PSPLIB_FOLDER", TREE.parent / "shared" / "psplib"))

pytestmark = pytest.mark.skipif(
    not (FOLDER / "best-known.csv").exists(), reason=f"no PSPLIB instances in {FOLDER}"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """One file: its build and the published length by dependencies alone (MPM-Time)."""

    build: BuildInput
    mpm_hours: int


def numbers_after(lines: list[str], heading: str, skip: int) -> list[list[int]]:
    """The rows of numbers in a section, its heading and column heads skipped."""
    first = next(i for i, line in enumerate(lines) if line.startswith(heading)) + skip
    rows = []
    for line in lines[first:]:
        if line.startswith("*"):
            break
        rows.append([int(word) for word in line.split()])
    return rows


def read_instance(path: Path) -> Instance:
    """An instance as a build: a unit of time is an hour, resources are stations, no hands."""
    lines = path.read_text().splitlines()
    successors = {row[0]: row[3:] for row in numbers_after(lines, "PRECEDENCE", 2)}
    requests = {row[0]: row[2:] for row in numbers_after(lines, "REQUESTS", 3)}
    (capacities,) = numbers_after(lines, "RESOURCEAVAILABILITIES", 2)
    tasks = [
        task(
            str(job),
            hours,
            people=0,
            stations=tuple(
                StationNeed(station=f"r{k}", count=count) for k, count in enumerate(use) if count
            ),
        )
        for job, (hours, *use) in requests.items()
    ]
    build = build_of(
        tasks,
        [(str(job), str(after)) for job, afters in successors.items() for after in afters],
        first_start=str(max(requests)),
        stations=tuple(
            Station(key=f"r{k}", name=f"R{k + 1}", count=c) for k, c in enumerate(capacities)
        ),
    )
    return Instance(build=build, mpm_hours=numbers_after(lines, "PROJECT INFO", 2)[0][-1])


def best_known() -> dict[str, int]:
    """The published best length of each j30 instance; all of them are proved optima."""
    with (FOLDER / "best-known.csv").open(newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["instance"].startswith("j30")]
    return {row["instance"]: int(row["best_known"]) for row in rows}


def test_dependencies_alone_give_the_published_time_of_every_instance() -> None:
    """MPM-Time of the file's head: the length with unlimited resources."""
    for name in best_known():
        instance = read_instance(FOLDER / name)
        last = dates_of(instance.build)[instance.build.first_start or ""]
        assert (name, last.earliest_end) == (name, instance.mpm_hours * 3600)


def test_plans_of_every_instance_obey_and_are_never_better_than_the_optimum() -> None:
    """Mean over the optimum at most 10 %: stated for one pass of rules that do not look ahead.

    One pass of a latest-finish rule is 4.7 % above it (measured, no source). The optimum of
    j301_1 is 43 (read in the sdist of the PyPI package psplib).
    """
    over = []
    assert best_known()["j301_1.sm"] == 43
    for name, optimum in best_known().items():
        build = read_instance(FOLDER / name).build
        plan = make_plan(build)
        assert (name, violations(build, plan)) == (name, ())
        assert plan.first_start_shop_hours is not None
        assert plan.first_start_shop_hours >= optimum, name
        over.append(plan.first_start_shop_hours / optimum - 1)
    assert len(over) == 48
    assert sum(over) / len(over) <= 0.10
