"""How the scope of a build changed, as the journal tells it: work added, dropped, re-estimated."""

import datetime as dt
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from operator import itemgetter
from typing import Any, Literal

from sqlalchemy import func, select
from sqlmodel import Session, col

from webapp.build.three_point import ThreePoint
from webapp.storage.tables import BuildRow, JournalRow, TaskRow

ScopeChangeKind = Literal["added", "dropped", "re-estimated"]
_ESTIMATE = itemgetter("optimistic_hours", "most_likely_hours", "pessimistic_hours")
_TOLD_BY = ('_hours"', '"set_aside_on"', '"name"', '"wish_key"')
"""What stands in a journal row that says something of scope; the others are not even parsed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScopeChange:
    """One change of the work that a build holds.

    `at` is naive local time. Hours are expected hours of the whole task; what is not there
    has none. `wish` is the key of the wish the task came from.
    """

    at: dt.datetime
    task: str
    name: str
    kind: ScopeChangeKind
    hours_before: float
    hours_after: float
    wish: str | None


def scope_history(session: Session, slug: str) -> tuple[ScopeChange, ...]:
    """Every task added, dropped or re-estimated since the build was entered, the oldest first.

    A task set aside is dropped, one taken up again added; an estimate changed while the task is
    set aside counts when it is taken up. What came with the build itself is no change. A later
    build under the same address has a history of its own. () where there is no such build.
    """
    entered = _entry_of_the_build(session, slug)
    if entered is None:
        return ()
    first_id, first_revision = entered
    rows = session.execute(
        select(
            col(JournalRow.at),
            col(JournalRow.revision),
            col(JournalRow.key),
            col(JournalRow.change),
            col(JournalRow.after),
        )
        .where(
            col(JournalRow.slug) == slug,
            col(JournalRow.noun) == TaskRow.__tablename__,
            col(JournalRow.id) > first_id,
        )
        .order_by(col(JournalRow.id))
    )
    tasks: dict[str, Mapping[str, Any]] = {}
    changes: list[ScopeChange] = []
    for at, revision, key, change, after in rows:
        if change == "changed" and not any(words in after for words in _TOLD_BY):
            continue
        before = tasks.get(key, {})
        if change == "removed":
            tasks.pop(key, None)
        else:
            tasks[key] = {**before, **json.loads(after)}
        if revision != first_revision:
            local = at.astimezone().replace(tzinfo=None)
            changes.extend(_changes(local, key, before, tasks.get(key, {})))
    return tuple(changes)


def _entry_of_the_build(session: Session, slug: str) -> tuple[int, int] | None:
    """Id and revision of the journal row that tells of the build, None where it is gone."""
    if session.execute(select(col(BuildRow.id)).where(col(BuildRow.slug) == slug)).first() is None:
        return None
    last = (
        select(func.max(col(JournalRow.id)))
        .where(
            col(JournalRow.slug) == slug,
            col(JournalRow.noun) == BuildRow.__tablename__,
            col(JournalRow.change) == "added",
        )
        .scalar_subquery()
    )
    found = session.execute(
        select(col(JournalRow.id), col(JournalRow.revision)).where(col(JournalRow.id) == last)
    ).one_or_none()
    return None if found is None else (found[0], found[1])


def _changes(
    at: dt.datetime, key: str, before: Mapping[str, Any], after: Mapping[str, Any]
) -> Iterator[ScopeChange]:
    was_there, is_there = _in_scope(before), _in_scope(after)
    kind: ScopeChangeKind
    if was_there and is_there:
        if _ESTIMATE(before) == _ESTIMATE(after):
            return
        kind = "re-estimated"
    elif was_there or is_there:
        kind = "added" if is_there else "dropped"
    else:
        return
    known = after or before
    yield ScopeChange(
        at=at,
        task=key,
        name=known["name"],
        kind=kind,
        hours_before=_expected(before) if was_there else 0.0,
        hours_after=_expected(after) if is_there else 0.0,
        wish=known.get("wish_key"),
    )


def _in_scope(task: Mapping[str, Any]) -> bool:
    return bool(task) and task["set_aside_on"] is None


def _expected(task: Mapping[str, Any]) -> float:
    optimistic, most_likely, pessimistic = _ESTIMATE(task)
    points = ThreePoint(optimistic=optimistic, most_likely=most_likely, pessimistic=pessimistic)
    return points.expected
