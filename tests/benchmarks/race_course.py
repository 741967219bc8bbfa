"""Where posts are raced: a small build to which everything has been done, and copies of it."""

import asyncio
import shutil
import sqlite3
import time
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

import httpx
from fastapi import FastAPI
from starlette.testclient import TestClient

from tests.benchmarks.forms_found import Form
from tests.storage.rich_build import NOW, RICH_BUILD
from webapp.app import create_app
from webapp.build.build_input import BuildInput
from webapp.settings import Settings
from webapp.storage.builds import create_build
from webapp.storage.database import Database

HOST = "http://127.0.0.1"
BUILD = "/builds/the-heron"
ODD_KEY = "either/or"
"""A key that no path can carry: the pages of such things have addresses of their own."""
FOUND_WITHIN_SECONDS = 60
BY_CHANCE = {"id", "at", "changed_at", "forecast"}
"""Columns that tell when a row was written, or what was worked out by then, not what it says."""

Rows = dict[str, list[tuple[object, ...]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """How things stand when a race begins. `tightened`: an order was looked for and found."""

    posts: tuple[Form, ...] = ()
    tightened: bool = False


STATES = (
    State(
        posts=(
            Form(action=f"{BUILD}/bench/begin", fields=(("task", "mount"),)),
            Form(action=f"{BUILD}/scope"),
        )
    ),
    State(),
    State(tightened=True),
)
"""At work, with a baseline; nothing on the bench; an order that waits to be kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """The answers to some posts, and every row that they left behind."""

    statuses: tuple[int, ...]
    rows: Rows


class Course:
    """A database in a state, and a fresh program on a copy of it for every race."""

    def __init__(self, folder: Path, state: State) -> None:
        self._prepared, self._copy = folder / "prepared.sqlite3", folder / "copy.sqlite3"
        self._tightened = state.tightened
        with closing(Database.open(self._prepared)) as database, database.writing() as session:
            create_build(session, raced_build())
        with self.browsed() as client:
            for form in state.posts:
                answer = client.post(form.action, data=form.sent, follow_redirects=False)
                assert answer.status_code == 303, answer.text
        self.rows = rows_of(self._prepared)

    @contextmanager
    def browsed(self) -> Iterator[TestClient]:
        """The program on the database itself, to be looked at page by page."""
        app = create_app(_settings(self._prepared))
        with TestClient(app, base_url=HOST, client=("127.0.0.1", 50000)) as client:
            if self._tightened:
                asyncio.run(_tighten(client.app))  # type: ignore[arg-type]
            yield client

    def posted(self, forms: Sequence[Form], *, at_once: bool) -> Outcome:
        """What comes of forms posted to a fresh copy, all at once or one after the other."""
        shutil.copy(self._prepared, self._copy)
        app = create_app(_settings(self._copy))
        try:
            statuses = asyncio.run(self._post(app, forms, at_once=at_once))
        finally:
            app.state.services.tightenings.close()
            app.state.services.database.close()
        return Outcome(statuses=statuses, rows=rows_of(self._copy))

    async def _post(self, app: FastAPI, forms: Sequence[Form], *, at_once: bool) -> tuple[int, ...]:
        if self._tightened:
            await _tighten(app)
        async with _client(app) as client:
            posts = [client.post(form.action, data=form.sent) for form in forms]
            if at_once:
                return tuple(answer.status_code for answer in await asyncio.gather(*posts))
            return tuple([(await post).status_code for post in posts])


def _settings(data_file: Path) -> Settings:
    return Settings(data_file=data_file, frozen_now=NOW)


def _client(app: FastAPI) -> httpx.AsyncClient:
    transport = httpx.ASGITransport(app, raise_app_exceptions=False)
    return httpx.AsyncClient(transport=transport, base_url=HOST, timeout=60)


async def _tighten(app: FastAPI) -> None:
    """Look for an earlier order, until one is found."""
    async with _client(app) as client:
        await client.post(f"{BUILD}/tighten", data={"seconds": "10"})
        deadline = time.monotonic() + FOUND_WITHIN_SECONDS
        while "keep-order" not in (await client.get(f"{BUILD}/tightening")).text:
            assert time.monotonic() < deadline, "no order was found"
            await asyncio.sleep(0.05)


def raced_build() -> BuildInput:
    """A build with something of everything, a task that is done elsewhere, and odd keys."""
    tasks, parts, wishes = RICH_BUILD.tasks, RICH_BUILD.parts, RICH_BUILD.wishes
    mount, drain, coat, spare, start = tasks
    return replace(
        RICH_BUILD,
        tasks=(
            replace(mount, notes="Two lines, as one"),  # its own hold what no page shows
            drain,
            coat,
            replace(spare, wish="lamp"),
            replace(start, wish=None),
            replace(coat, key=ODD_KEY, name="Weld elsewhere", begun_on=NOW, finished_on=None),
        ),
        parts=(*parts, replace(parts[2], key=ODD_KEY, name="Either part")),
        wishes=(*wishes, replace(wishes[3], key=ODD_KEY, text="Either wish")),
    )


def rows_of(path: Path) -> Rows:
    """Every row of every table, in no order; and what SQLite finds wrong with the file."""
    rows: Rows = {}
    with closing(sqlite3.connect(path)) as database:
        names = database.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        for (name,) in names.fetchall():
            found = database.execute(f'SELECT * FROM "{name}"')
            kept = [i for i, column in enumerate(found.description) if column[0] not in BY_CHANCE]
            rows[name] = sorted((tuple(row[i] for i in kept) for row in found), key=repr)
        for pragma in ("integrity_check", "foreign_key_check"):
            rows[pragma] = [row for row in database.execute(f"PRAGMA {pragma}") if row != ("ok",)]
    return rows
