"""The running clock of the task on the bench, one in a build."""

import datetime as dt
from dataclasses import dataclass

from sqlalchemy import select
from sqlmodel import Session, col

from webapp.storage.builds import build_row, mark_changed, rows_of
from webapp.storage.tables import BuildRow, RunningClockRow


@dataclass(frozen=True, slots=True, kw_only=True)
class RunningClock:
    """The task on the bench, and since when: naive local time."""

    task_key: str
    since: dt.datetime


def running_clock(session: Session, slug: str) -> RunningClock | None:
    """The clock that runs, None where nothing is on the bench."""
    found = session.execute(
        select(col(RunningClockRow.task_key), col(RunningClockRow.since))
        .join(BuildRow, col(BuildRow.id) == col(RunningClockRow.build_id))
        .where(col(BuildRow.slug) == slug)
    ).one_or_none()
    return None if found is None else RunningClock(task_key=found.task_key, since=found.since)


def start_clock(session: Session, slug: str, task_key: str, since: dt.datetime) -> None:
    """Put a task on the bench. A clock that already runs for it keeps its `since`.

    Another task's clock is replaced. KeyError: no such build; an unknown task raises
    IntegrityError when the transaction is committed.
    """
    build = build_row(session, slug)
    clocks = rows_of(session, RunningClockRow, build)
    if any(clock.task_key == task_key for clock in clocks):
        return
    mark_changed(build)
    for clock in clocks:
        session.delete(clock)
    session.flush()
    assert build.id is not None
    session.add(RunningClockRow(build_id=build.id, task_key=task_key, since=since))
    session.flush()


def stop_clock(session: Session, slug: str) -> None:
    """Take the task off the bench; nothing happens where none is. KeyError: no such build."""
    build = build_row(session, slug)
    clocks = rows_of(session, RunningClockRow, build)
    if clocks:
        mark_changed(build)
    for clock in clocks:
        session.delete(clock)
    session.flush()
