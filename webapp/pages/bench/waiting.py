"""What is being waited for, and until when: cures, parts, work without hands, circuits."""

import datetime as dt
from collections.abc import Container, Mapping
from dataclasses import dataclass

from webapp.build.due_days import due_of
from webapp.build.moments import moment_at_start
from webapp.build.verbs.work import needs_hands
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.parts import assumed
from webapp.planning.network.held_now import back_at
from webapp.planning.network.outside_holds import finished_waits

SHOWN = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """One thing waited for. `finish_key` is set where the person can say that it is done."""

    what: str
    until: str
    address: str
    finish_key: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitingList:
    waits: tuple[Waiting, ...]
    more: int


def waiting_list(
    page: PageContext, held: Container[str], circuits: Mapping[str, str]
) -> WaitingList:
    """Everything waited for, the soonest first, what has no date last.

    `held` are the keys of the tasks that something else than a circuit holds, `circuits` says by
    task which circuits do.
    """
    away = (*_cures(page), *_parts(page), *_away(page), *_circuits(page, held, circuits))
    found = sorted(away, key=lambda pair: pair[0])
    waits = tuple(waiting for _, waiting in found)
    return WaitingList(waits=waits[:SHOWN], more=max(0, len(waits) - SHOWN))


Dated = tuple[dt.datetime, Waiting]


def _cures(page: PageContext) -> list[Dated]:
    tasks = {task.key: task for task in page.build.tasks}
    why = {(link.before, link.after): link.why for link in page.planned.linked.dependencies}
    ends: dict[str, tuple[dt.datetime, str]] = {}
    for before, after, until in finished_waits(page.planned.linked):
        if (
            until > page.now
            and tasks[after].is_open
            and until > ends.get(before, (page.now, ""))[0]
        ):
            ends[before] = (until, why[before, after] or "wait")
    return [
        (
            until,
            Waiting(
                what=f"{tasks[key].name}: {reason}",
                until=f"until {words.moment(until, today=page.today)}",
                address=addresses.task(page.slug, key),
            ),
        )
        for key, (until, reason) in ends.items()
    ]


def _parts(page: PageContext) -> list[Dated]:
    open_keys = {task.key for task in page.build.tasks if task.is_open and task.begun_on is None}
    found = []
    for part in page.build.parts:
        if part.arrived or not open_keys.intersection(part.serves):
            continue
        reckoned = due_of(part, page.today)
        due = dt.datetime.max if reckoned is None else moment_at_start(reckoned.said)
        if reckoned is None:
            until = "no date yet"
        elif due <= page.now:
            until = f"was due {words.day(due, today=page.today)}: is it here?"
        else:
            until = f"due {words.day(due, today=page.today)}"
        if reckoned is not None and reckoned.assumed:
            until += f" ({assumed(part, reckoned, page.today)})"
        found.append(
            (
                due,
                Waiting(what=f"Part: {part.name}", until=until, address=addresses.parts(page.slug)),
            )
        )
    return found


def _away(page: PageContext) -> list[Dated]:
    """Begun work that takes no hands: sent out, or running by itself."""
    ends = {task.key: task.ends for task in page.plan.tasks} if page.plan else {}
    found = []
    for task in page.build.tasks:
        if not task.is_open or task.begun_on is None or needs_hands(task):
            continue
        if task.outside_days is not None:
            due = back_at(task.begun_on, task.outside_days)
            late = due <= page.now
            day = words.day(due, today=page.today)
            until = f"out, was due back {day}" if late else f"out, back {day}"
        else:
            due = ends.get(task.key, page.now)
            until = f"runs by itself until {words.moment(due, today=page.today)}"
        found.append(
            (
                due,
                Waiting(
                    what=task.name,
                    until=until,
                    address=addresses.task(page.slug, task.key),
                    finish_key=task.key,
                ),
            )
        )
    return found


def _circuits(page: PageContext, held: Container[str], reasons: Mapping[str, str]) -> list[Dated]:
    """Tasks that nothing but circuits hold: what is open there is all that is left to do."""
    return [
        (
            dt.datetime.max,
            Waiting(
                what=task.name,
                until=reasons[task.key],
                address=addresses.task(page.slug, task.key),
            ),
        )
        for task in page.build.tasks
        if task.key in reasons and task.key not in held and task.begun_on is None
    ]
