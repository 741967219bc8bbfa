"""Writing a changed build: only what was added, changed or removed, in the order of entry."""

from collections import defaultdict, deque
from operator import itemgetter
from typing import Any

from sqlmodel import Session

from webapp.build.build_input import BuildInput
from webapp.storage.build_loader import is_stored
from webapp.storage.builds import build_row, mark_changed, rows_of
from webapp.storage.tables import NOUNS, BuildRow, Row
from webapp.storage.tables.builds import heading_values
from webapp.storage.tables.noun import Values

Pairs = list[tuple[Any, Values]]


def store_changes(session: Session, slug: str, before: BuildInput, after: BuildInput) -> None:
    """Turn the stored build `before` into `after` and count up its revision.

    `before` is what `load_build` gave in this same transaction; RuntimeError if it is not what
    is stored. `after` must be free of faults of reference. KeyError: no such build. `now` is
    not stored. Nothing is written where nothing differs.
    """
    build = build_row(session, slug)
    if not is_stored(session, slug, before):
        raise RuntimeError(f"The build {slug!r} is not what it was when it was loaded.")
    heading = heading_values(after)
    changed = [
        (noun.row_class, values)
        for noun in NOUNS
        if (values := noun.values_if_changed(before, after)) is not None
    ]
    if not changed and heading == heading_values(before):
        return
    mark_changed(build)
    for name, value in heading.items():
        setattr(build, name, value)
    session.flush()
    matched = [
        (row_class, *_match(rows_of(session, row_class, build), row_class, wanted))
        for row_class, wanted in changed
    ]
    # What refers goes before what it refers to; nothing is added until everything is gone.
    for _, _, gone in reversed(matched):
        for row in gone:
            session.delete(row)
        session.flush()
    for row_class, pairs, _ in matched:
        _write_in_order(session, row_class, build, pairs)
        session.flush()


def _match(rows: list[Any], row_class: type[Row], wanted: list[Values]) -> tuple[Pairs, list[Any]]:
    """Pair what is wanted with the rows there are (None: a new row); the rest is gone.

    Rows that stay as they are find each other first: a log may hold two entries of one task on
    one date, and it is the one that differs that was changed.
    """
    pairs: Pairs = [(None, values) for values in wanted]
    for names in (wanted[0], row_class.IDENTITY) if wanted else ():
        said = itemgetter(*names)
        free: defaultdict[Any, deque[Any]] = defaultdict(deque)
        for row in rows:
            free[said(_read(row))].append(row)
        for index, (row, values) in enumerate(pairs):
            if row is None and (same := free.get(said(values))):
                pairs[index] = (same.popleft(), values)
        rows = [row for same in free.values() for row in same]
    return pairs, rows


def _read(row: Row) -> Values:
    """What a row that was just read says, by its columns: a change asks some five thousand times,
    and asked by its attributes it looks each time whether it has to be read again."""
    return vars(row)


def _write_in_order(session: Session, row_class: type[Row], build: BuildRow, pairs: Pairs) -> None:
    """Set the values of rows and add new ones, moving a position only where it must rise."""
    last: defaultdict[tuple[Any, ...], int] = defaultdict(lambda: -1)
    for row, values in pairs:
        group = tuple(values[name] for name in row_class.GROUP)
        if row is None:
            last[group] += 1
            placed = {"build_id": build.id, "position": last[group]}
            session.add(row_class(**placed, **values))
            continue
        said = _read(row)
        for name, value in values.items():
            if said[name] != value:
                setattr(row, name, value)
        if row.position <= last[group]:
            row.position = last[group] + 1
        last[group] = row.position
