"""The calendar by its secret address: the dates of the pages, known by what they are about."""

import datetime as dt
import html
import re
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from tests.build.random_builds import random_build
from tests.pages.conftest import NOW, Shop, client_of, shop_of
from webapp.build.build_input import BuildInput
from webapp.planning.order.plan import Plan
from webapp.storage.builds import create_build

SEEDS = range(24)


def made(shop: Shop, build: str = "", name: str = "Phone") -> str:
    """A new address, as the page shows it."""
    answer = shop.client.post("/feeds/new", data={"name": name, "build": build})
    assert answer.status_code == 200, answer.text
    found = re.search(r"<code[^>]*>([^<]+)</code>", answer.text)
    assert found is not None
    return html.unescape(found[1])


def events(shop: Shop, address: str) -> dict[str, Any]:
    """The events of a calendar by their names; none of them twice."""
    answer = shop.client.get(address)
    assert answer.status_code == 200, answer.text
    assert answer.headers["content-type"] == "text/calendar; charset=utf-8"
    calendar = Calendar.from_ical(answer.content)
    found = list(calendar.walk("VEVENT"))
    assert not calendar.errors
    named = {str(one["UID"]): one for one in found}
    assert len(named) == len(found)
    return named


def by_kind(found: dict[str, Any]) -> dict[str, Any]:
    """The same without what every name of an event of The Heron ends with."""
    return {uid.partition(".the-heron@")[0]: one for uid, one in found.items()}


def plan_of(shop: Shop) -> Plan:
    """The plan that the pages of the one build show."""
    services = shop.client.app.state.services
    planned = services.plans.get("the-heron", 1, services.settings.now(), lambda: None)
    assert planned is not None
    plan: Plan | None = planned.plan()
    assert plan is not None
    return plan


