"""One calendar for one address: the events of its builds, once all of their dates are there."""

import datetime as dt
from dataclasses import dataclass

from webapp.exchange.calendar_feed import StampedEvent, write_calendar
from webapp.pages.feeds.events import Naming, events_of
from webapp.pages.frame.context import PageContext, page_of
from webapp.pages.parts.order_dates import latest_arrivals_of
from webapp.pages.words import feeds as words
from webapp.services.feeds import Stamped
from webapp.services.program import Services
from webapp.storage.builds import list_builds
from webapp.storage.feed_addresses import FeedAddress

WAITED_SECONDS = 20.0
"""So long a calendar waits for dates that are being worked out; a program does not mind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarText:
    """A calendar as it is sent, and when (UTC) anything in it changed last."""

    content: bytes
    changed_at: dt.datetime


def calendar_of(services: Services, address: FeedAddress) -> CalendarText | None:
    """The calendar of an address; None while its dates are being worked out.

    Its dates are those of the pages: the same plan, forecast and latest arrivals at hand.
    """
    with services.database.reading() as session:
        headings = list_builds(session)
    wanted = [one for one in headings if address.build in ("", one.slug)]
    installation = services.feeds.addresses.installation()
    found: list[Stamped] = []
    for heading in sorted(wanted, key=lambda one: one.slug):
        prefix = f"{heading.name}: " if len(wanted) > 1 else ""
        naming = Naming(slug=heading.slug, installation=installation, prefix=prefix)
        stamped = _stamped(services, naming)
        if stamped is None:
            return None
        found.append(stamped)
    events: list[StampedEvent] = [event for stamped in found for event in stamped.events]
    name = words.calendar_name([one.name for one in wanted])
    last = max(
        (stamped.changed_at for stamped in found), default=dt.datetime.fromtimestamp(0, dt.UTC)
    )
    return CalendarText(content=write_calendar(name, events), changed_at=last)


def _stamped(services: Services, naming: Naming) -> Stamped | None:
    page = _whole_page(services, naming.slug)
    if page is None:
        return None
    latest = latest_arrivals_of(page, wait_seconds=WAITED_SECONDS)
    if not latest.ready:
        return None
    events = tuple(naming.named(events_of(page, latest.value or {})))
    key = f"{naming.slug} {naming.prefix}"
    return services.feeds.stamped(key, events, at=services.settings.moment())


def _whole_page(services: Services, slug: str) -> PageContext | None:
    """What a page of the build has at hand once its forecast is there: so no date is half told."""
    page = page_of(services, slug, "Shop")
    if not page.forecast.ready:
        if not page.planned.forecast(wait_seconds=WAITED_SECONDS).ready:
            return None
        page = page_of(services, slug, "Shop")  # laid out at the pace of that forecast
    return page if page.forecast.ready else None
