"""What became of a thing that is not in its build any more: as the journal tells it."""

import datetime as dt
import json
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Row, select
from sqlmodel import Session, col

from webapp.storage.past_changes import entered_with
from webapp.storage.tables import JournalRow

_NOUNS = {
    "run": "runs",
    "component": "components",
    "circuit": "circuits",
    "room": "rooms",
}
"""Where the journal has things that are told by their key."""
_PORTS = "component_ports"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fate:
    """How a thing went: what it was called, when (in UTC), and by which change.

    ports : of a run the two that it joined
    circuit : of a component its circuit
    renamed : of a port that is there under another name, that name
    """

    name: str
    at: dt.datetime
    revision: int
    ports: tuple[str, ...] = ()
    circuit: str = ""
    renamed: str = ""


def fate_of(session: Session, slug: str, kind: str, key: str) -> Fate | None:
    """How the thing of that kind and key went; None where the journal knows of none that did."""
    if kind not in _NOUNS:
        return None
    entry = _last_removed(session, slug, _NOUNS[kind], key)
    if entry is None:
        return None
    was = json.loads(entry.before)
    return Fate(
        name=was.get("name") or "",
        at=entry.at,
        revision=entry.revision,
        ports=tuple(was[name] for name in ("from_port", "to_port") if name in was),
        circuit=was.get("circuit_key") or "",
    )


def fate_of_port(session: Session, slug: str, component: str, name: str) -> Fate | None:
    """How a port went from a component, or what it is called now."""
    first = last = _last_removed(session, slug, _PORTS, f"{component} / {name}")
    if first is None or last is None:
        return None
    renamed = _came_in_its_place(session, slug, component, last.revision)
    called = renamed
    while called:
        gone = _last_removed(session, slug, _PORTS, f"{component} / {called}")
        if gone is None or gone.revision <= last.revision:
            break
        last = gone
        renamed = called = _came_in_its_place(session, slug, component, last.revision)
    return Fate(name=name, at=last.at, revision=last.revision, renamed=renamed)


def _last_removed(session: Session, slug: str, noun: str, key: str) -> Row[Any] | None:
    return session.execute(
        select(col(JournalRow.at), col(JournalRow.revision), col(JournalRow.before))
        .where(
            col(JournalRow.slug) == slug,
            col(JournalRow.noun) == noun,
            col(JournalRow.key) == key,
            col(JournalRow.change) == "removed",
            col(JournalRow.id) >= entered_with(session, slug),
        )
        .order_by(col(JournalRow.id).desc())
        .limit(1)
    ).one_or_none()


def _came_in_its_place(session: Session, slug: str, component: str, revision: int) -> str:
    """The name of the one port that came with the change by which one port went; "" for none."""
    entries = session.execute(
        select(col(JournalRow.key), col(JournalRow.change)).where(
            col(JournalRow.slug) == slug,
            col(JournalRow.noun) == _PORTS,
            col(JournalRow.revision) == revision,
            col(JournalRow.change).in_(("added", "removed")),
            col(JournalRow.id) >= entered_with(session, slug),
        )
    ).all()
    own = f"{component} / "
    came, went = (
        [str(key) for key, change in entries if change == which and key.startswith(own)]
        for which in ("added", "removed")
    )
    return came[0].removeprefix(own) if len(came) == len(went) == 1 else ""
