"""From the key `plumbing` of a document, and what its parts bring, to what is plumbed."""

from collections.abc import Sequence
from typing import Any

from webapp.build.plumbing import (
    NOTHING_PLUMBED,
    Circuit,
    Component,
    Ordered,
    Piece,
    Plumbing,
    Port,
    Run,
    ShelfThing,
    SoldLength,
    Stop,
)
from webapp.exchange.document_entry import Entry
from webapp.exchange.document_models import PartEntry
from webapp.exchange.entry_nouns import nouns, said_of
from webapp.exchange.plumbing_models import PieceEntry, PlumbingEntry, PortEntry, StopEntry


def plumbing_of(entry: PlumbingEntry | None, parts: Sequence[PartEntry]) -> Plumbing:
    """What is plumbed, as far as it could be read."""
    ordered = tuple(
        Ordered(part=part.key, **said_of(line)) for part in parts for line in part.plumbing or ()
    )
    if entry is None and not ordered:
        return NOTHING_PLUMBED
    return Plumbing(
        components=nouns(_component, _list(entry, "components")),
        circuits=nouns(Circuit, _list(entry, "circuits")),
        runs=nouns(_run, _list(entry, "runs")),
        shelf=nouns(ShelfThing, _list(entry, "shelf")),
        ordered=ordered,
        sold=nouns(SoldLength, _list(entry, "sold")),
    )


def _list(entry: PlumbingEntry | None, name: str) -> Sequence[Entry]:
    return () if entry is None else getattr(entry, name) or ()


def _component(*, ports: Sequence[PortEntry] = (), **said: Any) -> Component:
    return Component(**said, ports=nouns(_port, ports))


def _port(*, stop: StopEntry | None = None, **said: Any) -> Port:
    return Port(**said, stop=None if stop is None else Stop(**said_of(stop)))


def _run(*, pieces: Sequence[PieceEntry] = (), **said: Any) -> Run:
    return Run(**said, pieces=nouns(Piece, pieces))
