"""Tasks, parts and the shop over HTTP: what is typed is stored, or answered and kept."""

import datetime as dt
import re
from dataclasses import replace

import pytest

from tests.benchmarks.forms_found import forms_of
from tests.pages.conftest import HERON, NOW, Shop
from tests.pages.form_build import small_build
from webapp.build.build_input import Dependency, Part, Task
from webapp.build.precedence import needed_for
from webapp.build.three_point import ThreePoint
from webapp.exchange.build_document import write_document


def test_an_edited_task_is_stored_and_the_page_tells_what_it_did(shop: Shop) -> None:
    task = next(task for task in shop.stored().tasks if task.key == "rad_bracket")
    fields = {
        "name": task.name,
        "well": "",
        "likely": "8",
        "fights": "",
        "certain": "on",
        "begun_on": "2026-02-07",
        "hours_left": "7,5",
    }
    status, text = shop.post("tasks/rad_bracket", **fields)
    assert status == 200
    assert "Saved. First start moves " in text
    stored = next(task for task in shop.stored().tasks if task.key == "rad_bracket")
    assert stored.hours == ThreePoint.certain(8)
    assert stored.hours_left == 7.5


def test_faults_of_a_task_stand_beside_their_fields_and_the_typed_stays(shop: Shop) -> None:
    before = shop.stored()
    fields = {"name": "", "likely": "x", "finished_on": "2026-02-31", "before-0": "Gearbox"}
    status, text = shop.post("tasks/rad_bracket", **fields)
    assert status == 422
    there = sum(link.after == "rad_bracket" for link in before.dependencies)
    for name in ("name", "likely", "finished_on", f"before-{there}"):
        assert f'id="{name}-wrong"' in text
        assert f'href="#{name}"' in text
    assert 'value="2026-02-31"' in text
    assert shop.stored() == before


def test_more_rows_are_given_without_losing_what_was_typed(shop: Shop) -> None:
    status, text = shop.post("tasks/rad_bracket", name="Half typed", likely="x", more="1")
    assert status == 200
    assert 'value="Half typed"' in text
    status, text = shop.post("tasks/new", **{"name-0": "Half typed", "more": "1"})
    assert status == 200
    assert 'value="Half typed"' in text
    assert 'name="name-1"' in text


def test_first_start_can_not_be_removed_and_other_tasks_can(shop: Shop) -> None:
    answer = shop.client.post("/builds/the-heron/remove-task?key=first_start")
    assert answer.status_code == 422
    assert "is first start" in answer.text
    links = shop.stored().dependencies
    before = {link.before for link in links if link.after == "rad_bracket"}
    after = {link.after for link in links if link.before == "rad_bracket"}
    assert shop.removed("remove-task?key=rad_bracket", keep_order="on")[0] == 200
    build = shop.stored()
    assert "rad_bracket" not in {task.key for task in build.tasks}
    links_now = {(link.before, link.after) for link in build.dependencies}
    assert before
    assert after
    assert {(one, two) for one in before for two in after} <= links_now


@pytest.mark.parametrize("key", ["new", "..", "a/b", "a?b#c", "50% done", "naïve"])
def test_a_task_and_a_part_with_any_key_have_a_page(bare: Shop, key: str) -> None:
    build = small_build()
    task = Task(key=key, name="The odd one", hours=ThreePoint.certain(1))
    build = replace(
        build,
        tasks=(*build.tasks, task),
        dependencies=(*build.dependencies, Dependency(before=key, after="start")),
        parts=(*build.parts, Part(key=key, name="An odd part", serves=(key,))),
    )
    bare.client.post("/builds/import", data={"document": write_document(build)})
    for page, name in (("tasks", "The odd one"), ("parts", "An odd part")):
        listed = bare.client.get(f"/builds/the-heron/{page}").text
        address = listed.split(f">{name}<")[0].rsplit('href="', 1)[1].split('"')[0]
        address = address.replace("&amp;", "&")
        shown = bare.client.get(address)
        assert shown.status_code == 200
        assert f'value="{name}"' in shown.text
        saved = bare.client.post(address, data={"name": f"{name} again", "likely": "2"})
        assert saved.status_code == 200
        assert f"{name} again" in saved.text


