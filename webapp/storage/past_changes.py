"""The changes of a build as its journal tells them: what each made of what, the newest first."""

import datetime as dt
import json
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any

from sqlalchemy import ColumnElement, Row, func, select
from sqlmodel import Session, col

from webapp.build.build_input import BuildInput
from webapp.storage.journal import TAKEN_BACK
from webapp.storage.past_rows import BUILDS, PastRows
from webapp.storage.tables import NOUNS, BuildRow, JournalRow, SnapshotRow
from webapp.storage.tables.builds import HEADING, SHOP_HEADING

Own = tuple[ColumnElement[bool], ...]
"""What makes an entry of the journal one of a build's own."""
_PLACE_OF = {str(noun.row_class.__tablename__): noun for noun in NOUNS}
_SNAPSHOTS = str(SnapshotRow.__tablename__)
_HELD_AT = {BUILDS: "build"}
_KNOWN = {*_PLACE_OF, BUILDS, _SNAPSHOTS, TAKEN_BACK}
"""Nouns of the journal of which something is known; others are tables of an older version."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PastChange:
    """One change of a build. `at` is in UTC.

    before, after : the build on both sides; both None where the journal does not tell them,
        because something was written past it since (an older version of the program did)
    takes_back : the first and the last of the changes that this one took back
    frozen : labels of the snapshots taken with it: ("baseline / 1",)
    things : so many entries the journal has of it
    enters : the build was entered with it; then it has no `before`
    """

    revision: int
    at: dt.datetime
    things: int
    before: BuildInput | None = None
    after: BuildInput | None = None
    takes_back: tuple[int, int] | None = None
    frozen: tuple[str, ...] = ()
    enters: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """A change that wrote to a thing; `text` is what the journal has of it, None for all of it."""

    revision: int
    at: dt.datetime
    noun: str
    text: str | None

    def wrote(self, field: str) -> bool:
        """Whether it wrote to a field of the thing ("" for any)."""
        if self.text is None or not field:
            return True
        noun = _PLACE_OF.get(self.noun)
        if noun is None:
            columns = (*HEADING.columns_of(field), *SHOP_HEADING.columns_of(field))
        elif noun.owner is not None:
            return noun.owner.holds == field
        else:
            columns = noun.fields.columns_of(field)
        return any(name in columns for name in json.loads(self.text))


@dataclass(frozen=True, slots=True, kw_only=True)
class Past:
    """Some changes of a build, the newest first, and all that came after the oldest of them.

    total : so many changes the build has had since it was entered
    undone_by : the change that took a change back and still stands, by revision
    """

    changes: tuple[PastChange, ...]
    total: int
    undone_by: dict[int, int]
    touches: dict[tuple[str, str], list[Touch]] = field(default_factory=dict)

    def last_touch(self, at: str, key: str, field: str, *, since: int) -> Touch | None:
        """The last change after `since` that wrote to a field of the thing called `key` at `at`."""
        found = (t for t in self.touches.get((at, key), ()) if t.revision > since)
        return next((touch for touch in found if touch.wrote(field)), None)


def past_of(
    session: Session,
    slug: str,
    *,
    now: dt.datetime,
    skip: int = 0,
    most: int = 1,
    down_to: int | None = None,
    up_to: int | None = None,
) -> Past | None:
    """Up to `most` changes of a build, without the `skip` newest; None: no such build.

    With `down_to` all changes from the newest to that revision, of which `most` says nothing; those
    after `up_to` then without their builds, which take long where there are thousands.
    The builds are those of the moment `now`. A later build under the same address has a past of
    its own.
    """
    build_id = session.execute(
        select(col(BuildRow.id)).where(col(BuildRow.slug) == slug)
    ).scalar_one_or_none()
    if build_id is None:
        return None
    own = (col(JournalRow.slug) == slug, col(JournalRow.id) >= entered_with(session, slug))
    revisions = _revisions(session, own)
    wanted = set(revisions[skip : skip + most])
    if down_to is not None:
        wanted = {revision for revision in revisions if revision >= down_to}
    markers = session.execute(
        select(col(JournalRow.revision), col(JournalRow.key))
        .where(*own, col(JournalRow.noun) == TAKEN_BACK)
        .order_by(col(JournalRow.id).desc())
    ).all()
    groups = _entries_since(session, own, min(wanted, default=0))
    touches: defaultdict[tuple[str, str], list[Touch]] = defaultdict(list)
    changes = _walked(groups, wanted, PastRows(session, build_id), now, touches, up_to)
    return Past(
        changes=tuple(changes) if wanted else (),
        total=len(revisions),
        undone_by=_undone(revisions, [(int(at), *_range_of(key)) for at, key in markers]),
        touches=touches,
    )


def _revisions(session: Session, own: Own) -> list[int]:
    """The revisions of a build, the newest first."""
    return list(
        session.execute(
            select(col(JournalRow.revision))
            .where(*own)
            .group_by(col(JournalRow.revision))
            .order_by(col(JournalRow.revision).desc())
        ).scalars()
    )


def _entries_since(
    session: Session, own: Own, revision: int
) -> Iterator[tuple[int, Iterator[Row[Any]]]]:
    """The entries from a revision on, by their revisions, the newest first."""
    entries = session.execute(
        select(
            *(col(column) for column in (JournalRow.revision, JournalRow.at, JournalRow.noun)),
            *(col(column) for column in (JournalRow.key, JournalRow.change)),
            *(col(column) for column in (JournalRow.before, JournalRow.after)),
        )
        .where(*own, col(JournalRow.revision) >= revision)
        .order_by(col(JournalRow.id).desc())
    )
    return groupby(entries, key=lambda entry: int(entry.revision))


def entered_with(session: Session, slug: str) -> int:
    """The id of the journal's entry that the build was entered with; 0 where it has none."""
    found = session.execute(
        select(func.max(col(JournalRow.id))).where(
            col(JournalRow.slug) == slug,
            col(JournalRow.noun) == BUILDS,
            col(JournalRow.change) == "added",
        )
    ).scalar_one_or_none()
    return int(found or 0)


