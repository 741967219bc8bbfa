"""One date: whatever shows where first start stands, or moves to, says the same."""

import datetime as dt
import html
import re
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from tests.pages.conftest import HERON, NOW, Shop, client_of
from tests.stored_files import opened_new
from webapp.build.build_input import BuildInput
from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.build.three_point import ThreePoint
from webapp.build.wish import Wish
from webapp.exchange.build_document import read_document
from webapp.pages.words.amounts import day
from webapp.planning.order.job_order import make_plan
from webapp.storage.builds import create_build

PAGES = ("bench", "order", "path", "wishes", "week", "parts", "shop", "tasks", "record", "log")
DAY = r"(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d{1,2} [A-Z][a-z]+(?: \d{4})?"


def heron() -> BuildInput:
    build, faults = read_document(HERON.read_bytes(), now=NOW)
    assert build is not None
    assert not faults
    return build


def as_it_is(build: BuildInput) -> BuildInput:
    return build


def another_order_kept(build: BuildInput) -> BuildInput:
    """The job order turned round as far as dependencies let it be."""
    keys = tuple(task.key for task in reversed(make_plan(build).tasks))
    return replace(build, kept_order=keys, kept_on=NOW.date())


def record_left_out(build: BuildInput) -> BuildInput:
    return replace(build, calibrated=False, attended=False)


def earlier_record_heard(build: BuildInput) -> BuildInput:
    """Work took half as long again in an earlier build, and three evenings of four were worked."""
    kind = EarlierKind(tasks=30, actual_hours=150.0, expected_hours=100.0, worth=20.0)
    record = EarlierRecord(
        key="grebe",
        name="The Grebe",
        taken_on=NOW.date(),
        kinds=(kind,),
        weeks=20,
        workable_hours=200.0,
        worked_hours=150.0,
    )
    return replace(build, earlier_records=(record,))


@pytest.fixture(params=[as_it_is, another_order_kept, record_left_out, earlier_record_heard])
def build_shop(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Shop]:
    """The Heron as it is, with another order kept, without its record, and with that of another
    build; one wish to decide."""
    wish = Wish(
        key="step",
        text="A folding step",
        logged_on=NOW.date(),
        hours=ThreePoint(optimistic=8, most_likely=14, pessimistic=30),
    )
    build = request.param(heron())
    build = replace(build, wishes=(*build.wishes, wish))
    data_file = tmp_path / "one.sqlite3"
    database = opened_new(data_file)
    with database.writing() as session:
        create_build(session, build)
    database.close()
    with client_of(data_file) as client:
        yield Shop(client, data_file)


def frame(text: str) -> tuple[str, str]:
    """The likely and the firm day of the frame."""
    found = [
        re.search(rf'id="{name}"[^>]*>\s*({DAY})', text)
        for name in ("first-start", "first-start-firm")
    ]
    assert all(found), text[:3000]
    return found[0][1], found[1][1]  # type: ignore[index]


def words(text: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text))


def test_every_page_shows_the_same_date(build_shop: Shop) -> None:
    likely, firm = frame(build_shop.settled("bench"))
    dates = {name: frame(build_shop.page(name)) for name in PAGES}
    assert set(dates.values()) == {(likely, firm)}, dates
    path = words(build_shop.page("path"))
    assert f"First start, likely {likely}" in path  # the key of the picture
    assert f"now to {likely}" in path  # what the time is made of
    assert re.search(rf"8 in 10, firm {firm}", path)
    if build_shop.stored().earlier_records:
        assert f"First start is likely {likely} as it stands" in build_shop.settled("record")
        assert "The Grebe" in path  # whose record makes the difference
    order = build_shop.page("order")
    ends = re.findall(rf"({DAY})", words(order.split("First start</a>")[0]))
    assert ends, "the order tells the day of first start"
    assert calendar_dates(build_shop) == {"First start, likely": likely, "First start, firm": firm}
    wishes = until_priced(build_shop)
    ways = words(wishes)
    assert likely in ways  # letting go leaves it there
    assert firm in ways


