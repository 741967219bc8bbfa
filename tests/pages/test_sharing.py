"""Builds that share the hours of one shop, over HTTP: chosen with both dates, shown, handed over.

The demo's clock stands at Tuesday 10 February 2026, 18:30: the shop opens. Its week is Tuesday and
Thursday evening and Saturday.
"""

import datetime as dt
import html
import re
from dataclasses import replace

import pytest

from tests.pages.conftest import NOW, Shop
from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import sessions_on
from webapp.exchange.build_document import read_document
from webapp.storage.builds import create_build

HERON, BOAT = "the-heron", "the-boat"


@pytest.fixture
def two(shop: Shop) -> Shop:
    """The Heron, and The Boat with the same work and the same week, nothing in its log."""
    heron = shop.stored()
    boat = replace(heron, name="The Boat", wanted_by=None, log=(), on_bench=None)
    with shop.database.writing() as session:
        assert create_build(session, boat) == BOAT
    return shop


def rule(shop: Shop, way: str, key: str = "", **more: str) -> tuple[int, str]:
    fields = {"way": way, f"in-{HERON}": "on", f"in-{BOAT}": "on"}
    fields |= {f"place-{HERON}": "1", f"place-{BOAT}": "2"}
    fields |= {f"share-{HERON}": "2", f"share-{BOAT}": "1"}
    answer = shop.client.post(
        f"/builds/{HERON}/shop/sharing", data={**fields, "key": key or holding(shop), **more}
    )
    return answer.status_code, html.unescape(answer.text)


def holding(shop: Shop) -> str:
    found = re.search(r'name="key" value="(\w*)"', shop.page("shop/sharing"))
    assert found is not None
    return found[1]


def page(shop: Shop, slug: str, name: str) -> str:
    answer = shop.client.get(f"/builds/{slug}/{name}")
    assert answer.status_code == 200
    return html.unescape(answer.text)


def exported(shop: Shop, slug: str) -> BuildInput:
    build, faults = read_document(shop.client.get(f"/builds/{slug}/document").text, now=NOW)
    assert build is not None
    assert not faults
    return build


ALL = [10, 12, 14, 17, 18, 19, 21, 24, 26, 28]
"""The days of February from the 10th on with sessions; Wednesday the 18th is one of its own."""
THURSDAYS = [12, 19, 26]


def own_days(build: BuildInput) -> list[int]:
    days = (NOW.date().replace(day=day) for day in range(10, 29))
    return [day.day for day in days if sessions_on(build, day)]


def test_the_dates_are_told_before_the_rule_holds(two: Shop) -> None:
    status, text = rule(two, "week")
    assert status == 200
    assert "What this does to the dates" in text
    assert re.search(r"The Boat: \w{3} \d+ \w+ 2027, was \w{3} \d+ \w+\.", text)
    assert own_days(exported(two, BOAT)) == own_days(exported(two, HERON))


def test_a_share_of_the_week_is_what_each_build_has_and_nothing_else(two: Shop) -> None:
    # Of Tuesday, Thursday, Saturday two to The Heron, one to The Boat: it has Thursdays. Wednesday
    # the 18th is no session of a week: it goes to the first.
    assert rule(two, "week", sure="on")[0] == 200
    assert own_days(exported(two, HERON)) == [10, 14, 17, 18, 21, 24, 28]
    assert own_days(exported(two, BOAT)) == THURSDAYS
    assert two.stored(BOAT).shop.given == ()


def test_the_bench_and_the_list_of_builds_say_whose_tonight_is(two: Shop) -> None:
    rule(two, "week", sure="on")
    assert "Tonight, 18:30 to 21:30: <b>this build</b>" in page(two, HERON, "bench")
    assert f'<a href="/builds/{HERON}/bench">The Heron</a>' in page(two, BOAT, "bench")
    home = html.unescape(two.client.get("/").text)
    assert f'Tonight, 18:30 to 21:30: <a href="/builds/{HERON}/bench">The Heron</a>' in home


def test_in_an_order_the_first_has_what_its_plan_has_work_in(two: Shop) -> None:
    assert rule(two, "order", sure="on")[0] == 200
    first, second = exported(two, HERON), exported(two, BOAT)
    assert own_days(first) == ALL
    assert not {10, 12, 14} & set(own_days(second))
    next_year = (NOW.date() + dt.timedelta(days=number) for number in range(365))
    assert any(sessions_on(second, day) for day in next_year)
    assert "Comes after The Heron, which is likely on" in page(two, BOAT, "bench")