def test_a_date_is_closed_opened_and_given_back(shop: Shop) -> None:
    date = dt.date(2026, 2, 12)
    shop.post("shop/day", date=date.isoformat(), closed="on")
    assert next(day for day in shop.stored().shop.days if day.date == date).sessions == ()
    fields = {"date": date.isoformat(), "closed": "", "opens-0": "8", "closes-0": "12.30"}
    shop.post("shop/day", **fields)
    (hours,) = next(day for day in shop.stored().shop.days if day.date == date).sessions
    assert (hours.opens_minute, hours.closes_minute) == (480, 750)
    shop.post("shop/usual-hours", date=date.isoformat())
    assert date not in {day.date for day in shop.stored().shop.days}


def test_a_faulty_shop_week_keeps_what_was_typed_and_leaves_the_other_forms_as_stored(
    shop: Shop,
) -> None:
    before = shop.stored()
    fields = {"opens-5-0": "9:00", "closes-5-0": "noon", "opens-0-0": "20", "closes-0-0": "18"}
    status, text = shop.post("shop/week", **fields)
    assert status == 422
    assert 'value="noon"' in text
    assert re.search(r'id="week-closes-5-\d-wrong"', text)
    assert "Another day that is different" in text
    assert shop.stored() == before


def test_a_week_without_hours_is_refused_with_the_remedy(shop: Shop) -> None:
    action = "/builds/the-heron/shop/week"
    forms = forms_of(shop.client, "/builds/the-heron/shop")
    week = next(form for form in forms if form.action == action)
    empty = {name: texts if name == "shown" else [""] for name, texts in week.sent.items()}
    answer = shop.client.post(action, data=empty)
    status, text = answer.status_code, answer.text
    assert status == 422
    assert "no hours" in text


def test_two_people_name_two_setups_that_are_out_and_the_bench_offers_the_work_of_both(
    shop: Shop,
) -> None:
    keys = [setup.key for setup in shop.stored().shop.setups][:2]
    assert "setup_out-1" not in shop.client.get("/builds/the-heron/shop/setups").text
    shop.post("shop/people", people="2")
    shop.post("shop/out", **{"setup_out": keys[0], "setup_out-1": keys[1]})
    assert shop.stored().shop.setups_out == (keys[1], keys[0])
    assert "Another that is out" in shop.client.get("/builds/the-heron/shop/setups").text
    assert shop.client.get("/builds/the-heron/").text.count("While it is out") == 2


def test_people_setups_stations_and_subsystems_are_stored(shop: Shop) -> None:
    shop.post("shop/people", people="2")
    shop.post("shop/out", setup_out="none")
    shop.post("shop/setups", **{"key-0": "", "name-0": "Lathe", "hours-0": "0:15"})
    shop.post("shop/stations", **{"key-0": "", "name-0": "Bench", "count-0": "2"})
    fields = {"key-0": "", "name-0": "Lights", "medium-0": "electrical"}
    shop.post("shop/subsystems", **fields)
    build = shop.stored()
    assert (build.shop.people, build.shop.setups_out) == (2, ())
    assert build.shop.setups[-1].hours == 0.25
    assert build.shop.stations[-1].count == 2
    assert build.subsystems[-1].medium == "electrical"


def test_a_setup_that_tasks_need_stays(shop: Shop) -> None:
    fields = {"key-0": "tig", "name-0": "TIG welder out", "hours-0": "0.75", "remove-0": "on"}
    status, text = shop.post("shop/setups", **fields)
    assert status == 422
    assert "is still needed by the task" in text


def test_a_part_is_here_with_one_press_and_goes_after_a_question(shop: Shop) -> None:
    part = next(part for part in shop.stored().parts if not part.arrived)
    status, _ = shop.post("part-here", key=part.key)
    assert status == 200
    assert next(each for each in shop.stored().parts if each.key == part.key).arrived
    question = shop.client.get(f"/builds/the-heron/remove-part?key={part.key}")
    assert f"Remove the part “{part.name}”?" in question.text
    assert shop.removed(f"remove-part?key={part.key}")[0] == 200
    assert part.key not in {each.key for each in shop.stored().parts}


