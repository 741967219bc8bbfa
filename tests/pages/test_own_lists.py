"""Starter lists of one's own: made of a build, offered, named, taken out and put back."""

import html
import json
import re

from tests.pages.conftest import Shop
from webapp.build.by_key import get_by_key
from webapp.storage.journal import journal_of
from webapp.storage.own_lists import OwnListHeading, own_list_called, own_list_headings


def headings(shop: Shop) -> tuple[OwnListHeading, ...]:
    with shop.database.reading() as session:
        return own_list_headings(session)


def made(shop: Shop, name: str = "Heron, as it took") -> str:
    """Make a list of The Heron and return its key."""
    status, text = shop.post("own-list", name=name)
    assert status == 200, text
    return headings(shop)[0].key


def begin(shop: Shop, key: str, name: str = "The Gull") -> str:
    answer = shop.client.post("/builds/new", data={"name": name, "begin_with": f"own-{key}"})
    assert answer.status_code == 200, answer.text
    return str(answer.url.path)


def test_a_list_is_made_offered_and_begun_with(shop: Shop) -> None:
    key, heron = made(shop), shop.stored()
    offered = html.unescape(shop.client.get("/builds/new").text)
    # 93 tasks of which one is set aside; 28 of the finished ones were logged
    assert "your own list “Heron, as it took”: 92 tasks, 28 of them with the hours" in offered
    assert begin(shop, key) == "/builds/the-gull/tasks"
    gull = shop.stored("the-gull")
    assert len(gull.tasks) == 92
    assert not gull.log
    assert all(task.hours_guessed and task.is_open for task in gull.tasks)
    assert gull.shop.week == heron.shop.week
    taken = [task for task in gull.tasks if task.hours_taken]
    assert len(taken) == 28
    page = html.unescape(shop.client.get(f"/builds/the-gull/tasks/{taken[0].key}").text)
    assert "as it took last time" in page
    guessed = next(task for task in gull.tasks if not task.hours_taken)
    page = html.unescape(shop.client.get(f"/builds/the-gull/tasks/{guessed.key}").text)
    assert "a guess of the starter list" in page


def test_a_build_begun_with_a_list_has_a_date_at_once(shop: Shop) -> None:
    begin(shop, made(shop))
    text = html.unescape(shop.client.get("/builds/the-gull/order").text)
    assert "likely" in text


def test_what_a_list_is_stored_as_names_nobody(shop: Shop) -> None:
    part = shop.stored().parts[0]
    task = shop.stored().tasks[0]
    shop.post(f"parts/{part.key}", supplier="Wendelin")
    shop.post(f"tasks/{task.key}", notes="Wendelin rang")
    with shop.database.reading() as session:
        kept = own_list_called(session, made(shop))
    assert kept is not None
    assert "Wendelin" not in kept.document
    said = json.loads(kept.document)
    assert said["log"] == []
    assert "start" not in said or not said["start"].get("signatures")


def test_a_list_is_renamed_deleted_and_put_back_and_the_journal_tells_it(shop: Shop) -> None:
    key = made(shop)
    answer = shop.client.post(f"/own-list/name?key={key}", data={"name": "A van, as it took"})
    assert "is called “A van, as it took” now" in html.unescape(answer.text)
    gone = html.unescape(shop.client.post(f"/own-list/take-out?key={key}").text)
    assert "“A van, as it took” is deleted" in gone
    assert "A van, as it took" not in html.unescape(shop.client.get("/builds/new").text)
    refused = shop.client.post("/builds/new", data={"name": "Gull", "begin_with": f"own-{key}"})
    assert refused.status_code == 422
    back = re.search(r'action="(/own-list/put-back[^"]*)"', gone)
    assert back is not None
    assert shop.client.post(html.unescape(back[1])).status_code == 200
    assert "A van, as it took" in html.unescape(shop.client.get("/builds/new").text)
    with shop.database.reading() as session:
        told = journal_of(session, "own_lists")
    fields = [(one.change, sorted(one.after or {})) for one in reversed(told)]
    assert fields[0][0] == "added"
    assert fields[1:] == [
        ("changed", ["name"]),
        ("changed", ["taken_out_at"]),
        ("changed", ["taken_out_at"]),
    ]
    assert (told[2].before or {})["name"] == "Heron, as it took"


def test_what_there_is_none_of_is_not_counted(shop: Shop) -> None:
    text = shop.page("own-list")
    assert "92 tasks, 28 of them with the hours they took" in text
    assert "43 runs" in text
    assert not shop.stored().start.own_checks
    assert "0 checks" not in text


def test_a_list_needs_a_name_and_keeps_what_was_typed(shop: Shop) -> None:
    status, text = shop.post("own-list", name="  ")
    assert status == 422
    assert "Give the list a name" in text
    assert headings(shop) == ()
    key = made(shop)
    answer = shop.client.post(f"/own-list/name?key={key}", data={"name": "x" * 501})
    assert answer.status_code == 422


def test_a_list_that_is_not_there_says_so(shop: Shop) -> None:
    for method, address in (
        ("GET", "/own-list?key=x"),
        ("GET", "/own-list"),
        ("POST", "/own-list/name?key=x"),
        ("POST", "/own-list/take-out?key=x"),
        ("POST", "/own-list/put-back"),
    ):
        answer = shop.client.request(method, address, data={"name": "x"})
        assert answer.status_code == 404, address
        assert "not there any more" in answer.text


def test_hours_as_taken_are_confirmed_and_stay_as_taken_until_they_are_changed(shop: Shop) -> None:
    begin(shop, made(shop))
    key = next(task.key for task in shop.stored("the-gull").tasks if task.hours_taken)
    address = f"/builds/the-gull/tasks/{key}"
    shown = re.search(r'name="shown" value="([^"]*)"', shop.client.get(address).text)
    assert shown is not None
    fields = {"shown": html.unescape(shown[1]), "confirmed": "on"}
    assert shop.client.post(address, data=fields).status_code == 200
    task = get_by_key(shop.stored("the-gull").tasks, key)
    assert (task.hours_guessed, task.hours_taken) == (False, True)
    assert shop.client.post(address, data={"likely": "9"}).status_code == 200
    task = get_by_key(shop.stored("the-gull").tasks, key)
    assert (task.hours_guessed, task.hours_taken) == (False, False)


def test_the_build_that_a_list_was_made_of_may_go(shop: Shop) -> None:
    key = made(shop)
    assert shop.removed("delete")[0] == 200
    begin(shop, key)
    assert len(shop.stored("the-gull").tasks) == 92
