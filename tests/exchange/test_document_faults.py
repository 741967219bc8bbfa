"""Every fault of a document comes at once, by the thing's own name; no fault is told twice."""

import datetime as dt
import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.exchange.documents import small_document, small_task, text_of
from webapp.build.build_input import Fault
from webapp.exchange.build_document import read_document

NOW = dt.datetime(2026, 2, 2, 9)
WEEK = [{"day": "sat", "opens": "09:00", "closes": "17:00"}]


def faults_in(document: object) -> tuple[Fault, ...]:
    return read_document(text_of(document), now=NOW)[1]


def only_fault(document: object) -> Fault:
    faults = faults_in(document)
    assert len(faults) == 1, [fault.text for fault in faults]
    return faults[0]


def spots(document: object) -> set[tuple[str, str, str]]:
    faults = faults_in(document)
    return {(fault.kind, fault.key, fault.field) for fault in faults}


def with_task(**fields: Any) -> dict[str, Any]:
    return small_document(tasks=[small_task("weld", **fields), small_task("start")])


def with_shop(**fields: Any) -> dict[str, Any]:
    return small_document(shop=small_document()["shop"] | fields)


def without(document: dict[str, Any], field: str) -> dict[str, Any]:
    return {name: value for name, value in document.items() if name != field}


# --- the document as a whole ----------------------------------------------------------------


@pytest.mark.parametrize("value", [[], "text", 1, None, True])
def test_what_is_no_object_is_no_build_document(value: object) -> None:
    build, faults = read_document(text_of(value), now=NOW)
    assert build is None
    assert len(faults) == 1


@pytest.mark.parametrize("change", [{"format": "other"}, {"version": 2}, {"version": True}])
def test_another_format_or_version_is_a_fault(change: dict[str, object]) -> None:
    assert only_fault(small_document(**change)).field == next(iter(change))


@pytest.mark.parametrize("field", ["format", "version", "build", "shop"])
def test_what_every_document_has_is_missed(field: str) -> None:
    assert only_fault(without(small_document(), field)).field == field


@pytest.mark.parametrize("field", ["tasks", "dependencies", "parts", "subsystems", "log"])
@pytest.mark.parametrize("value", [{}, "x", 1, True])
def test_a_list_that_is_none_is_one_fault_and_not_one_for_all_that_leans_on_it(
    field: str, value: object
) -> None:
    assert only_fault(small_document(**{field: value})).field == field


@pytest.mark.parametrize("field", ["week", "days", "setups", "stations"])
def test_a_list_of_the_shop_that_is_none_is_one_fault(field: str) -> None:
    document = with_shop(**{field: {"a": 1}})
    document["tasks"][0] |= {"setup": "tig", "stations": {"lift": 1}, "helper": True}
    assert only_fault(document).field == field


@pytest.mark.parametrize("entry", [None, 1, "x", [], [[]]])
def test_an_entry_that_is_no_object_is_named_by_its_place(entry: object) -> None:
    document = small_document()
    document["tasks"].insert(1, entry)
    assert 'number 2 in "tasks"' in only_fault(document).text


# --- fields ---------------------------------------------------------------------------------


def test_an_unknown_field_is_named_with_the_one_it_may_have_meant() -> None:
    fault = only_fault(with_task(in_on_go=True))
    assert (fault.kind, fault.key, fault.field) == ("task", "weld", "in_on_go")
    assert '"in_one_go"' in fault.text


@pytest.mark.parametrize(
    ("place", "unknown", "meant"),
    [
        ("tasks", "hour", "hours_left"),  # it has hours
        ("tasks", "lead", None),
        ("tasks", "space", "space_litres"),
        ("tasks", "days", "outside_days"),
        ("tasks", "Caution", "caution"),
        ("tasks", "location", None),
        ("tasks", "reason", None),
        ("tasks", "description", None),
        ("tasks", "title", None),
        ("dependencies", "wait", "wait_hours"),
        ("dependencies", "after_task", None),  # it has one
        ("dependencies", "weight", None),
        ("parts", "arrived_on", "arrives_on"),
        ("parts", "supplier_name", "supplier"),
        ("parts", "price", None),
        ("parts", "owner", None),
        ("build", "start", "starts_on"),
        ("build", "wanted", "wanted_by"),
        ("build", "station", None),
        ("", "person", None),
        ("", "wish", "wishes"),
        ("", "x" * 500, None),
    ],
)
def test_an_unknown_field_is_likened_to_none_that_is_far_off_or_there(
    place: str, unknown: str, meant: str | None
) -> None:
    document = without(small_document(), "wishes")
    target: Any = document[place] if place else document
    (target[0] if isinstance(target, list) else target)[unknown] = 1
    said = only_fault(document).text
    assert (f'Did you mean "{meant}"?' in said) if meant else ("Known are " in said)


