"""Events as a calendar that other programs follow (iCalendar, RFC 5545).

Times are written as local times without a zone ("form 1" of RFC 5545, 3.3.5). The shop clock has no
zone: it is the clock on the shop's wall, and so a calendar says the same day and the same time of
day as the pages do, on whichever device it is looked at, and the clock change moves nothing.
"""

import datetime as dt
import re
from collections.abc import Iterable
from dataclasses import dataclass

MEDIA_TYPE = "text/calendar; charset=utf-8"
ASKED_AGAIN_AFTER = dt.timedelta(hours=1)
"""So often a calendar is told to ask again."""
_COUNTED_FROM = dt.datetime(2026, 1, 1, tzinfo=dt.UTC)
_NO_TEXT = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff]")
"""What RFC 5545 keeps out of text: control characters but for tabs and line ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarEvent:
    """One event. `uid` is what a calendar knows it by: the same while it is about the same thing.

    `begins` is a date for a whole day, else naive local time; `ends` is None for a moment or for
    one whole day. `takes_time`: nothing else can be done meanwhile.
    """

    uid: str
    begins: dt.date
    ends: dt.datetime | None = None
    title: str
    text: str = ""
    takes_time: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class StampedEvent:
    """An event and the moment (UTC) since which it is as it is."""

    event: CalendarEvent
    stamp: dt.datetime

    @property
    def sequence(self) -> int:
        """The number of its version (RFC 5545, 3.8.7.4): it rises whenever the event changes.

        The seconds from the beginning of 2026 to the stamp, so that no count has to be kept.
        """
        return max(0, int((self.stamp - _COUNTED_FROM).total_seconds()))


def write_calendar(name: str, events: Iterable[StampedEvent]) -> bytes:
    """The calendar called `name` with these events, folded and escaped by RFC 5545."""
    # loaded when the first calendar is asked for: 0.2 s that no page waits for
    from icalendar import Calendar, Event

    from webapp.exchange.calendar_text import CalendarText

    calendar = Calendar()
    calendar.add("prodid", "-//Keyturn//Calendar feed//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    for heading in ("name", "x-wr-calname"):  # RFC 7986, and what was in use before it
        calendar[heading] = CalendarText(as_text(name))
    calendar.add("refresh-interval", ASKED_AGAIN_AFTER, {"value": "DURATION"})
    calendar.add("x-published-ttl", "PT1H")
    for stamped in events:
        event, made = stamped.event, Event()
        made.add("uid", event.uid)
        made.add("dtstamp", stamped.stamp)
        made.add("last-modified", stamped.stamp)
        made.add("sequence", stamped.sequence)
        made.add("dtstart", event.begins)
        if event.ends is not None:
            made.add("dtend", event.ends)
        made["summary"] = CalendarText(as_text(event.title))
        if event.text:
            made["description"] = CalendarText(as_text(event.text))
        made.add("transp", "OPAQUE" if event.takes_time else "TRANSPARENT")
        calendar.add_component(made)
    content: bytes = calendar.to_ical()
    return content


def as_text(text: str) -> str:
    """A text as a calendar may hold it: one kind of line end, no control characters."""
    return _NO_TEXT.sub("", text.replace("\r\n", "\n").replace("\r", "\n"))
