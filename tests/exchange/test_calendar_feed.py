"""Events as iCalendar: read back as they were, whatever their text, and folded by RFC 5545."""

import datetime as dt
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from webapp.exchange.calendar_feed import CalendarEvent, StampedEvent, as_text, write_calendar

STAMP = dt.datetime(2026, 2, 10, 17, 30, tzinfo=dt.UTC)
TEXTS = (
    "plain",
    "commas, semicolons; a back\\slash, \\n that is no line end, a \"quote\" and 'one'",
    "two\nlines\n\nand a last",
    "the drawings lie in D:\\New, and \\n, \\\\N and \\",
    "a colon: and=equals, DTSTART:20260101",
    "emoji 🔧🛠️ and flags 🇩🇪, Ångström, naïve",
    "מנוע חדש ברכב ישן, محرك جديد",
    "\u202eright to left by a mark\u202c",
    "x" * 74 + "\u00e4" * 80,
    "x" * 300,
    " leading and trailing ",
    "a\ttab, a line\u2028separator, a\u0085next line",
    "%2C ^n ^' ~ {braces}",
    "",
)


def event_of(text: str, **others: object) -> CalendarEvent:
    values = {"uid": "u@keyturn", "begins": dt.date(2026, 3, 5), "title": text, "text": text}
    return CalendarEvent(**{**values, **others})  # type: ignore[arg-type]


def written(*events: CalendarEvent, name: str = "The Heron") -> bytes:
    return write_calendar(name, (StampedEvent(event=one, stamp=STAMP) for one in events))


def read_back(content: bytes) -> list[Any]:
    calendar = Calendar.from_ical(content)
    assert not calendar.errors
    events = calendar.walk("VEVENT")
    assert not any(event.errors for event in events)
    return list(events)


@pytest.mark.parametrize("text", TEXTS)
def test_every_kind_of_text_is_read_back_as_it_was(text: str) -> None:
    (event,) = read_back(written(event_of(text), name=text))
    assert str(event["SUMMARY"]) == as_text(text)
    assert str(event.get("DESCRIPTION", "")) == as_text(text)


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=400))
def test_any_text_at_all_is_read_back(text: str) -> None:
    (event,) = read_back(written(event_of(text, uid=f"u-{len(text)}")))
    assert str(event["SUMMARY"]) == as_text(text)


@given(st.text())
def test_no_text_holds_what_a_calendar_may_not(text: str) -> None:
    """RFC 5545, 3.1: TEXT has no control characters but for the tab; a line end is written \\n."""
    assert not [c for c in as_text(text) if ord(c) < 32 and c not in "\t\n"]
    assert "\x7f" not in as_text(text)


@pytest.mark.parametrize("text", TEXTS)
def test_lines_end_with_crlf_and_have_at_most_75_octets(text: str) -> None:
    """RFC 5545, 3.1: "Lines of text SHOULD NOT be longer than 75 octets, excluding the line
    break"; what is folded goes on behind one space."""
    content = written(event_of(text))
    assert content.endswith(b"\r\n")
    lines = content.removesuffix(b"\r\n").split(b"\r\n")
    assert max(map(len, lines)) <= 75
    assert not [line for line in lines if b"\n" in line or b"\r" in line]
    for line in lines:
        line.decode("utf-8")  # no character is cut in two


def test_times_are_those_of_the_clock_in_the_shop_and_days_are_whole() -> None:
    """No zone and no Z: RFC 5545, 3.3.5, form 1; DTSTAMP is in UTC, as 3.8.7.2 asks."""
    session = event_of(
        "Shop",
        uid="session",
        begins=dt.datetime(2026, 3, 5, 18, 30),
        ends=dt.datetime(2026, 3, 6, 0, 0),
        takes_time=True,
    )
    content = written(session, event_of("Order", uid="order"))
    text = content.decode()
    assert "DTSTART:20260305T183000\r\nDTEND:20260306T000000\r\n" in text
    assert "DTSTART;VALUE=DATE:20260305\r\n" in text
    assert text.count("DTSTAMP:20260210T173000Z") == 2
    assert "TZID" not in text
    in_shop, whole_day = read_back(content)
    assert (in_shop["TRANSP"], whole_day["TRANSP"]) == ("OPAQUE", "TRANSPARENT")
    assert in_shop.start == dt.datetime(2026, 3, 5, 18, 30)
    assert whole_day.start == dt.date(2026, 3, 5)


def test_a_later_stamp_has_a_higher_number_and_fits_an_integer() -> None:
    """RFC 5545, 3.3.8: an INTEGER goes up to 2,147,483,647: that is past the year 2090."""
    event = event_of("x")
    early = StampedEvent(event=event, stamp=STAMP)
    late = StampedEvent(event=event, stamp=STAMP + dt.timedelta(seconds=1))
    assert late.sequence == early.sequence + 1
    in_2090 = StampedEvent(event=event, stamp=dt.datetime(2090, 1, 1, tzinfo=dt.UTC))
    assert in_2090.sequence <= 2_147_483_647
