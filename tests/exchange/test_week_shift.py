"""Moving a build by weeks moves every date in it, and nothing else."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import fields, is_dataclass

import pytest

from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.checks.input_checks import faults_of
from webapp.build.three_point import ThreePoint
from webapp.build.wish import Wish
from webapp.exchange.build_document import read_document
from webapp.exchange.week_shift import shift_weeks, weeks_to_present
from webapp.services.seed_builds import demo_build
from webapp.settings import resource_root

NOW = dt.datetime(2026, 2, 9, 18)


def leaves(value: object, path: str = "") -> Iterator[tuple[str, object]]:
    """Every value inside a build that is no dataclass or tuple, with where it stands."""
    if is_dataclass(value):
        for field in fields(value):
            yield from leaves(getattr(value, field.name), f"{path}.{field.name}")
    elif isinstance(value, tuple):
        for place, inner in enumerate(value):
            yield from leaves(inner, f"{path}[{place}]")
    else:
        yield path, value


def the_heron() -> BuildInput:
    document = (resource_root() / "seed_data" / "heron.json").read_bytes()
    build, _ = read_document(document, now=NOW)
    assert build is not None
    return build


def with_every_date() -> BuildInput:
    day = dt.date(2026, 2, 3)
    return BuildInput(
        name="All dates",
        now=NOW,
        first_start="a",
        starts_on=day,
        wanted_by=day,
        kept_order=("a",),
        kept_on=day,
        tasks=(
            Task(
                key="a",
                name="A",
                hours=ThreePoint.certain(1),
                begun_on=dt.datetime(2026, 2, 3, 9, 30),
                finished_on=day,
                set_aside_on=day,
            ),
        ),
        parts=(Part(key="p", name="P", arrives_on=day, promised_on=day, ordered_on=day),),
        wishes=(Wish(key="w", text="W", logged_on=day),),
    )


@pytest.mark.parametrize("build", [the_heron(), with_every_date()], ids=lambda build: build.name)
@pytest.mark.parametrize("weeks", [-3, 0, 41])
def test_every_date_moves_by_whole_weeks_and_nothing_else_changes(
    build: BuildInput, weeks: int
) -> None:
    before, after = dict(leaves(build)), dict(leaves(shift_weeks(build, weeks)))
    assert before.keys() == after.keys()
    for path, value in before.items():
        if isinstance(value, dt.date):
            assert after[path] == value + dt.timedelta(days=7 * weeks), path
        else:
            assert after[path] == value, path


@pytest.mark.parametrize(
    ("now", "weeks"),
    [
        (dt.datetime(2026, 2, 9), 0),  # the Monday of the week of `NOW`
        (dt.datetime(2026, 2, 15, 23, 59), 0),  # its Sunday
        (dt.datetime(2026, 2, 16), 1),
        (dt.datetime(2026, 2, 8, 23, 59), -1),
        (dt.datetime(2027, 1, 4), 47),  # 329 days after Monday 9 February 2026
    ],
)
def test_weeks_run_from_monday_to_sunday(now: dt.datetime, weeks: int) -> None:
    assert weeks_to_present(NOW, now) == weeks


@pytest.mark.parametrize("day", range(7))
def test_the_demo_build_has_no_fault_on_any_day_of_the_week(day: int) -> None:
    now = dt.datetime(2027, 3, 1, 0, 5) + dt.timedelta(days=day)  # from a Monday on
    build = demo_build(now)
    assert build.now.isocalendar()[:2] == now.isocalendar()[:2]
    assert faults_of(build) == ()