@pytest.mark.parametrize(
    "place", ["", "build", "shop", "week", "setups", "stations", "subsystems", "parts"]
)
def test_nothing_unknown_is_lost_in_silence_anywhere(place: str) -> None:
    document = small_document()
    target: Any = document
    if place in document["shop"]:
        target = document["shop"][place]
    elif place:
        target = document[place]
    (target[0] if isinstance(target, list) else target)["colour"] = "brass"
    assert '"colour"' in only_fault(document).text


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("hours", "2"),
        ("hours", True),
        ("hours", [1, 2]),
        ("hours", [1, 2, "3"]),
        ("hours", {}),
        ("hours", math.nan),
        ("hours", math.inf),
        ("hours", [1, math.nan, 3]),
        ("people", "1"),
        ("people", 1.5),
        ("people", True),
        ("helper", 1),
        ("in_one_go", "yes"),
        ("stations", ["lift"]),
        ("stations", {"lift": "1"}),
        ("stations", {"lift": 0}),
        ("outside_days", "3"),
        ("space_litres", [40]),
        ("space_litres", -1),
        ("name", 5),
        ("name", None),
        ("subsystem", 1),
        ("begun_on", "yesterday"),
        ("begun_on", "2026-02-30"),
        ("begun_on", "2026-01-31T25:00"),
        ("begun_on", "2026-01-31T09:00Z"),
        ("begun_on", "2026-01-31T09:00+01:00"),
        ("begun_on", "2026-01-31T09:00:30"),
        ("begun_on", "31.01.2026"),
        ("begun_on", 20260131),
        ("begun_on", ""),
        ("set_aside_on", "2026-01-31T09:00"),
        ("notes", []),
    ],
)
def test_a_value_of_the_wrong_kind_is_one_fault_of_its_field(field: str, value: object) -> None:
    fault = only_fault(with_task(**{field: value}))
    assert (fault.kind, fault.key, fault.field) == ("task", "weld", field)


def test_a_number_beyond_all_numbers_is_refused() -> None:
    text = text_of(with_task(hours=12345)).replace("12345", "1e999")
    _, faults = read_document(text, now=NOW)
    assert [(fault.key, fault.field) for fault in faults] == [("weld", "hours")]


@pytest.mark.parametrize("field", ["key", "name", "hours"])
def test_what_every_task_has_is_missed(field: str) -> None:
    task = without(small_task("spare", name="Spare"), field)
    document = small_document()
    document["tasks"].append(task)
    fault = only_fault(document)
    assert (fault.kind, fault.field) == ("task", field)
    assert "pare" in fault.text


@pytest.mark.parametrize("blank", ["", "  "])
@pytest.mark.parametrize(
    ("place", "kind", "more"),
    [
        ("tasks", "Task", {"hours": 1}),
        ("subsystems", "Subsystem", {}),
        ("parts", "Part", {}),
        ("wish_sizes", "Wish size", {"hours": 1}),
        ("wishes", "Wish", {"text": "", "logged_on": "2026-02-01"}),
        ("setups", "Setup", {"hours": 1}),
        ("stations", "Station", {}),
    ],
)
def test_what_has_neither_name_nor_key_is_told_by_its_place_in_the_list(
    place: str, kind: str, more: dict[str, Any], blank: str
) -> None:
    document = small_document(wish_sizes=[{"key": "hour", "name": "an hour", "hours": 1}])
    entries = (document["shop"] if place in document["shop"] else document)[place]
    named = {"key": blank} if "text" in more else {"key": blank, "name": blank}
    entries.append(named | more)
    texts = [fault.text for fault in faults_in(document)]
    assert len(texts) == 2  # no key, and no name or text
    assert all(text.startswith(f"{kind} number {len(entries)}: it has no ") for text in texts)


def test_a_fault_of_form_tells_an_entry_with_blank_names_by_its_place() -> None:
    document = small_document()
    document["parts"].append({"key": " ", "name": " ", "cost": "x"})
    assert {fault.text.partition(":")[0] for fault in faults_in(document)} == {"Part number 2"}


@pytest.mark.parametrize("key", [1, None, "", "  ", " weld", "x" * 501, "a\nb"])
def test_a_key_that_is_none_is_one_fault(key: object) -> None:
    document = small_document()
    document["tasks"].append(small_task("spare") | {"key": key})
    assert only_fault(document).field == "key"


@pytest.mark.parametrize(
    "session",
    [
        {"day": "saturday", "opens": "09:00", "closes": "17:00"},
        {"day": 6, "opens": "09:00", "closes": "17:00"},
        {"day": "sat", "opens": "9:00", "closes": "17:00"},
        {"day": "sat", "opens": "09:00", "closes": "24:01"},
        {"day": "sat", "opens": 9, "closes": "17:00"},
        {"day": "sat", "opens": "09:00"},
    ],
)
def test_a_session_that_cannot_be_read_is_one_fault_of_the_week(session: object) -> None:
    fault = only_fault(with_shop(week=[session]))
    assert (fault.kind, fault.field) == ("shop", "week")


