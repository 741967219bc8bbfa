"""Rows into a frozen `BuildInput`, by plain rows rather than row objects: pages wait for it."""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from sqlalchemy import bindparam, inspect, select
from sqlmodel import Session, col

from webapp.build.build_input import BuildInput
from webapp.build.data_sheet import DataSheet
from webapp.build.first_start import FirstStart
from webapp.build.plumbing import Plumbing
from webapp.build.shop import Shop
from webapp.storage.journal import LOADED
from webapp.storage.plain_rows import PlainRows, Stored
from webapp.storage.read_last import keep_read, read_last
from webapp.storage.tables import NOUNS, BuildRow
from webapp.storage.tables.builds import HEADING, SHOP_HEADING
from webapp.storage.tables.noun import Noun
from webapp.storage.trouble import UnusableDatabaseError

_ROWS = {noun: PlainRows(noun.row_class, noun.columns) for noun in NOUNS}
_Made = dict[Noun, tuple[list[Stored], tuple[Any, ...]]]
"""Of each noun the rows of it and of what belongs to it that a connection read last, and the things
that it made of them."""
_MADE_LAST = "things made of rows"
_SELECT_BUILD = select(
    *(inspect(BuildRow).columns[name] for name in (*HEADING.columns, *SHOP_HEADING.columns, "id"))
).where(col(BuildRow.slug) == bindparam("slug"))


def load_build(session: Session, slug: str, *, now: dt.datetime) -> BuildInput | None:
    """The build as it stands, at the moment `now` (naive local time); None: no such build.

    Raises `UnusableDatabaseError` where what is stored is no build.
    """
    session.flush()  # what waits to be written is written since
    connection = session.connection()
    build = read_last(connection).get(slug)
    if build is not None:
        return _believed(session, slug, build if build.now == now else replace(build, now=now))
    try:
        build = _load(session, slug, now)
    except ValueError as error:
        raise UnusableDatabaseError(
            f"What is stored of the build {slug} can not be read ({error}): the data file is "
            "damaged, or another program wrote into it. Nothing was changed; put back a copy.",
            "damaged",
        ) from error
    if build is None:
        return None
    keep_read(connection, slug, build)
    return _believed(session, slug, build)


def _believed(session: Session, slug: str, build: BuildInput) -> BuildInput:
    """The build, remembered as what is stored until this transaction writes."""
    session.info.setdefault(LOADED, {})[slug] = build
    return build


def _load(session: Session, slug: str, now: dt.datetime) -> BuildInput | None:
    heading = session.execute(_SELECT_BUILD, {"slug": slug}).one_or_none()
    if heading is None:
        return None
    connection, build_id = session.connection(), heading.id
    # The rows are read each time: where they are what they were, so are the things. After a change
    # that is most of a build, and to make the things takes as long as to read the rows.
    made: _Made = connection.info.setdefault(_MADE_LAST, {})

    def things_of(noun: Noun) -> tuple[Any, ...]:
        stored = [_ROWS[each].stored(connection, build_id) for each in noun.with_owned]
        if noun not in made or made[noun][0] != stored:
            rows = dict(zip(noun.with_owned, stored, strict=True))
            made[noun] = stored, noun.things(lambda each: _ROWS[each].read(rows[each]))
        return made[noun][1]

    return build_of(heading, things_of, now)


def build_of(
    heading: Sequence[Any], things_of: Callable[[Noun], tuple[Any, ...]], now: dt.datetime
) -> BuildInput:
    """A build of the values of its own row (`HEADING`, `SHOP_HEADING`) and the things of nouns."""
    things: dict[str, dict[str, Any]] = {
        name: {} for name in ("", "shop", "plumbing", "data_sheet", "start")
    }
    for noun in NOUNS:
        if noun.owner is None:
            where, _, name = noun.at.rpartition(".")
            things[where][name] = things_of(noun)
    of_shop = SHOP_HEADING.of_row(heading[len(HEADING.columns) :])
    return BuildInput(
        now=now,
        **HEADING.of_row(heading),
        **things[""],
        shop=Shop(**of_shop, **things["shop"]),
        plumbing=Plumbing(**things["plumbing"]),
        data_sheet=DataSheet(**things["data_sheet"]),
        start=FirstStart(**things["start"]),
    )


def is_stored(session: Session, slug: str, build: BuildInput) -> bool:
    """Whether this is what is stored; what was loaded in this very transaction is believed."""
    loaded = session.info.get(LOADED, {})
    return loaded.get(slug) is build or load_build(session, slug, now=build.now) == build
