"""The days of parts in a calendar: those to order by, and those on which they come."""

import datetime as dt
from collections.abc import Iterator
from urllib.parse import quote

from webapp.build.build_input import Part
from webapp.build.due_days import due_of
from webapp.build.moments import date_of
from webapp.exchange.calendar_feed import CalendarEvent
from webapp.pages.frame.context import PageContext
from webapp.pages.parts.order_dates import order_by_of
from webapp.pages.words import feeds as words
from webapp.pages.words.parts import assumed


def part_days(page: PageContext, latest: dict[str, dt.date]) -> Iterator[CalendarEvent]:
    """One event for each part that is not here and has a day: to order by, else to come.

    What is overdue stands at today, and goes on with it until it is done.
    """
    tasks = {task.key: task for task in page.build.tasks}
    for part in page.build.parts:
        if part.arrived:
            continue
        names = [tasks[key].name for key in part.serves if tasks[key].is_open]
        if part.ordered_on is None:
            event = _to_order(page, part, latest.get(part.key), names)
        else:
            event = _on_the_way(page, part, names)
        if event is not None:
            yield event


def _to_order(
    page: PageContext, part: Part, latest: dt.date | None, names: list[str]
) -> CalendarEvent | None:
    order_by = order_by_of(part, latest)
    if latest is None or order_by is None:
        return None
    uid, today = f"order-{quote(part.key, safe='')}", page.today
    if part.lead_days is None:
        return CalendarEvent(
            uid=uid,
            begins=max(latest, today),
            title=words.needed_title(part.name),
            text=words.needed_text(names),
        )
    return CalendarEvent(
        uid=uid,
        begins=max(order_by, today),
        title=words.order_title(part.name, order_by=order_by, today=today, supplier=part.supplier),
        text=words.order_text(
            order_by=order_by, latest=latest, lead_days=part.lead_days, today=today, tasks=names
        ),
    )


def _on_the_way(page: PageContext, part: Part, names: list[str]) -> CalendarEvent | None:
    due = due_of(part, page.today)
    if due is None:
        return None
    said = date_of(due.said)
    return CalendarEvent(
        uid=f"part-{quote(part.key, safe='')}",
        begins=max(said, page.today),
        title=words.due_title(part.name, said=said, today=page.today),
        text=words.due_text(assumed(part, due, page.today) if due.assumed else "", names),
    )