def test_an_uploaded_document_is_read_and_a_deleted_build_is_gone(bare: Shop) -> None:
    files = {"file": ("heron.json", HERON.read_bytes(), "application/json")}
    answer = bare.client.post("/builds/import", data={"document": ""}, files=files)
    assert answer.status_code == 200
    assert "Delete the build “The Heron”?" in bare.client.get("/builds/the-heron/delete").text
    assert bare.removed("delete")[0] == 200
    assert bare.client.get("/builds/the-heron/bench").status_code == 404


@pytest.mark.parametrize("since", ["", "0", "-1", "1e9", "9" * 5000, "<script>", "٣", "7"])
def test_a_made_up_revision_tells_nothing(shop: Shop, since: str) -> None:
    answer = shop.client.get("/builds/the-heron/tasks", params={"since": since})
    assert answer.status_code == 200
    assert "Saved." not in answer.text
    assert "<script>" not in answer.text.split("</head>")[1]


def test_the_moment_of_the_tests_is_a_tuesday() -> None:
    assert NOW.strftime("%a") == "Tue"  # the dates above lean on it


def test_ordered_today_is_one_press_and_a_second_leaves_the_day(shop: Shop) -> None:
    part = next(p for p in shop.stored().parts if not p.arrived and p.ordered_on is None)

    def ordered() -> object:
        return next(each.ordered_on for each in shop.stored().parts if each.key == part.key)

    status, _ = shop.post("part-ordered", key=part.key)
    assert status == 200
    first = ordered()
    assert first is not None
    status, _ = shop.post("part-ordered", key=part.key)
    assert status == 200
    assert ordered() == first


def test_a_part_is_assumed_to_come_by_its_lead_time_and_is_overdue_once_that_has_passed(
    shop: Shop,
) -> None:
    # NOW is Tuesday 10 February: with 7 days it comes on the 17th, ordered on 26 January it was
    # to come on 2 February, 8 days ago.
    build = shop.stored()
    needed = needed_for(build, build.first_start or "")
    task = next(t for t in build.tasks if t.is_open and t.begun_on is None and t.key in needed)
    row = {"name": "Lamp bezel", "lead_days": "7", "serves-0": task.name}
    status, _ = shop.post("parts/new", **row)
    assert status == 200

    def line() -> str:
        return shop.page("parts").split(">Lamp bezel</a>")[1].split("</li>")[0]

    assert "reckoned with for Tue 17 February" in line()
    assert "assumed: ordered today and 7 days of lead time" in line()
    key = next(p.key for p in shop.stored().parts if p.name == "Lamp bezel")
    shop.post(f"parts/{key}", **row, ordered_on="2026-01-26")
    assert "Overdue by 8 days: was to come Mon 2 February" in line()
    assert "assumed: ordered Mon 26 January and 7 days of lead time" in line()
    assert "ordered Mon 26 January;" not in line()
    shop.post(f"parts/{key}", **row, ordered_on="2026-01-26", promised_on="2026-02-12")
    assert "ordered Mon 26 January; assumed: promised Thu 12 February" in line()


def test_a_part_without_any_date_that_holds_work_stands_first_and_says_what_it_holds(
    shop: Shop,
) -> None:
    build = shop.stored()
    needed = needed_for(build, build.first_start or "")
    task = next(t for t in build.tasks if t.is_open and t.begun_on is None and t.key in needed)
    shop.post("parts/new", name="Lamp bezel", **{"serves-0": task.name})
    text = shop.page("parts")
    assert text.index(">Lamp bezel</a>") < text.index(">Bulkhead unions for heater and A/C</a>")
    line = text.split(">Lamp bezel</a>")[1].split("</li>")[0]
    assert "No date: enter its lead time, or the day it comes" in line
    assert "has no date: " in line
    assert "cannot be planned" in line
    key = next(p.key for p in shop.stored().parts if p.name == "Lamp bezel")
    shop.post(f"parts/{key}", name="Lamp bezel", lead_days="7", **{"serves-0": task.name})
    assert "No date: enter its lead time" not in shop.page("parts")


def test_a_fault_beside_a_field_does_not_name_the_key(shop: Shop) -> None:
    status, text = shop.post("tasks/rad_bracket", well="9", likely="2", fights="1")
    assert status == 422
    assert "(rad_bracket)" not in text