# the sessions -------------------------------------------------------------------------------
def shop_sessions(build: BuildInput, day: dt.date) -> list[tuple[dt.datetime, dt.datetime]]:
    """The open hours of a date, read from the shop anew."""
    if build.starts_on is not None and day < build.starts_on:
        return []
    shop = build.shop
    exceptions = [one for one in shop.days if one.date == day]
    ranges = [one.week for one in shop.ranges if one.first_on <= day <= one.last_on]
    later = [one.week for one in shop.later_weeks if one.from_on <= day]
    week = (*ranges, *reversed(later), shop.week)[0]
    hours = (
        list(exceptions[0].sessions)
        if exceptions
        else [one.hours for one in week if one.weekday == day.weekday()]
    )
    midnight = dt.datetime.combine(day, dt.time())
    minute = dt.timedelta(minutes=1)
    return sorted(
        (midnight + one.opens_minute * minute, midnight + one.closes_minute * minute)
        for one in hours
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_each_session_of_the_plan_is_one_event_with_its_tasks(seed: int, tmp_path: Path) -> None:
    """By wall clock: a task of hands is at work in every open hour from its begin to its end.

    The plan is shown to the minute, so what overlaps by less than one may be there or not.
    """
    build = replace(random_build(12, seed), name="The Heron")
    names = {task.key: f"<{task.key}>" for task in build.tasks}
    build = replace(build, tasks=tuple(replace(task, name=names[task.key]) for task in build.tasks))
    with shop_of(build, tmp_path) as shop:
        shop.settled("bench")
        found = events(shop, made(shop))
        plan = plan_of(shop)
    hands = {task.key for task in build.tasks if task.people and task.outside_days is None}
    sessions = {one.start: one for uid, one in found.items() if uid.startswith("session-")}
    assert len(sessions) == sum(uid.startswith("session-") for uid in found)
    minute, days = (
        dt.timedelta(minutes=1),
        (
            max((task.ends.date() for task in plan.tasks), default=build.now.date())
            - build.now.date()
        ),
    )
    for away in range(days.days + 1):
        day = build.now.date() + dt.timedelta(days=away)
        for opens, closes in shop_sessions(build, day):
            surely, perhaps = set(), set()
            for task in plan.tasks:
                inside = min(task.ends, closes) - max(task.begins, opens, build.now)
                if task.key in hands and inside >= 2 * minute:
                    surely.add(names[task.key])
                elif task.key in hands and inside >= -minute:
                    perhaps.add(names[task.key])
            event = sessions.pop(opens, None)
            text = str(event["DESCRIPTION"]) if event is not None else ""
            told = set(re.findall(r"<\w+>", text))
            assert surely <= told <= surely | perhaps, (opens, surely, told, perhaps)
            if event is not None:
                assert event.end == closes
                assert told
    assert not sessions, "every session in the calendar is one of the shop"


def test_hours_of_the_sessions_are_those_of_next_weeks_page(shop: Shop) -> None:
    shop.settled("bench")
    page = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", shop.settled("week")))
    said = re.search(r"Week 8, 16 to 22 February.*?([\d.]+) h of work", page)
    assert said is not None
    hours = 0.0
    for uid, event in events(shop, made(shop)).items():
        if re.match(r"session-2026-02-(1[6-9]|2[0-2])-", uid):
            told = re.findall(r": ([\d.]+) h$", str(event["DESCRIPTION"]), re.M)
            hours += sum(map(float, told))
    assert hours == pytest.approx(float(said[1]), abs=0.3)  # each share is told to a tenth


# names --------------------------------------------------------------------------------------
def test_what_moves_in_the_plan_moves_in_the_calendar(shop: Shop) -> None:
    """Two weeks of closed evenings: all is later, and what is about a thing has its name."""
    address = made(shop)
    before = by_kind(events(shop, address))
    for day in {*range(11, 29)} - {18}:
        shop.post("shop/day", date=f"2026-02-{day}", closed="on")
    after = by_kind(events(shop, address))
    closed = [day for day in shop.stored().shop.days if not day.sessions]
    assert len(closed) >= 17
    things = [uid for uid in before if not uid.startswith(("session-", "helper-"))]
    assert len(things) > 20
    assert [uid for uid in things if uid not in after] == []
    assert after["end-likely"].start > before["end-likely"].start
    assert after["end-likely"]["SEQUENCE"] > before["end-likely"]["SEQUENCE"]
    assert after["wanted-by"].start == before["wanted-by"].start
    in_february = "session-2026-02-"
    # Tuesdays, Thursdays and Saturdays from the 10th to the 28th, and the Wednesday of the story
    assert sum(uid.startswith(in_february) for uid in before) == 9 + 1
    left = [uid for uid in after if uid.startswith(in_february)]
    assert left == ["session-2026-02-10-1", "session-2026-02-18-1"]


def test_a_calendar_that_nothing_moved_in_is_the_same_to_the_byte(shop: Shop) -> None:
    address = made(shop)
    first = shop.client.get(address)
    again = shop.client.get(address)
    assert (first.content, first.headers["etag"]) == (again.content, again.headers["etag"])
    for name, value in (
        ("if-none-match", first.headers["etag"]),
        ("if-none-match", f'"other", W/{first.headers["etag"]}'),
        ("if-modified-since", first.headers["last-modified"]),
    ):
        answer = shop.client.get(address, headers={name: value})
        assert (answer.status_code, answer.content) == (304, b"")
        assert answer.headers["etag"] == first.headers["etag"]
    shop.post("shop/facts", wanted_by="2026-07-04")
    assert shop.stored().wanted_by == dt.date(2026, 7, 4)
    for name, value in (
        ("if-none-match", first.headers["etag"]),
        ("if-modified-since", first.headers["last-modified"]),
        ("if-modified-since", "no date"),
    ):
        assert shop.client.get(address, headers={name: value}).status_code == 200
    later = shop.client.get(address)
    assert later.headers["last-modified"] > first.headers["last-modified"]
    moved = by_kind(events(shop, address))["wanted-by"]
    assert moved.start == dt.date(2026, 7, 4)


def test_two_builds_in_one_calendar_are_told_apart(shop: Shop) -> None:
    with shop.database.writing() as session:
        create_build(session, replace(shop.stored(), name="The Otter"))
    both = events(shop, made(shop))
    one = events(shop, made(shop, build="the-otter"))
    ends = Counter(uid.rpartition("@")[0].rpartition(".")[2] for uid in both)
    assert set(ends) == {"the-heron", "the-otter"}
    assert ends["the-heron"] == ends["the-otter"] == len(one)
    assert all(str(event["SUMMARY"]).startswith("The ") for event in both.values())
    assert {uid for uid in both if ".the-otter@" in uid} == set(one)


# the dates of the pages ---------------------------------------------------------------------
def test_order_by_days_are_those_of_parts(shop: Shop) -> None:
    parts = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", shop.settled("parts")))
    found = by_kind(events(shop, made(shop)))
    order = {uid: event for uid, event in found.items() if uid.startswith("order-")}
    assert len(order) >= 3
    for event in order.values():
        day = event.start
        name = str(event["SUMMARY"]).removeprefix("Last day to order: ").partition(" (")[0]
        said = f"Order by {day:%a} {day.day} {day:%B}"
        assert re.search(rf"{re.escape(name)}.{{0,200}}?{said}", parts), (name, said)


def test_what_is_waited_for_is_that_of_the_bench(shop: Shop) -> None:
    bench = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", shop.settled("bench")))
    found = by_kind(events(shop, made(shop)))
    back = [event for event in found.values() if str(event["SUMMARY"]).startswith("Back: ")]
    assert len(back) == 3
    for event in back:
        day, name = event.start, str(event["SUMMARY"]).removeprefix("Back: ")
        assert f"out, back {day:%a} {day.day} {day:%B}" in bench.partition(name)[2][:200]


def test_a_wait_that_runs_ends_at_its_moment(shop: Shop) -> None:
    """A coat that dries 24 hours behind a task that is finished now: tomorrow at half past six."""
    build = shop.stored()
    link = next(one for one in build.dependencies if one.wait_hours == 24)
    tasks = tuple(
        replace(task, finished_on=NOW, begun_on=None, hours_left=None)
        if task.key == link.before
        else task
        for task in build.tasks
    )
    with shop_of(replace(build, tasks=tasks, name="The Heron"), shop.data_file.parent) as other:
        found = by_kind(events(other, made(other)))
    wait = found[f"wait-{link.before}-1"]
    assert wait.start == NOW + dt.timedelta(hours=24)
    assert link.why in str(wait["SUMMARY"])


# the page and the address -------------------------------------------------------------------
def test_an_address_is_shown_once_and_leads_nowhere_once_it_is_changed(shop: Shop) -> None:
    address = made(shop)
    secret = address.rpartition("/")[2].removesuffix(".ics")
    page = shop.client.get("/feeds").text
    assert secret not in page
    assert "Phone" in page
    key = re.search(r"/feeds/change\?key=(\w+)", page)
    assert key is not None
    changed = shop.client.post(f"/feeds/change?key={key[1]}").text
    fresh = re.search(r"<code[^>]*>([^<]+)</code>", changed)
    assert fresh is not None
    assert shop.client.get(address).status_code == 404
    assert shop.client.get(fresh[1]).status_code == 200
    again = re.search(r"/feeds/take-back\?key=(\w+)", changed)
    assert again is not None
    gone = shop.client.post(f"/feeds/take-back?key={again[1]}")
    assert "leads nowhere any more" in gone.text
    assert shop.client.get(fresh[1]).status_code == 404
    for press in ("change", "take-back"):
        assert shop.client.post(f"/feeds/{press}?key={again[1]}").status_code == 404


def test_a_secret_opens_the_calendar_and_nothing_is_opened_without_it(shop: Shop) -> None:
    made(shop)
    for guess in ("x", "0" * 32, "%00", "..%2F", "\u202e", "a" * 5000):
        answer = shop.client.get(f"/feed/{guess}.ics")
        assert answer.status_code == 404
        assert "BEGIN:VCALENDAR" not in answer.text


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"name": "", "build": ""}, "Give it a name"),
        ({"name": "x" * 61, "build": ""}, "60 characters"),
        ({"name": "Phone", "build": "no-such"}, "not there any more"),
    ],
)
def test_what_is_missing_is_said_beside_its_field(
    shop: Shop, typed: dict[str, str], said: str
) -> None:
    answer = shop.client.post("/feeds/new", data=typed)
    assert answer.status_code == 422
    assert said in answer.text
    assert "There is none: no calendar is followed." in answer.text


def test_a_double_tap_makes_one_address(shop: Shop) -> None:
    token = re.search(r'name="once" value="([^"]+)"', shop.client.get("/feeds").text)
    assert token is not None
    for _ in range(2):
        shop.client.post("/feeds/new", data={"name": "Phone", "build": "", "once": token[1]})
    assert shop.client.get("/feeds").text.count("/feeds/change?key=") == 1


def test_what_is_overdue_goes_on_with_today(shop: Shop) -> None:
    found = by_kind(events(shop, made(shop)))
    overdue = [one for one in found.values() if str(one["SUMMARY"]).startswith("Part overdue")]
    assert [one.start for one in overdue] == [NOW.date()]
    with client_of(shop.data_file, NOW + dt.timedelta(days=2)) as client:
        later = by_kind(events(other := Shop(client, shop.data_file), made(other)))
    (uid,) = (uid for uid, one in found.items() if one in overdue)
    assert later[uid].start == NOW.date() + dt.timedelta(days=2)
