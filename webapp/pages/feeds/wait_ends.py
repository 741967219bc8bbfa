"""The ends of waits in a calendar: cures, outside work, work that runs by itself."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator
from urllib.parse import quote

from webapp.build.build_input import Dependency, Task
from webapp.build.moments import date_of
from webapp.exchange.calendar_feed import CalendarEvent
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts
from webapp.pages.words import feeds as words
from webapp.planning.network.outside_holds import finished_at
from webapp.planning.order.plan import Plan


def wait_ends(page: PageContext, plan: Plan, last: dt.date) -> Iterator[CalendarEvent]:
    """Every wait that runs or is planned, and ends after now and up to a last day."""
    for event in (*_cures(page, plan), *_without_hands(page, plan)):
        if _is_ahead(event.begins, page.now) and date_of(event.begins) <= last:
            yield event


def _is_ahead(at: dt.date, now: dt.datetime) -> bool:
    """Whether a moment is still to come; a whole day is until it is over."""
    return at > now if isinstance(at, dt.datetime) else at >= now.date()


def _cures(page: PageContext, plan: Plan) -> Iterator[CalendarEvent]:
    """The waits after finished and planned tasks: one event for all that end at once.

    A task may have several after it, each with a wait of its own: they are told apart by their
    place in the order of their lengths.
    """
    build = page.planned.planned_input
    tasks = {task.key: task for task in build.tasks}
    ends = {task.key: task.ends for task in plan.tasks}
    waits: defaultdict[str, defaultdict[float, list[Dependency]]]
    waits = defaultdict(lambda: defaultdict(list))
    for link in build.dependencies:
        if link.wait_hours > 0 and tasks[link.after].is_open:
            waits[link.before][link.wait_hours].append(link)
    for before, lengths in waits.items():
        task = tasks[before]
        since = finished_at(build, task) if task.finished_on is not None else ends.get(before)
        if since is None:
            continue
        for place, hours in enumerate(sorted(lengths), 1):
            links = lengths[hours]
            why = next((link.why for link in links if link.why), "")
            yield CalendarEvent(
                uid=f"wait-{quote(before, safe='')}-{place}",
                begins=_told(page, task, since + dt.timedelta(hours=hours)),
                title=words.wait_title(task.name, why),
                text=words.wait_text([tasks[link.after].name for link in links]),
            )


def _without_hands(page: PageContext, plan: Plan) -> Iterator[CalendarEvent]:
    """Outside work that is to come back, and begun work that runs by itself."""
    tasks = {task.key: task for task in page.build.tasks}
    for planned in plan.tasks:
        task = tasks[planned.key]
        is_begun = task.begun_on is not None
        if task.outside_days is not None:
            yield CalendarEvent(
                uid=f"back-{quote(task.key, safe='')}",
                begins=planned.ends.date(),
                title=words.back_title(task.name, is_out=is_begun),
            )
        elif not task.people and is_begun:
            yield CalendarEvent(
                uid=f"done-{quote(task.key, safe='')}",
                begins=_told(page, task, planned.ends),
                title=words.by_itself_title(task.name),
            )


def _told(page: PageContext, task: Task, at: dt.datetime) -> dt.date:
    """A moment that facts give, or that is near; else its day, as everywhere in a plan."""
    at = at.replace(second=0, microsecond=0)
    is_fact = task.finished_on is not None
    return at if is_fact or amounts.is_near(at, today=page.today) else at.date()
