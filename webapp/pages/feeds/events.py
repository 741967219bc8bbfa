"""What stands in a calendar of a build: the dates of its pages, each as one event.

Every event is known by what it is about, never by when it is: a session by its day and its place
in it, a part and a task by their keys. So what moves in the plan moves in the calendar.
"""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from webapp.build.build_input import Task
from webapp.build.moments import moment_at_start
from webapp.build.time.shop_calendar import sessions_on
from webapp.exchange.calendar_feed import CalendarEvent
from webapp.pages.feeds.part_days import part_days
from webapp.pages.feeds.wait_ends import wait_ends
from webapp.pages.frame.context import PageContext, wanted_words
from webapp.pages.words import amounts
from webapp.pages.words import feeds as words
from webapp.planning.order.plan import Plan
from webapp.planning.order.session_work import SessionWork, session_work

MOST_DAYS_AHEAD = 400
"""No session, and no wait, that is planned later stands in a calendar."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Naming:
    """Gives the events of one build their names; `prefix` begins the titles."""

    slug: str
    installation: str
    prefix: str = ""

    def named(self, events: Iterable[CalendarEvent]) -> Iterator[CalendarEvent]:
        """The same with names that no other program, and no other build, gives."""
        for event in events:
            yield CalendarEvent(
                uid=f"{event.uid}.{self.slug}@{self.installation}.keyturn",
                begins=event.begins,
                ends=event.ends,
                title=f"{self.prefix}{event.title}",
                text=event.text,
                takes_time=event.takes_time,
            )


def events_of(page: PageContext, latest: dict[str, dt.date]) -> Iterator[CalendarEvent]:
    """All events of a build; `latest` are the latest arrivals of its parts, as Parts has them."""
    last = page.today + dt.timedelta(days=MOST_DAYS_AHEAD)
    if page.plan is not None:
        work = _sessions(page, page.plan, last)
        tasks = {task.key: task for task in page.build.tasks}
        yield from (_session(page, one, tasks) for one in work)
        yield from _helper_days(page, work)
        yield from part_days(page, latest)
        yield from wait_ends(page, page.plan, last)
    yield from _dates(page)


def _sessions(page: PageContext, plan: Plan, last: dt.date) -> tuple[SessionWork, ...]:
    """The sessions with work in them, as Week cuts them from the plan that Order shows."""
    ends = max((task.ends.date() for task in plan.tasks), default=page.today)
    build = page.planned.laid_input
    found = session_work(build, plan, page.today, min(ends, last))
    return tuple(one for one in found if one.shares)


def _session(page: PageContext, session: SessionWork, tasks: Mapping[str, Task]) -> CalendarEvent:
    lines = [
        words.share(tasks[one.key].name, one.hours, tasks[one.key].caution)
        for one in session.shares
    ]
    midnight = moment_at_start(session.date)
    return CalendarEvent(
        uid=f"session-{session.date.isoformat()}-{_place(page, session)}",
        begins=midnight + dt.timedelta(minutes=session.opens_minute),
        ends=midnight + dt.timedelta(minutes=session.closes_minute),
        title=words.session_title([tasks[one.key].name for one in session.shares]),
        text="\n".join(lines),
        takes_time=True,
    )


def _place(page: PageContext, session: SessionWork) -> int:
    """Which session of its day it is, those that are over counted."""
    opens = sorted({hours.opens_minute for hours in sessions_on(page.build, session.date)})
    return opens.index(session.opens_minute) + 1


def _helper_days(page: PageContext, work: tuple[SessionWork, ...]) -> Iterator[CalendarEvent]:
    """The days on which tasks are planned that need the helper."""
    tasks = {task.key: task for task in page.build.tasks}
    needed: dict[dt.date, dict[str, None]] = {}
    times: dict[dt.date, list[tuple[int, int]]] = {}
    for session in work:
        keys = [one.key for one in session.shares if tasks[one.key].helper]
        if session.helper and keys:
            needed.setdefault(session.date, {}).update(dict.fromkeys(keys))
            span = session.opens_minute, session.closes_minute
            times.setdefault(session.date, []).append(span)
    for day, found in needed.items():
        yield CalendarEvent(
            uid=f"helper-{day.isoformat()}",
            begins=day,
            title=words.helper_title([tasks[key].name for key in found]),
            text=words.helper_text(times[day]),
        )


def _dates(page: PageContext) -> Iterator[CalendarEvent]:
    """The wanted-by date, and first start likely and firm, or done."""
    build = page.build
    at = page.plan.first_start_at if page.plan else None
    if build.wanted_by is not None:
        said = wanted_words(build.wanted_by, at, page.today)
        yield CalendarEvent(
            uid="wanted-by",
            begins=build.wanted_by,
            title=words.wanted_title(),
            text=f"{amounts.sentence(said)}." if said and at else "",
        )
    end = next((task for task in build.tasks if task.key == build.first_start), None)
    if end is not None and end.finished_on is not None:
        done = moment_at_start(end.finished_on).date()
        yield CalendarEvent(uid="end-likely", begins=done, title=words.done_title())
        return
    if at is not None:
        yield CalendarEvent(
            uid="end-likely", begins=at.date(), title=words.likely_title(), text=words.likely_text()
        )
    if page.figures is not None:
        odds = amounts.odds(build.confidence)
        yield CalendarEvent(
            uid="end-firm",
            begins=page.figures.forecast.at(build.confidence).date(),
            title=words.firm_title(odds),
            text=words.firm_text(odds),
        )
