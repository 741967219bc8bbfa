"""Builds: three ways in, new, import, export, delete; facts that move first start."""

import json
import re

from tests.pages.conftest import HERON, NOW, Shop
from tests.plumbing.heron import heron
from webapp.exchange.build_document import read_document, write_document
from webapp.planning.order.job_order import make_plan


def test_an_empty_program_opens_with_three_ways_in(bare: Shop) -> None:
    text = bare.client.get("/").text
    for words in ("demo", "starter list", "mport"):
        assert words in text


def test_the_starter_list_makes_a_build_that_has_a_plan(bare: Shop) -> None:
    form = {"name": "The Gull", "vehicle": "1958 mail van", "begin": "starter"}
    page = bare.client.get("/builds/new").text
    kind = page.split('type="radio"')[1].split('name="')[1].split('"')[0]
    value = page.split('type="radio"')[1].split('value="')[1].split('"')[0]
    answer = bare.client.post("/builds/new", data={**form, kind: value})
    assert answer.status_code == 200
    build = bare.stored("the-gull")
    assert 130 <= len(build.tasks) <= 160
    assert make_plan(build).first_start_at is not None


def test_a_build_of_nothing_but_first_start_asks_for_its_tasks(bare: Shop) -> None:
    page = bare.client.get("/builds/new").text
    kind, value = (
        page.split('type="radio"')[-1].split(f'{name}="')[1].split('"')[0]
        for name in ("name", "value")
    )
    answer = bare.client.post("/builds/new", data={"name": "The Gull", kind: value})
    assert answer.status_code == 200
    bench = bare.client.get("/builds/the-gull/bench").text
    assert "Enter the tasks" in bench
    assert 'name="task"' not in bench.split("Do this now")[1].split("</section>")[0]


def test_a_build_needs_a_name(bare: Shop) -> None:
    answer = bare.client.post("/builds/new", data={"name": " ", "vehicle": "kept"})
    assert answer.status_code == 422
    assert "kept" in answer.text


def test_the_plumbing_of_a_document_comes_out_again_to_the_byte(bare: Shop) -> None:
    text = write_document(heron())
    assert '"w_top"' in text
    answer = bare.client.post("/builds/import", data={"document": text})
    assert answer.status_code == 200
    assert bare.stored().plumbing == heron().plumbing
    out = bare.client.get("/builds/the-heron/document").content.decode()
    # What is from the moment of the export on: a document says when it was written.
    assert _but_for_now(out) == _but_for_now(text)


def _but_for_now(document: str) -> str:
    return re.sub(r'"now": "[^"]*"', "", document)


def test_an_imported_document_comes_out_again_with_the_same_plan(bare: Shop) -> None:
    answer = bare.client.post("/builds/import", data={"document": HERON.read_text("utf-8")})
    assert answer.status_code == 200
    out = bare.client.get("/builds/the-heron/document")
    assert "attachment" in out.headers["content-disposition"]
    again, faults = read_document(out.content, now=NOW)
    assert not faults
    assert again is not None
    assert make_plan(again) == make_plan(bare.stored())


def test_the_schema_is_published(bare: Shop) -> None:
    answer = bare.client.get("/schema/build-document-1.json")
    assert json.loads(answer.text)["$schema"].startswith("https://json-schema.org/")


def test_deleting_asks_first(shop: Shop) -> None:
    page = shop.client.get("/").text
    assert "elete" in page
    assert shop.client.get("/builds/the-heron/bench").status_code == 200


def test_no_shop_this_weekend_is_one_press_and_says_what_it_does(shop: Shop) -> None:
    before = make_plan(shop.stored()).first_start_at
    status, text = shop.post("shop/weekend")
    assert status == 200
    after = make_plan(shop.stored()).first_start_at
    assert before is not None
    assert after is not None
    # By the plan as estimated the weekend may come out of the spare time before a part is here.
    assert after >= before
    assert "Saved. First start moves " in text


def test_a_new_task_before_first_start_moves_it_and_the_page_says_so(shop: Shop) -> None:
    fields = {
        "name-0": "Shim the mounts",
        "likely-0": "30",
        "needed-0": "on",
        "after-0": "Lower the engine in for good, torque mounts and cross-member",
    }
    status, text = shop.post("tasks/new", **fields)
    assert status == 200
    assert "Saved. First start moves " in text
    build = shop.stored()
    made = next(task for task in build.tasks if task.name == "Shim the mounts")
    assert made.hours.most_likely == 30
    assert any(d.before == made.key for d in build.dependencies)


def test_overdue_parts_stand_first(shop: Shop) -> None:
    text = shop.page("parts")
    assert text.index("Bulkhead unions for heater and A/C") < text.index("A/C drier, sealed")


def test_a_part_that_comes_late_moves_first_start(shop: Shop) -> None:
    build = shop.stored()
    part = next(part for part in build.parts if part.name.startswith("Bulkhead unions"))
    assert not part.arrived
    page = shop.page(f"parts/{part.key}")
    assert 'name="arrives_on"' in page
    names = {task.key: task.name for task in build.tasks}
    fields = {"name": part.name, "arrives_on": "2026-06-30"}
    fields |= {f"serves-{n}": names[key] for n, key in enumerate(part.serves)}
    status, text = shop.post(f"parts/{part.key}", **fields)
    assert status == 200
    assert "Saved. First start moves " in text


def test_the_job_card_has_its_caution_once(shop: Shop) -> None:
    card = shop.page("tasks/rad_bracket").split("<article")[1].split("</article>")[0]
    assert card.count("Local codes and licensed practice come first.") == 1
