"""Removing: what another window did since the question was opened is not lost unseen."""

import html

import pytest

from tests.pages.conftest import Shop

TASK = "remove-task?key=rad_bracket"


def kept(shop: Shop, address: str, seen: str | None) -> str:
    """Press on an old question, or without one; the page that asks again."""
    fields = {} if seen is None else {"seen": seen}
    before = shop.stored()
    status, text = shop.post(address, **fields)
    assert status == 422
    assert shop.stored() == before
    return html.unescape(text)


def test_hours_logged_and_a_begin_since_the_question_keep_a_task(shop: Shop) -> None:
    seen = shop.seen(TASK)
    shop.post("log", task="Radiator lower bracket", on="2026-02-09", hours="3", sure="on")
    shop.post("bench/begin", task="rad_bracket")
    text = kept(shop, TASK, seen)
    assert "it was changed elsewhere since you were asked" in text
    # 3 h were logged on it before, and 3.25 h left
    assert "6 h are logged on it now, in 2 entries" in text
    assert "it is on the bench now, its clock runs" in text
    assert "it was begun Sat 7 Feb 11:15, with 0.25 h left" in text
    assert "its page" not in text.split("since you were asked")[1].split("Press again")[0]
    assert "Remove the task" in text
    status, _ = shop.removed(TASK)  # asked again, and meant all the same
    assert status == 200
    assert all(task.key != "rad_bracket" for task in shop.stored().tasks)


def test_the_page_that_asks_again_carries_what_it_shows(shop: Shop) -> None:
    seen = shop.seen(TASK)
    shop.post("tasks/rad_bracket", notes="6 mm plate")
    text = kept(shop, TASK, seen)
    assert "What its page says was changed." in text
    again = text.split('name="seen" value="')[1].split('">')[0]
    assert shop.post(TASK, seen=again)[0] == 200
    assert all(task.key != "rad_bracket" for task in shop.stored().tasks)


def test_what_another_task_did_since_does_not_matter(shop: Shop) -> None:
    seen = shop.seen(TASK)
    shop.post("tasks/new", **{"name-0": "Cut the sill", "likely-0": "2"})
    assert shop.post(TASK, seen=seen)[0] == 200


@pytest.mark.parametrize("seen", [None, "", "x", "[]"])
def test_nothing_goes_without_a_question(shop: Shop, seen: str | None) -> None:
    part = shop.stored().parts[0]
    for address in (TASK, f"remove-part?key={part.key}", "delete"):
        assert "Look at what goes with it" in kept(shop, address, seen)


def test_a_part_that_came_since_the_question_stays(shop: Shop) -> None:
    part = next(part for part in shop.stored().parts if not part.arrived)
    address = f"remove-part?key={part.key}"
    seen = shop.seen(address)
    shop.post("part-here", key=part.key)
    assert "It is here now" in kept(shop, address, seen)
    assert shop.removed(address)[0] == 200


def test_a_wish_that_was_sized_since_the_question_stays(shop: Shop) -> None:
    shop.post("wishes", wish="A step")
    seen = shop.seen("remove-wish?key=a-step")
    shop.post("wishes/a-step", likely="3")
    assert "It was sized or written anew" in kept(shop, "remove-wish?key=a-step", seen)
    assert shop.removed("remove-wish?key=a-step")[0] == 200


def test_a_build_that_was_worked_on_since_the_question_stays(shop: Shop) -> None:
    seen = shop.seen("delete")
    shop.post("log", task="Radiator lower bracket", on="2026-02-09", hours="3", sure="on")
    text = kept(shop, "delete", seen)
    assert "h are logged in it now" in text
    assert "something in it" not in text
    seen = shop.seen("delete")
    shop.post("shop/people", people="2")
    assert "Something in it was changed." in kept(shop, "delete", seen)
    assert shop.removed("delete")[0] == 200
    assert shop.client.get("/builds/the-heron/bench").status_code == 404
