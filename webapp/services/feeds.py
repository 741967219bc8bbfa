"""What calendars follow: their addresses, and since when each event is as it is."""

import datetime as dt
import secrets
import threading
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from webapp.exchange.calendar_feed import CalendarEvent, StampedEvent
from webapp.services.kept import Kept
from webapp.storage.feed_addresses import FeedAddresses

BUILDS_KEPT = 50
SHOWN_KEPT = 50
SHOWN_FOR = dt.timedelta(minutes=10)
_SECOND = dt.timedelta(seconds=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamped:
    """The events of one build, and when (UTC) any of them changed, came or went last."""

    events: tuple[StampedEvent, ...]
    changed_at: dt.datetime


class Feeds:
    """The feeds of one data file. Safe to share between threads."""

    def __init__(self, data_file: Path) -> None:
        self.addresses = FeedAddresses(data_file)
        self._lock = threading.Lock()
        self._stamped: Kept[str, Stamped] = Kept(BUILDS_KEPT)
        self._shown: Kept[str, tuple[str, dt.datetime]] = Kept(SHOWN_KEPT)

    def stamped(self, slug: str, events: Iterable[CalendarEvent], *, at: dt.datetime) -> Stamped:
        """The events of a build, each with the moment since which it is as it is.

        An event that is as it was keeps its stamp, so a calendar that nothing moved in is the
        same to the byte; one that moved gets `at`, later than the stamp it had. A program that
        was begun anew stamps everything anew.
        """
        at = at.astimezone(dt.UTC).replace(microsecond=0)
        with self._lock:
            before = self._stamped.get(slug)
            known = {one.event.uid: one for one in before.events} if before else {}
            now = tuple(_stamped(event, known.get(event.uid), at) for event in events)
            if before is not None and now == before.events:
                return before
            last = max([at, *([before.changed_at + _SECOND] if before else [])])
            return self._stamped.keep(slug, Stamped(events=now, changed_at=last))

    def show(self, secret: str, *, at: dt.datetime) -> str:
        """Have a new secret shown for ten minutes on the page that the answer leads to."""
        ticket = secrets.token_urlsafe(12)
        self._shown.keep(ticket, (secret, at))
        return ticket

    def shown(self, ticket: str, *, at: dt.datetime) -> str:
        """The secret that is to be shown, "" once its time is over."""
        secret, since = self._shown.get(ticket) or ("", at)
        if abs(at - since) < SHOWN_FOR:
            return secret
        self._shown.drop(ticket)
        return ""


def _stamped(event: CalendarEvent, before: StampedEvent | None, at: dt.datetime) -> StampedEvent:
    if before is None:
        return StampedEvent(event=event, stamp=at)
    if before.event == event:
        return before
    return StampedEvent(event=event, stamp=max(at, before.stamp + _SECOND))
