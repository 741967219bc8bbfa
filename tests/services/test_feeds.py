"""Addresses of calendars, and since when each event is as it is."""

import datetime as dt
import json
import stat
from dataclasses import replace
from pathlib import Path

import pytest

from webapp.exchange.calendar_feed import CalendarEvent
from webapp.services.feeds import SHOWN_FOR, Feeds
from webapp.storage.feed_addresses import FeedAddresses, digest_of

TODAY = dt.date(2026, 2, 10)
AT = dt.datetime(2026, 2, 10, 18, 30, tzinfo=dt.UTC)
MINUTE = dt.timedelta(minutes=1)


def an_event(uid: str, day: int = 5, title: str = "x") -> CalendarEvent:
    return CalendarEvent(uid=uid, begins=dt.date(2026, 3, day), title=title)


@pytest.fixture
def feeds(tmp_path: Path) -> Feeds:
    return Feeds(tmp_path / "keyturn.sqlite3")


def test_what_did_not_change_keeps_its_stamp_and_what_moved_gets_a_later_one(feeds: Feeds) -> None:
    first = feeds.stamped("heron", [an_event("a"), an_event("b")], at=AT)
    assert feeds.stamped("heron", [an_event("a"), an_event("b")], at=AT + MINUTE) is first
    moved = feeds.stamped("heron", [an_event("a"), an_event("b", day=6)], at=AT + MINUTE)
    a, b = moved.events
    assert a == first.events[0]
    assert (b.stamp, b.sequence) == (AT + MINUTE, first.events[1].sequence + 60)
    assert moved.changed_at == AT + MINUTE


def test_two_moves_within_a_second_have_two_numbers(feeds: Feeds) -> None:
    numbers = [
        feeds.stamped("heron", [an_event("a", day=day)], at=AT).events[0].sequence
        for day in (5, 6, 7)
    ]
    assert numbers == [numbers[0], numbers[0] + 1, numbers[0] + 2]


def test_an_event_that_goes_changes_the_calendar(feeds: Feeds) -> None:
    before = feeds.stamped("heron", [an_event("a"), an_event("b")], at=AT)
    after = feeds.stamped("heron", [an_event("a")], at=AT)
    assert after.changed_at > before.changed_at
    assert after.events == before.events[:1]


def test_an_address_is_kept_as_a_digest_that_only_its_person_may_read(tmp_path: Path) -> None:
    data_file = tmp_path / "keyturn.sqlite3"
    addresses = FeedAddresses(data_file)
    secret = addresses.make("Phone", build="", today=TODAY)
    file = tmp_path / "keyturn.sqlite3.feeds"
    assert secret not in file.read_text()
    assert digest_of(secret) in file.read_text()
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert [path.name for path in tmp_path.iterdir()] == [file.name]
    assert len(secret) >= 32


def test_an_address_opens_until_it_is_changed_or_taken_back(tmp_path: Path) -> None:
    addresses = FeedAddresses(tmp_path / "keyturn.sqlite3")
    phone = addresses.make("Phone", build="heron", today=TODAY)
    laptop = addresses.make("Laptop", build="", today=TODAY)
    found = addresses.opened_by(phone, today=TODAY)
    assert found is not None
    assert (found.name, found.build) == ("Phone", "heron")
    fresh = addresses.change(found.key, today=TODAY)
    assert fresh is not None
    assert addresses.opened_by(phone, today=TODAY) is None
    again = addresses.opened_by(fresh, today=TODAY)
    assert again is not None
    assert (again.name, again.build) == ("Phone", "heron")
    assert addresses.take_back(again.key) is not None
    assert addresses.take_back(again.key) is None
    assert addresses.change(again.key, today=TODAY) is None
    assert addresses.opened_by(fresh, today=TODAY) is None
    assert addresses.opened_by(laptop, today=TODAY) is not None
    for guess in ("", digest_of(laptop), laptop[:-1], laptop + "\udc80", laptop.swapcase()):
        assert addresses.opened_by(guess, today=TODAY) is None


def test_the_last_day_of_use_is_kept_and_the_name_of_the_installation_stays(
    tmp_path: Path,
) -> None:
    addresses = FeedAddresses(tmp_path / "keyturn.sqlite3")
    secret = addresses.make("Phone", build="", today=TODAY)
    installation = addresses.installation()
    later = TODAY + dt.timedelta(days=3)
    addresses.opened_by(secret, today=later)
    again = FeedAddresses(tmp_path / "keyturn.sqlite3")
    assert [one.used_on for one in again.all()] == [later]
    assert again.installation() == installation


@pytest.mark.parametrize("text", ["", "{", "[]", '{"installation": "x", "addresses": [{}]}'])
def test_a_file_that_can_not_be_read_opens_nothing(tmp_path: Path, text: str) -> None:
    addresses = FeedAddresses(tmp_path / "keyturn.sqlite3")
    secret = addresses.make("Phone", build="", today=TODAY)
    (tmp_path / "keyturn.sqlite3.feeds").write_text(text)
    assert addresses.all() == ()
    assert addresses.opened_by(secret, today=TODAY) is None
    fresh = addresses.make("Phone", build="", today=TODAY)
    assert addresses.opened_by(fresh, today=TODAY) is not None


def test_a_disk_that_is_full_leaves_the_addresses_as_they_were(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    addresses = FeedAddresses(tmp_path / "keyturn.sqlite3")
    secret = addresses.make("Phone", build="", today=TODAY)
    before = (tmp_path / "keyturn.sqlite3.feeds").read_bytes()

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(json, "dump", full)
    with pytest.raises(OSError, match="No space"):
        addresses.make("Laptop", build="", today=TODAY)
    assert (tmp_path / "keyturn.sqlite3.feeds").read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["keyturn.sqlite3.feeds"]
    assert addresses.opened_by(secret, today=TODAY) is not None


def test_a_secret_is_shown_for_ten_minutes(feeds: Feeds) -> None:
    ticket = feeds.show("secret", at=AT)
    assert feeds.shown(ticket, at=AT + SHOWN_FOR - MINUTE) == "secret"
    assert feeds.shown(ticket, at=AT + SHOWN_FOR) == ""
    assert feeds.shown(ticket, at=AT) == ""
    assert feeds.shown("guessed", at=AT) == ""


def test_events_of_two_builds_are_stamped_apart(feeds: Feeds) -> None:
    one = an_event("a")
    feeds.stamped("heron", [one], at=AT)
    other = feeds.stamped("otter", [replace(one, title="y")], at=AT + MINUTE)
    assert other.changed_at == AT + MINUTE
    assert feeds.stamped("heron", [one], at=AT + MINUTE).changed_at == AT
