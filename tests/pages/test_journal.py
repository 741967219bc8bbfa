"""The journal and Undo over HTTP: what is told, what is taken back, why something is not."""

import html
import re
import sqlite3
from contextlib import closing
from dataclasses import replace

import pytest

from tests.pages.conftest import HERON, NOW, Shop
from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.exchange.build_document import read_document
from webapp.pages import addresses
from webapp.pages.words.quoted import shown
from webapp.services.changes import change

READ = read_document(HERON.read_bytes(), now=NOW)[0]
assert READ is not None
BEFORE = replace(READ, now=NOW)
TASK = BEFORE.tasks[0]


def plain(page: str) -> str:
    """The text of a page on one line."""
    text = html.unescape(re.sub(r"<[^>]*>", " ", page[page.index("<main") :]))
    return " ".join(text.split())


def store(shop: Shop, **facts: object) -> int:
    """Change facts of the build past the forms; the revision it has then."""
    services = shop.client.app.state.services
    done = change(
        services,
        "the-heron",
        lambda build: Edited(build=replace(build, **facts), made=None),  # type: ignore[arg-type]
    )
    return done.revision  # type: ignore[union-attr]


def take_back(shop: Shop, first: int, **more: str) -> tuple[int, str]:
    status, page = shop.post("journal/take-back", first=str(first), **more)
    return status, plain(page)


def with_task(build: BuildInput, **facts: object) -> BuildInput:
    changed = replace(build.tasks[0], **facts)  # type: ignore[arg-type]
    return replace(build, tasks=(changed, *build.tasks[1:]))


def undo_fields(page: str) -> dict[str, str]:
    """What the form with the button Undo sends."""
    form = next(one for one in page.split("<form")[1:] if ">Undo</button>" in one)
    return dict(re.findall(r'name="(first|last|back)" value="([^"]*)"', form))


def test_undo_stands_in_the_notice_and_leads_back_to_its_page(shop: Shop) -> None:
    status, page = shop.post("shop/weekend")
    assert status == 200
    fields = undo_fields(page)
    assert fields == {"first": "2", "last": "2", "back": "/builds/the-heron/shop"}
    status, page = shop.post("journal/take-back", **fields)
    assert status == 200
    assert "<h1>When am I in the shop?</h1>" in page
    assert "Taken back. First start" in page
    assert shop.stored() == BEFORE
    # Undo of the undo, from the notice after it.
    status, page = shop.post("journal/take-back", **undo_fields(page))
    assert status == 200
    assert len(shop.stored().shop.days) == len(BEFORE.shop.days) + 2


@pytest.mark.parametrize(
    ("address", "fields"),
    [
        ("tasks/rad_bracket", {"hours_left": "2"}),
        ("shop/people", {"people": "2"}),
        ("log", {"task": "Radiator lower bracket", "on": "2026-02-09", "hours": "1", "left": "1"}),
        ("tasks?subsystem=coolant", {}),
    ],
)
def test_undo_leads_back_to_where_one_was(shop: Shop, address: str, fields: dict[str, str]) -> None:
    if not fields:  # a row of the table, sent as the page has it but for its hours
        row = shop.page(address).split('name="key-0"')[1].split("</tr>")[0]
        key = re.findall(r'^ value="([^"]*)"', row)[0]
        carried = re.findall(
            r'name="shown-0" value="([^"]*)"', shop.client.get(f"/builds/the-heron/{address}").text
        )
        fields = {"key-0": key, "shown-0": html.unescape(carried[0]), "likely-0": "7.25"}
    answer = shop.client.post(f"/builds/the-heron/{address}", data=fields)
    assert answer.status_code == 200, answer.text
    here = f"/builds/the-heron/{address}"
    assert undo_fields(html.unescape(answer.text))["back"] == here
    undone = shop.client.post(
        "/builds/the-heron/journal/take-back", data=undo_fields(html.unescape(answer.text))
    )
    assert undone.url.path == here.partition("?")[0]
    assert "Taken back." in undone.text
    assert shop.stored() == BEFORE