def _walked(
    groups: Iterator[tuple[int, Iterator[Row[Any]]]] | Any,
    wanted: set[int],
    rows: PastRows,
    now: dt.datetime,
    touches: defaultdict[tuple[str, str], list[Touch]],
    up_to: int | None,
) -> Iterator[PastChange]:
    """The wanted changes, with the rows going back one change after the other."""
    is_known = True
    for revision, group in groups:
        entries = list(group)
        is_built = revision in wanted and (up_to is None or revision <= up_to)
        after = rows.build(now) if is_known and is_built else None
        enters = any(entry.noun == BUILDS and entry.change == "added" for entry in entries)
        for entry in entries:
            _note_touch(entry, touches)
        if not enters:
            is_known = is_known and rows.step_back(
                [(e.noun, e.key, e.change, e.before, e.after) for e in entries]
            )
        if revision not in wanted:
            continue
        is_whole = (
            is_known and is_built and not enters and all(entry.noun in _KNOWN for entry in entries)
        )
        before = rows.build(now) if is_whole else None
        marks = [_range_of(entry.key) for entry in entries if entry.noun == TAKEN_BACK]
        yield PastChange(
            revision=revision,
            at=entries[0].at,
            things=len(entries),
            before=before,
            after=after if before is not None or enters else None,
            takes_back=marks[0] if marks else None,
            frozen=tuple(e.key for e in entries if e.noun == _SNAPSHOTS and e.change == "added"),
            enters=enters,
        )


def _note_touch(entry: Row[Any], touches: defaultdict[tuple[str, str], list[Touch]]) -> None:
    noun = _PLACE_OF.get(entry.noun)
    key = entry.key
    if noun is not None and noun.owner is not None:
        key = key.split(" / ", 1)[0]
    at = noun.at if noun is not None else _HELD_AT.get(entry.noun)
    if at is not None:
        touches[at, "" if noun is None else key].append(
            Touch(
                revision=entry.revision,
                at=entry.at,
                noun=entry.noun,
                text=entry.after if entry.change == "changed" else None,
            )
        )


def _range_of(key: str) -> tuple[int, int]:
    """The revisions that the key of a mark names: "6", "6-7"."""
    first, _, last = key.partition("-")
    return int(first), int(last or first)


def _undone(revisions: Sequence[int], markers: Sequence[tuple[int, int, int]]) -> dict[int, int]:
    """By which change each change is taken back, where that one itself still stands."""
    undone: dict[int, int] = {}
    for by, first, last in markers:  # the newest first, so that what took it back is judged
        if by in undone:
            continue
        for revision in revisions:
            if first <= revision <= last:
                undone.setdefault(revision, by)
    return undone
