"""Reading what was typed: numbers, hours, dates and times, with a sentence for what is none."""

import datetime as dt

import pytest

from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import parse_date, parse_day_minute, parse_decimal, parse_hours


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("2.5", 2.5),
        ("2,5", 2.5),
        ("2:30", 2.5),  # 2 h + 30/60 h
        ("0:45", 0.75),
        (" 3 h ", 3.0),
        ("1.5 hours", 1.5),
        (".5", 0.5),
        ("0", 0.0),
        ("-1", -1.0),
    ],
)
def test_hours_are_read_as_a_tired_person_types_them(text: str, hours: float) -> None:
    assert parse_hours(text) == hours


@pytest.mark.parametrize(
    "text",
    [
        "",
        "h",
        "abc",
        "nan",
        "inf",
        "-inf",
        "1e400",
        "1e3",
        "0x10",
        "1_000",
        "2:75",
        "2:5",
        "٣",
        "1.2.3",
        "2.5,1",
        "9" * 400,
        "½",
    ],
)
def test_what_is_no_number_of_hours_is_none(text: str) -> None:
    assert parse_hours(text) is None
    assert parse_decimal(text) is None


@pytest.mark.parametrize(
    ("text", "minute"),
    [("18:30", 1110), ("18.30", 1110), ("1830", 1110), ("9", 540), ("24:00", 1440), ("0:00", 0)],
)
def test_times_of_day_are_minutes_after_midnight(text: str, minute: int) -> None:
    assert parse_day_minute(text) == minute


@pytest.mark.parametrize("text", ["", "24:01", "25:00", "9:60", "noon", "-1:00", "18:3"])
def test_what_is_no_time_of_day_is_none(text: str) -> None:
    assert parse_day_minute(text) is None


@pytest.mark.parametrize(
    "text", ["", "2026-02-30", "1949-12-31", "2151-01-01", "2.3.2026", "2026-3-2", "20260302"]
)
def test_what_is_no_date_in_the_planned_years_is_none(text: str) -> None:
    assert parse_date(text) is None


def test_a_date_is_year_month_day() -> None:
    assert parse_date("2026-03-02") == dt.date(2026, 3, 2)


def test_every_fault_names_the_thing_and_the_remedy_and_nothing_typed_is_lost() -> None:
    form = TypedForm({"name": [" "], "hours": ["1e400"], "on": ["yesterday"], "people": ["two"]})
    form.text("name", "The name", needed=True)
    form.hours("hours", "Weld the neck")
    form.date("on", "Weld the neck, begun on")
    form.whole("people", "Weld the neck, people", at_least=0, at_most=20)
    assert [fault.field for fault in form.faults] == ["name", "hours", "on", "people"]
    assert form.faults_at("hours") == (
        "Weld the neck: “1e400” can not be read. Type hours like 2.5, 2,5 or 2:30.",
    )
    assert form.typed("hours") == "1e400"
    assert form.typed("on") == "yesterday"


def test_faults_stand_in_the_order_of_the_fields_on_the_page() -> None:
    form = TypedForm({"first": ["x"], "second": ["x"]})
    form.fault("", "of no field")
    form.date("second", "The second")
    form.date("first", "The first")
    assert [fault.field for fault in form.faults] == ["first", "second", ""]


def test_negative_and_endless_numbers_are_refused_each_in_its_own_words() -> None:
    form = TypedForm({"a": ["-2"], "b": ["10001"], "c": ["-0"]})
    assert form.hours("a", "Task A") is None
    assert form.hours("b", "Task B") is None
    assert form.hours("c", "Task C") == 0
    assert "less than nothing" in form.faults_at("a")[0]
    assert "10,000 is the most" in form.faults_at("b")[0]


def test_invisible_characters_are_dropped_and_long_entries_are_refused_but_kept() -> None:
    form = TypedForm({"name": ["Weld\x00 the\x07 neck"], "long": ["x" * 100_000]})
    assert form.text("name", "The name") == "Weld the neck"
    form.text("long", "The long one")
    assert "100,000 characters; 500 is the most" in form.faults_at("long")[0]
    assert form.typed("long") == "x" * 100_000


def test_of_a_repeated_field_the_last_counts_and_all_can_be_had() -> None:
    form = TypedForm({"name": ["one", "two"]})
    assert form.typed("name") == "two"
    assert form.chosen("name") == ("one", "two")
    assert form.typed("missing") == ""


def test_rows_are_found_by_number_whatever_else_was_sent() -> None:
    form = TypedForm({"name-2": [""], "name-10": [""], "name-x": [""], "name-9999999": [""]})
    assert form.row_numbers("name") == (2, 10)