@pytest.mark.parametrize(
    "elsewhere",
    [
        *("https://a.example/builds/the-heron/", "//a.example", "/builds/other/shop", "", "Shop"),
        *("\n", "/builds/the-heron/../other/shop", "/builds/the-heron/a\r\nSet-Cookie: a=b"),
    ],
)
def test_undo_leads_to_no_page_but_one_of_the_build(elsewhere: str) -> None:
    assert addresses.page_of_build("the-heron", elsewhere) == "/builds/the-heron/journal"


def test_undo_of_stopping_and_beginning_the_next_by_one_press_takes_both_back(shop: Shop) -> None:
    workable = [
        task.key
        for task in BEFORE.tasks
        if task.is_open and task.people and task.outside_days is None
    ]
    first, second = workable[:2]
    shop.post("bench/begin", task=first)
    begun = shop.stored()
    _, page = shop.post(
        "bench/stop", task=first, worked="1", left="2", outcome="stopped", then=second, sure="on"
    )
    stopped = shop.stored()
    assert stopped.on_bench is not None
    assert stopped.on_bench.task == second
    shop.post("journal/take-back", **undo_fields(page))
    assert shop.stored() == begun


def test_a_form_that_changes_nothing_offers_no_undo_of_somebody_elses_change(shop: Shop) -> None:
    shop.post("shop/out", setup_out="none")
    status, page = shop.post("shop/people", people=str(BEFORE.shop.people))
    assert status == 200
    assert "Nothing was changed" in page
    assert ">Undo</button>" not in page


def test_the_journal_tells_each_change_with_before_and_after(shop: Shop) -> None:
    shop.post("shop/people", people="3")
    shop.post("bench/wish", text="A lamp under the bonnet")
    page = plain(shop.page("journal"))
    assert f"People who work in parallel from {BEFORE.shop.people} to 3." in page
    assert "Entered the build “The Heron”, with 93 tasks." in page
    assert page.index("People who") < page.index("Entered the build")


def test_the_journal_is_told_a_page_at_a_time(shop: Shop) -> None:
    for number in range(27):
        store(shop, vehicle=f"van {number}")
    first, second = shop.page("journal"), shop.page("journal?page=2")
    assert "Changes 1 to 15 of 28" in first
    assert "Vehicle from “van 25” to “van 26”" in first
    assert first.count("Vehicle from") == 15 + 1  # and once more for the one button: the last's
    assert "Changes 16 to 28 of 28" in second
    assert "Earlier changes" not in plain(second)
    for odd in ("0", "-1", "99999999999999999999", "x", "7"):
        assert shop.client.get(f"/builds/the-heron/journal?page={odd}").status_code == 200


def test_a_change_that_was_changed_again_names_when_and_stores_nothing(shop: Shop) -> None:
    first = store(shop, tasks=with_task(BEFORE, people=4).tasks)
    store(shop, tasks=with_task(BEFORE, people=5).tasks)
    status, page = take_back(shop, first)
    assert status == 409
    assert "That was not taken back" in page
    assert re.search(
        rf"The task “{re.escape(shown(TASK.name))}” was changed again \(people\) on \w+ \d+ \w+"
        r"( \d{4})?, \d+:\d\d: take that back first\.",
        page,
    )
    assert shop.stored().tasks[0].people == 5


def test_what_stands_on_a_change_by_now_is_named(shop: Shop) -> None:
    shop.post("shop/subsystems", **{"name-0": "Cooling", "order-0": "1", "medium-0": "water"})
    added = replace(BEFORE.subsystems[0], key="cooling-2", name="Cooling")
    first = store(shop, subsystems=(*shop.stored().subsystems, added))
    tasks = tuple(
        replace(task, subsystem="cooling-2") if number < 3 else task
        for number, task in enumerate(BEFORE.tasks)
    )
    store(shop, tasks=tasks)
    status, page = take_back(shop, first)
    assert status == 409
    assert "3 tasks (“" in page
    assert "stand in the subsystem “Cooling” by now: see to that first." in page
    assert shop.stored().tasks == tasks


def test_what_was_taken_out_since_or_entered_again_is_named(shop: Shop) -> None:
    part = BEFORE.parts[0]
    changed = store(shop, parts=(replace(part, supplier="Other"), *BEFORE.parts[1:]))
    removed = store(shop, parts=BEFORE.parts[1:])
    _, page = take_back(shop, changed)
    assert f"The part “{part.name}” was taken out on" in page
    store(shop, parts=(replace(part, supplier="Third"), *BEFORE.parts[1:]))
    _, page = take_back(shop, removed)
    assert f"The part “{part.name}” was entered again on" in page


