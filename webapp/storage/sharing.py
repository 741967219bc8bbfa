"""How the builds of a data file share their hours, and what of it is over: facts of each build.

Each rule is a row of its own, so that the journal of the data file has them all. What was over is
written past the journal: nobody did it, and no Undo may take it back.
"""

import datetime as dt
import json
import secrets
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, cast

from sqlalchemy import Table, bindparam, func, insert, inspect, select, update
from sqlmodel import Session, col

from webapp.build.sharing import NOTHING_SHARED, HandedOver, Sharing, SharingBuild, SharingWay
from webapp.build.shop import GivenAway
from webapp.storage.builds import build_row
from webapp.storage.journal import LOADED
from webapp.storage.tables import SharingRow
from webapp.storage.tables.shop import GivenAwayRow

KEY_BYTES = 6
_NAMES = ("key", "way", "builds", "handed_over", "since", "settled_until")
_LAST_RULES = (
    select(*(col(getattr(SharingRow, name)) for name in _NAMES))
    .order_by(col(SharingRow.id).desc())
    .limit(bindparam("at_most"))
)
"""Asked by every page: SQLAlchemy looks through a statement once as long as it is the same one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredSharing:
    """A rule, since when it holds, and until when what it gave away is stored as facts."""

    key: str
    sharing: Sharing
    since: dt.datetime
    settled_until: dt.datetime


def sharing_of(session: Session) -> StoredSharing | None:
    """The rule that holds; None where none was ever made."""
    return next(iter(sharing_history(session, limit=1)), None)


def sharing_history(session: Session, limit: int = 20) -> tuple[StoredSharing, ...]:
    """The rules there were, the last first."""
    rows = session.execute(_LAST_RULES, {"at_most": limit})
    return tuple(_stored(row) for row in rows)


def _stored(row: Any) -> StoredSharing:
    key, way, builds, handed, since, until = row
    return StoredSharing(
        key=key,
        sharing=Sharing(
            way=cast(SharingWay, way),
            builds=tuple(SharingBuild(slug=s, sessions=n) for s, n in json.loads(builds)),
            handed_over=_handed(handed),
        ),
        since=dt.datetime.fromisoformat(since),
        settled_until=dt.datetime.fromisoformat(until),
    )


def _handed(text: str) -> tuple[HandedOver, ...]:
    return tuple(
        HandedOver(
            date=dt.date.fromisoformat(date), opens_minute=opens, closes_minute=closes, slug=slug
        )
        for date, opens, closes, slug in json.loads(text)
    )


def _as_json(handed: Iterable[HandedOver]) -> str:
    return json.dumps(
        [[one.date.isoformat(), one.opens_minute, one.closes_minute, one.slug] for one in handed]
    )


def keep_sharing(session: Session, sharing: Sharing, *, at: dt.datetime) -> str:
    """Let a rule hold from a moment of the shop clock on; its key."""
    key = secrets.token_hex(KEY_BYTES)
    session.add(
        SharingRow(
            key=key,
            way=sharing.way,
            builds=json.dumps([[one.slug, one.sessions] for one in sharing.builds]),
            handed_over=_as_json(sharing.handed_over),
            since=at.isoformat(),
            settled_until=at.isoformat(),
        )
    )
    session.flush()
    return key


def keep_facts(session: Session, slug: str, given: Iterable[GivenAway]) -> None:
    """Add what a build gave away to its facts."""
    rows = list(given)
    if not rows:
        return
    build, table = build_row(session, slug), _table(GivenAwayRow)
    last = session.execute(
        select(func.max(col(GivenAwayRow.position))).where(col(GivenAwayRow.build_id) == build.id)
    ).scalar_one_or_none()
    first = 0 if last is None else last + 1
    names = GivenAway.__dataclass_fields__
    values = [
        {name: getattr(one, name) for name in names} | {"build_id": build.id, "position": place}
        for place, one in enumerate(rows, first)
    ]
    session.connection().execute(insert(table), values)
    session.info.pop(LOADED, None)


def keep_settled(
    session: Session, key: str, until: dt.datetime, handed_over: Iterable[HandedOver]
) -> None:
    """Write down until when what a rule gave away is stored, and who has the session that runs."""
    table = _table(SharingRow)
    session.connection().execute(
        update(table)
        .where(table.c.key == key)
        .values(settled_until=until.isoformat(), handed_over=_as_json(handed_over))
    )


def _table(row_class: type[Any]) -> Table:
    return cast(Table, inspect(row_class).local_table)


def sharing_now(session: Session) -> Sharing:
    """The rule that holds; nothing shared where there is none."""
    stored = sharing_of(session)
    return NOTHING_SHARED if stored is None else stored.sharing