def test_a_session_is_given_by_hand_and_the_rule_goes_on(two: Shop) -> None:
    rule(two, "week", sure="on")
    fields = {"date": "2026-02-10", "opens": str(18 * 60 + 30), "to": BOAT, "back": "bench"}
    answer = two.client.post(f"/builds/{HERON}/shop/sharing/hand", data=fields)
    assert answer.status_code == 200
    assert own_days(exported(two, BOAT)) == [10, 12, 19, 26]
    assert own_days(exported(two, HERON)) == [14, 17, 18, 21, 24, 28]


def test_work_in_the_session_of_another_build_is_asked_about_and_takes_it(two: Shop) -> None:
    rule(two, "week", sure="on")
    task = next(
        found[1] for found in re.finditer(r'name="task" value="([^"]+)"', page(two, BOAT, "bench"))
    )
    answer = two.client.post(f"/builds/{BOAT}/bench/begin", data={"task": task})
    assert answer.status_code == 422
    assert "Tonight is The Heron\u2019s. Begin here all the same?" in html.unescape(answer.text)
    assert two.stored(BOAT).on_bench is None
    sure = {"task": task, "sure": "on"}
    assert two.client.post(f"/builds/{BOAT}/bench/begin", data=sure).status_code == 200
    assert two.stored(BOAT).on_bench is not None
    assert 10 in own_days(exported(two, BOAT))
    assert 10 not in own_days(exported(two, HERON))


def test_a_rule_that_was_changed_in_another_window_is_not_written_over(two: Shop) -> None:
    key = holding(two)
    assert rule(two, "week", sure="on")[0] == 200
    status, text = rule(two, "order", key=key or "none", sure="on")
    assert status == 422
    assert "changed in another window" in text
    assert own_days(exported(two, BOAT)) == THURSDAYS


def test_a_rule_that_held_before_is_tried_and_holds_again(two: Shop) -> None:
    def press(then: str, **more: str) -> str:
        """The press beside a rule that held before."""
        before = page(two, HERON, "shop/sharing").partition("What held before")[2]
        one = next(each for each in re.findall(r"<li.*?</li>", before, re.S) if then in each)
        fields = dict(re.findall(r'name="([\w-]+)" value="([^"]*)"', one))
        answer = two.client.post(f"/builds/{HERON}/shop/sharing", data=fields | more)
        assert answer.status_code == 200
        return html.unescape(answer.text)

    rule(two, "order", sure="on")
    given = exported(two, BOAT).shop
    assert "What this does to the dates" in press("before any rule")
    assert "Each build has all of its hours." in press("before any rule", sure="on")
    assert exported(two, BOAT).shop != given
    assert "The Heron goes first" in press("The Heron goes first", sure="on")
    assert exported(two, BOAT).shop == given


def test_a_build_that_is_deleted_frees_its_sessions(two: Shop) -> None:
    rule(two, "week", sure="on")
    asked = two.client.get(f"/builds/{BOAT}/delete").text
    seen = re.search(r'name="seen" value="([^"]*)"', asked)
    assert seen is not None
    two.client.post(f"/builds/{BOAT}/delete", data={"seen": html.unescape(seen[1])})
    assert own_days(exported(two, HERON)) == ALL


def test_a_document_keeps_what_belongs_to_a_build_that_is_not_there(two: Shop) -> None:
    rule(two, "week", sure="on")
    document = two.client.get(f"/builds/{BOAT}/document").text
    two.client.post("/builds/import", data={"document": document})
    assert own_days(exported(two, "the-boat-2")) == THURSDAYS
    room = page(two, "the-boat-2", "shop/sharing")
    assert "Sessions that came with its document" in room
    two.client.post("/builds/the-boat-2/shop/sharing/free", data={})
    assert own_days(exported(two, "the-boat-2")) == ALL[1:]


def test_two_builds_with_one_place_or_one_build_alone_are_faults(two: Shop) -> None:
    assert "Give each a place of its own" in rule(two, "order", **{f"place-{BOAT}": "1"})[1]
    assert "Write a whole number" in rule(two, "week", **{f"share-{BOAT}": "0"})[1]
    answer = two.client.post(
        f"/builds/{HERON}/shop/sharing", data={"way": "week", f"in-{HERON}": "on", "key": ""}
    )
    assert "Tick at least two builds" in answer.text