def test_what_would_need_a_thing_that_is_gone_is_named(shop: Shop) -> None:
    more = replace(BEFORE.subsystems[0], key="more", name="More")
    store(shop, subsystems=(*BEFORE.subsystems, more))
    store(shop, tasks=with_task(BEFORE, subsystem="more").tasks)
    moved = store(shop, tasks=BEFORE.tasks)
    store(shop, subsystems=BEFORE.subsystems)
    _, page = take_back(shop, moved)
    assert (
        f"The task “{shown(TASK.name)}” would stand in the subsystem “More”, which was taken out on"
        in page
    )


def test_an_undo_that_would_leave_a_fault_says_which(shop: Shop) -> None:
    """Another task comes before it by now: the old link would close a loop."""
    link = BEFORE.dependencies[0]
    without = tuple(one for one in BEFORE.dependencies if one is not link)
    first = store(shop, dependencies=without)
    store(shop, dependencies=(*without, replace(link, before=link.after, after=link.before)))
    stored = shop.stored()
    status, page = take_back(shop, first)
    assert status == 409
    assert "Without this change the build would have a fault." in page
    assert shop.stored() == stored


def test_the_second_undo_of_one_change_is_told_when_it_was_taken_back(shop: Shop) -> None:
    first = store(shop, vehicle="Other van")
    assert take_back(shop, first)[0] == 200
    status, page = take_back(shop, first)
    assert status == 409
    assert re.search(
        r"This was taken back already on .*\d:\d\d\. Your press changed nothing\.", page
    )
    assert "Taken back on" in plain(shop.page("journal"))
    assert "Took back: Vehicle from" in plain(shop.page("journal"))


def test_what_is_as_it_was_again_has_nothing_left_to_take_back(shop: Shop) -> None:
    first = store(shop, vehicle="Other van")
    store(shop, vehicle=BEFORE.vehicle)
    assert "Nothing of this change is left in the build" in take_back(shop, first)[1]


def test_the_entry_of_the_build_leads_to_deleting_and_frozen_weeks_stay(shop: Shop) -> None:
    _, page = take_back(shop, 1)
    assert "The build was entered with it. To take that back, delete the build" in page
    shop.post("week")  # the baseline
    _, page = take_back(shop, 2)
    assert "a baseline or a closed week is never taken back" in page
    assert "Froze baseline 1." in plain(shop.page("journal"))


@pytest.mark.parametrize("first", ["", "x", "99", "-3", "9" * 40, "٣"])
def test_a_change_that_never_was_is_said_not_to_be_there(shop: Shop, first: str) -> None:
    status, page = shop.post("journal/take-back", first=first)
    assert status == 409
    assert "This build has no such change." in page
    assert shop.stored() == BEFORE


def test_the_address_of_an_undo_leads_back_to_the_journal_on_a_reload(shop: Shop) -> None:
    answer = shop.client.get("/builds/the-heron/journal/take-back")
    assert answer.url.path == "/builds/the-heron/journal"
    assert shop.client.post("/builds/none/journal/take-back").status_code == 404
    assert shop.client.get("/builds/none/journal").status_code == 404


def test_what_was_written_past_the_journal_is_listed_and_said_not_to_be_told_whole(
    shop: Shop,
) -> None:
    """As a migration of the data does, or a table of an older version."""
    old = store(shop, vehicle="Van of old")
    older = store(shop, wanted_by=None)
    with closing(sqlite3.connect(shop.data_file)) as by_hand, by_hand:
        by_hand.execute("UPDATE builds SET vehicle = 'By hand'")
        by_hand.execute("UPDATE journal SET noun = 'bench' WHERE revision = ?", (older,))
    assert take_back(shop, store(shop, confidence=0.7))[0] == 200
    page = plain(shop.page("journal"))
    assert page.count("Changed 1 thing in an older form.") == 2
    for revision in (old, older):
        assert "An older version of the program wrote this" in take_back(shop, revision)[1]


def test_shop_leads_to_the_journal(shop: Shop) -> None:
    assert 'href="/builds/the-heron/journal"' in shop.page("shop")
