"""The sessions of the week that comes next, each with what is planned in it, in strings."""

import datetime as dt
from dataclasses import dataclass

from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.week.labels import monday_of, week_words
from webapp.pages.words import amounts as words
from webapp.planning.order.session_work import SessionWork, session_work
from webapp.planning.record.week_figures import IsoWeek

LAST_OF_A_WEEK = dt.timedelta(days=6)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedShare:
    """One task of a session and its hours there."""

    name: str
    address: str
    hours: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionLine:
    """One session: `nothing` says so where no work is planned in it."""

    day: str
    time: str
    shares: tuple[PlannedShare, ...]
    nothing: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NextSessions:
    """The sessions of a week; `none` says why there are none."""

    title: str
    hours: str
    lines: tuple[SessionLine, ...]
    none: str


def next_sessions(page: PageContext, week: IsoWeek) -> NextSessions:
    """What is planned in each session of a week, from the plan that Order shows."""
    title = week_words(week, today=page.today)
    if page.plan is None:
        none = "Nothing is planned while the build has faults."
        return NextSessions(title=title, hours="", lines=(), none=none)
    first = monday_of(week)
    work = session_work(page.planned.laid_input, page.plan, first, first + LAST_OF_A_WEEK)
    hours = sum(share.hours for session in work for share in session.shares)
    return NextSessions(
        title=title,
        hours=f"{words.tenth_hours(hours)} of work" if work else "",
        lines=tuple(_line(page, one) for one in work),
        none="" if work else "The shop is closed all week.",
    )


def _line(page: PageContext, session: SessionWork) -> SessionLine:
    names = {task.key: task.name for task in page.build.tasks}
    opens, closes = map(words.clock_minute, (session.opens_minute, session.closes_minute))
    helper = ", with the helper" if session.helper else ""
    return SessionLine(
        day=words.day(session.date, today=page.today),
        time=f"{opens} to {closes}{helper}",
        shares=tuple(
            PlannedShare(
                name=names[share.key],
                address=addresses.task(page.slug, share.key),
                hours=words.tenth_hours(share.hours),
            )
            for share in session.shares
        ),
        nothing="" if session.shares else "Nothing is planned: all there is waits.",
    )
