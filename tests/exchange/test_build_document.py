"""The build document is read as its fields are defined, and written so that it reads the same."""

import datetime as dt
import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.build.random_builds import builds
from tests.exchange.documents import small_document, small_task, text_of
from webapp.build.build_input import BuildInput, Part, StationNeed, Task
from webapp.build.three_point import ThreePoint
from webapp.exchange.build_document import read_document, write_document
from webapp.settings import resource_root

NOW = dt.datetime(2026, 3, 1, 12)
SEEDS = sorted((resource_root() / "seed_data").glob("*.json"))

FIELDS_OF_A_TASK = (
    "subsystem",
    "setup",
    "people",
    "helper",
    "in_one_go",
    "stations",
    "outside_days",
    "space_litres",
    "begun_on",
    "finished_on",
    "hours_left",
)
"""Those that may be left out, and that are always written."""


def read(document: object) -> BuildInput:
    build, faults = read_document(text_of(document), now=NOW)
    assert build is not None
    assert faults == (), [fault.text for fault in faults]
    return build


def read_task(**fields: Any) -> Task:
    tasks = [small_task("weld", **fields), small_task("start")]
    return read(small_document(tasks=tasks)).tasks[0]


def read_part(**fields: Any) -> Part:
    part = {"key": "p1", "name": "Bracket", "for": ["weld"]} | fields
    return read(small_document(parts=[part])).parts[0]


# --- written and read again -----------------------------------------------------------------


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(builds())
def test_a_written_build_reads_the_same(build: BuildInput) -> None:
    again, faults = read_document(write_document(build), now=NOW)
    if not faults:  # a first start that is set aside is one
        assert again == build


@settings(max_examples=150, deadline=None)
@given(
    name=st.text(
        st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), min_size=1, max_size=60
    ).filter(lambda text: bool(text.strip())),
    notes=st.text(st.characters(exclude_categories=["Cc", "Cs"], include_characters="\n\t")),
    hours=st.floats(0, 10_000),
)
def test_any_name_text_and_number_survives(name: str, notes: str, hours: float) -> None:
    plain = read(small_document())
    key = name.strip()
    weld = replace(
        plain.tasks[0], name=name, notes=notes, caution=notes, hours=ThreePoint.certain(hours)
    )
    build = replace(
        plain,
        name=name,
        tasks=(weld, replace(plain.tasks[1], key=f"~{key}")),
        first_start=f"~{key}",
        dependencies=(),
    )
    assert read_document(write_document(build), now=NOW) == (build, ())


@pytest.mark.parametrize("path", SEEDS, ids=lambda path: path.stem)
def test_seed_documents_have_no_fault_and_survive(path: Path) -> None:
    build, faults = read_document(path.read_bytes(), now=NOW)
    assert faults == ()
    assert build is not None
    assert read_document(write_document(build), now=NOW) == (build, ())


def test_a_written_document_has_one_task_in_each_line() -> None:
    lines = write_document(read(small_document())).splitlines()
    assert sum('"key": "weld"' in line and '"name"' in line for line in lines) == 1
    assert [line for line in lines if '"key": "weld"' in line] != [
        line for line in lines if '"key": "start"' in line
    ]


def test_a_written_task_has_every_field_of_the_format() -> None:
    written = json.loads(write_document(read(small_document())))
    assert set(written["tasks"][0]) >= {"key", "name", "hours", *FIELDS_OF_A_TASK}


# --- what the fields mean -------------------------------------------------------------------


def test_hours_are_one_number_or_three() -> None:
    assert read_task(hours=2).hours == ThreePoint.certain(2)
    expected = ThreePoint(optimistic=2, most_likely=3, pessimistic=6)
    assert read_task(hours=[2, 3, 6]).hours == expected


def test_outside_work_may_leave_its_hours_out() -> None:
    away = small_task("weld", outside_days=4)
    del away["hours"]
    assert read(small_document(tasks=[away, small_task("start")])).tasks[0].outside_days == 4
    assert read_task(hours=None, outside_days=4).hours == ThreePoint.certain(0)


def test_stations_are_so_many_of_each() -> None:
    assert read_task(stations={"lift": 1}).stations == (StationNeed(station="lift", count=1),)


@pytest.mark.parametrize(
    ("written", "out"), [(None, ()), ("tig", ("tig",)), (["saw", "tig"], ("saw", "tig"))]
)
def test_what_is_out_is_one_key_or_several(written: object, out: tuple[str, ...]) -> None:
    document = small_document()
    setups = [{"key": key, "name": key, "hours": 0.5} for key in ("tig", "saw")]
    document["shop"] |= {"people": 2, "setups": setups, "setup_out": written}
    build = read(document)
    assert build.shop.setups_out == out
    again = json.loads(write_document(build))
    assert again["shop"]["setup_out"] == written


@pytest.mark.parametrize("written", [7, {"tig": 1}, ["tig", 7]])
def test_what_is_out_and_is_no_key_is_told_and_the_rest_is_read(written: object) -> None:
    document = small_document()
    document["shop"]["setup_out"] = written
    build, faults = read_document(text_of(document), now=NOW)
    assert build is None or build.shop.setups_out == ()
    (fault,) = faults
    assert (fault.kind, fault.field) == ("shop", "setup_out")
    assert '"setup_out" must be' in fault.text


def test_a_date_stays_a_date_and_a_date_with_a_time_keeps_it() -> None:
    assert read_part(arrives_on="2026-03-02").arrives_on == dt.date(2026, 3, 2)
    arrival = read_part(arrives_on="2026-03-02T14:30").arrives_on
    assert arrival == dt.datetime(2026, 3, 2, 14, 30)
    assert read_part(arrives_on="2026-03-02T14:30:00").arrives_on == arrival


def test_null_means_left_out() -> None:
    fields = [*FIELDS_OF_A_TASK, "set_aside_on", "caution", "notes"]
    assert read_task(**dict.fromkeys(fields)) == read_task()
    lists = ["wishes", "log", "parts", "subsystems"]
    assert read(small_document(**dict.fromkeys(lists))).parts == ()


def test_a_document_without_a_moment_is_planned_from_the_present() -> None:
    build = {"name": "The Heron", "first_start": "start"}
    assert read(small_document(build=build)).now == NOW
    assert read(small_document()).now == dt.datetime(2026, 2, 2, 9)


def test_several_entries_for_one_day_are_several_sessions_of_it() -> None:
    shop = small_document()["shop"] | {
        "days": [
            {"date": "2026-02-20", "opens": "08:00", "closes": "12:00"},
            {"date": "2026-02-14", "closed": True},
            {"date": "2026-02-20", "opens": "13:00", "closes": "24:00", "helper": True},
        ]
    }
    days = read(small_document(shop=shop)).shop.days
    assert [(day.date.isoformat(), len(day.sessions)) for day in days] == [
        ("2026-02-20", 2),
        ("2026-02-14", 0),
    ]
    assert days[0].sessions[1].closes_minute == 1440
    assert [hours.helper for hours in days[0].sessions] == [False, True]


def test_the_days_of_the_week_are_read_from_monday() -> None:
    names = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
    week = [{"day": day, "opens": "00:00", "closes": "24:00"} for day in names]
    shop = small_document()["shop"] | {"week": week}
    sessions = read(small_document(shop=shop)).shop.week
    assert [session.weekday for session in sessions] == list(range(7))


def test_a_whole_number_may_be_written_with_a_point() -> None:
    assert read_task(people=1.0).people == 1