@pytest.mark.parametrize("build_shop", [as_it_is], indirect=True)
def test_no_page_shows_another_date_once_all_of_it_is_worked_out(build_shop: Shop) -> None:
    first = frame(build_shop.settled("bench"))
    assert {frame(build_shop.settled(name)) for name in PAGES} == {first}


def calendar_dates(shop: Shop) -> dict[str, str]:
    """The dates of first start in the calendar that other programs follow, as pages say them."""
    page = shop.client.post("/feeds/new", data={"name": "Phone", "build": ""}).text
    address = re.search(r"<code[^>]*>([^<]+)</code>", page)
    assert address is not None
    today = shop.client.app.state.services.settings.now().date()
    calendar = Calendar.from_ical(shop.client.get(address[1]).content)
    events: list[Any] = list(calendar.walk("VEVENT"))
    return {
        str(event["SUMMARY"]).partition(" (")[0]: day(event.start, today=today)
        for event in events
        if str(event["UID"]).startswith("end-")
    }


def until_priced(shop: Shop) -> str:
    """The four ways of the wish, once they are worked out."""
    for _ in range(600):
        text = html.unescape(shop.client.get("/builds/the-heron/wish-ways?key=step").text)
        if 'name="figures"' in text:
            return text
        time.sleep(0.05)  # for what is worked out in the background
    raise TimeoutError


def moves(text: str) -> list[str]:
    return re.findall(r"(?:about )?\+?[\d.,]+ days?|no change", text)


@pytest.mark.parametrize("build_shop", [as_it_is, another_order_kept], indirect=True)
def test_what_a_wish_is_said_to_cost_is_what_is_seen_a_second_later(build_shop: Shop) -> None:
    """Card, notice, what it really takes: one question, one number; and one date."""
    card = until_priced(build_shop)
    said = moves(words(card.split("Moves first start")[1]))[0]
    assert said.removeprefix("about ").startswith("+"), said
    fit_now_likely, fit_now_firm = (
        re.findall(DAY, words(row))[0]
        for row in (card.split(">likely<")[1], card.split(">firm, ")[1])
    )
    figures = re.search(r'name="figures" value="(\w+)"', card)
    assert figures is not None
    status, text = build_shop.post("decide-wish?key=step", way="fit now", figures=figures[1])
    assert status == 200
    text = html.unescape(text)
    for _ in range(600):
        again = re.search(r'id="notice" hx-get="([^"]+)"', text)
        if again is None:
            break
        time.sleep(0.05)
        text = html.unescape(build_shop.client.get(again[1]).text)
    notice = words(re.search(r'id="notice"[^>]*>(.*?)</p>', text, re.S)[1])  # type: ignore[index]
    assert f"moves {said.replace('+', '')} later" in notice, notice
    assert f"now likely {fit_now_likely}, firm {fit_now_firm}" in notice
    wishes = build_shop.settled("wishes")
    assert frame(wishes) == (fit_now_likely, fit_now_firm)
    was = really = "…"
    for _ in range(600):
        of_wish = re.search(
            r"A folding step.*?Was said(.*?)</tr>.*?Really(.*?)</tr>",
            build_shop.page("wishes").split("Decided")[-1],
            re.S,
        )
        assert of_wish is not None
        was, really = words(of_wish[1]), words(of_wish[2])
        if "…" not in really:
            break
        time.sleep(0.05)
    assert moves(was)[0] == said
    assert moves(really)[0] == said


@pytest.mark.parametrize("build_shop", [as_it_is], indirect=True)
def test_the_date_moves_once_after_a_change_and_stays_when_looked_at_again(
    build_shop: Shop,
) -> None:
    first = frame(build_shop.settled("bench"))
    assert frame(build_shop.settled("order")) == first
    later = NOW + dt.timedelta(minutes=1)
    with client_of(build_shop.data_file, later) as client:
        shop = Shop(client, build_shop.data_file)
        # A program that was begun anew finds the same date by itself.
        assert frame(shop.settled("bench")) == first