@pytest.mark.parametrize(
    "day",
    [
        {"date": "2026-02-14"},
        {"date": "2026-02-14", "opens": "09:00"},
        {"date": "2026-02-14", "closed": False},
        {"date": "2026-02-14", "closed": True, "opens": "09:00", "closes": "12:00"},
        {"date": "2026-02-14", "opens": "9:00", "closes": "12:00"},
        {"date": "2026-02-14", "opens": "09:00", "closes": "12:00", "helper": "no"},
        {"date": "14 February", "closed": True},
        {"closed": True},
    ],
)
def test_a_day_exception_is_closed_or_a_session(day: object) -> None:
    fault = only_fault(with_shop(days=[day]))
    assert (fault.kind, fault.field) == ("shop", "days")


def test_a_task_is_not_blamed_for_a_session_that_could_not_be_read() -> None:
    document = with_shop(week=[WEEK[0] | {"helper": "yes"}])
    document["tasks"][0]["helper"] = True
    assert only_fault(document).field == "week"


def test_a_day_closed_in_one_entry_and_open_in_another_is_a_fault() -> None:
    days = [
        {"date": "2026-02-14", "closed": True},
        {"date": "2026-02-14", "opens": "09:00", "closes": "12:00"},
    ]
    assert "both closed and open" in only_fault(with_shop(days=days)).text


@pytest.mark.parametrize("now", ["2026-02-01", "2026-02-01T09:00Z", "soon", 5])
def test_the_moment_of_a_build_is_a_date_and_a_time(now: object) -> None:
    build = small_document()["build"] | {"now": now}
    assert only_fault(small_document(build=build)).field == "now"


def test_half_a_character_is_refused_wherever_a_text_can_stand() -> None:
    document = with_task(name="x\ud800", setup="\ud800", notes="\udfff")
    document["tasks"][0]["\ud800"] = 1
    for fault in faults_in(document):
        (fault.text + fault.key + fault.field).encode()  # could be sent to a browser
    assert {fault.field for fault in faults_in(document)} == {"", "name", "setup", "notes"}


# --- all at once ----------------------------------------------------------------------------


def test_faults_of_form_and_of_content_come_together() -> None:
    document = small_document(
        version=3,
        tasks=[
            small_task("weld", people="1"),
            small_task("weld", hours=[3, 2, 1]),
            small_task("start", setup="gone"),
        ],
        dependencies=[
            {"before": "weld", "after": "start"},
            {"before": "start", "after": "weld"},
            {"before": "gone", "after": "weld"},
        ],
    )
    found = spots(document)
    # A loop is told of one of its dependencies, whichever.
    loop = found & {("dependency", "weld -> start", ""), ("dependency", "start -> weld", "")}
    assert len(loop) == 1
    assert found - loop == {
        ("build", "", "version"),
        ("task", "weld", "people"),
        ("task", "weld", "hours"),
        ("task", "weld", "key"),
        ("task", "start", "setup"),
        ("dependency", "gone -> weld", "before"),
    }


def test_a_field_twice_in_one_object_is_a_fault_beside_the_others() -> None:
    text = text_of(with_task(people="1")).replace('"name": "Weld"', '"name": "Weld", "name": "W"')
    _, faults = read_document(text, now=NOW)
    assert len(faults) == 2


def test_ten_thousand_tasks_and_a_name_of_a_hundred_thousand_characters_are_answered() -> None:
    tasks = [small_task(f"t{i}", hours="x") for i in range(10_000)]
    faults = faults_in(small_document(tasks=[*tasks, small_task("start", name="n" * 100_000)]))
    # And the dependency and the part that name no task, and that there are too many tasks.
    assert len(faults) == 10_001 + 3
    assert max(len(fault.text) for fault in faults) < 400


ANY_JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=8,
)


@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_whatever_stands_in_a_field_is_answered(data: st.DataObject) -> None:
    document = small_document(log=[{"task": "weld", "on": "2026-02-01", "hours": 1}])
    spot: Any = document
    while True:
        place = data.draw(
            st.sampled_from(sorted(spot) if isinstance(spot, dict) else range(len(spot)))
        )
        inner = spot[place]
        if not isinstance(inner, dict | list) or not inner or data.draw(st.booleans()):
            break
        spot = inner
    spot[place] = data.draw(ANY_JSON)
    _, faults = read_document(json.dumps(document), now=NOW)
    for fault in faults:
        assert fault.text
        (fault.text + fault.key + fault.field).encode()


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=60) | st.text(max_size=60))
def test_whatever_is_handed_in_is_answered(text: str | bytes) -> None:
    build, faults = read_document(text, now=NOW)
    assert faults
    assert build is None or build.tasks == ()
