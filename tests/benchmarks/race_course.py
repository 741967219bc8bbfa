"""Where posts are raced: a small build to which everything has been done, and copies of it."""

import asyncio
import datetime as dt
import json
import re
import shutil
import sqlite3
import time
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import httpx
from fastapi import FastAPI
from fastapi.routing import APIRoute
from starlette.testclient import TestClient

from tests.benchmarks.forms_found import PAGES_OF_A_KIND, Form, forms_found, forms_in
from tests.photographs import photograph
from tests.storage.rich_build import NOW
from webapp.app import create_app
from webapp.build.build_input import BuildInput
from webapp.settings import Settings
from webapp.storage.builds import create_build
from webapp.storage.database import Database
from webapp.storage.feed_addresses import FeedAddresses

HOST = "http://127.0.0.1"
BUILD = "/builds/the-heron"
ODD_KEY = "either/or"
"""A key that no path can carry: the pages of such things have addresses of their own."""
FOUND_WITHIN_SECONDS = 60
POLLED_EVERY_SECONDS = 1
"""What is looked for stands by while a page is answered."""
_MOMENT = re.compile(r'("(?:made|taken_out)_at": ")[^"]+')
BY_CHANCE = {"made_at", "taken_out_at", "id", "at", "changed_at", "forecast", "called"}
"""Columns that tell when a row was written, what was worked out by then, or a name that the program
makes up for itself, not what it says."""

Rows = dict[str, list[tuple[object, ...]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Something looked for in the background: the form that begins it, and what `page` then says.

    It is kept in memory alone, so it is looked for again before every race.
    """

    form: Form
    page: str
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """How things stand when a race begins, and where forms are looked for then.

    build : the build as it is stored at `now`
    prepare : what is done to the data file by no form
    posts : what is done with it before
    work : what is looked for in the background, until it is found
    begin, within, of_a_kind : see `forms_found`
    """

    build: Callable[[], BuildInput]
    now: dt.datetime = NOW
    prepare: Callable[[Path], None] | None = None
    posts: tuple[Form, ...] = ()
    work: Work | None = None
    begin: tuple[str, ...] = ("/",)
    within: tuple[str, ...] = ("/",)
    of_a_kind: int = PAGES_OF_A_KIND


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """The answers to some posts, and every row that they left behind."""

    statuses: tuple[int, ...]
    texts: tuple[str, ...]
    rows: Rows


class Course:
    """A database in a state, and a fresh program on a copy of it for every race."""

    def __init__(self, folder: Path, state: State) -> None:
        self._prepared = folder / "prepared" / "keyturn.sqlite3"
        self._copy = folder / "copy" / "keyturn.sqlite3"
        self._state = state
        self._prepared.parent.mkdir()
        with closing(Database.open(self._prepared)) as database, database.writing() as session:
            create_build(session, state.build())
        if state.prepare is not None:
            state.prepare(self._prepared)
        with self.browsed() as client:
            for form in state.posts:
                answer = client.post(form.action, data=form.sent, follow_redirects=False)
                assert answer.status_code == 303, answer.text
        feeds = FeedAddresses(self._prepared)
        self._secrets = frozenset(one.digest for one in feeds.all())
        self.rows = rows_of(self._prepared, self._secrets)

    def forms(self, routes: Sequence[APIRoute]) -> list[Form]:
        """Every form that is to be found in this state."""
        state = self._state
        with self.browsed() as client:
            return forms_found(
                client, routes, state.begin, within=state.within, of_a_kind=state.of_a_kind
            )

    @contextmanager
    def browsed(self) -> Iterator[TestClient]:
        """The program on the database itself, to be looked at page by page."""
        app = create_app(self._settings(self._prepared))
        with TestClient(app, base_url=HOST, client=("127.0.0.1", 50000)) as client:
            asyncio.run(self._work(client.app))  # type: ignore[arg-type]
            yield client

    def posted(self, forms: Sequence[Form], *, at_once: bool) -> Outcome:
        """What comes of forms posted to a fresh copy, all at once or one after the other."""
        shutil.rmtree(self._copy.parent, ignore_errors=True)
        shutil.copytree(self._prepared.parent, self._copy.parent)
        app = create_app(self._settings(self._copy))
        try:
            answers = asyncio.run(self._post(app, forms, at_once=at_once))
        finally:
            app.state.services.tightenings.close()
            app.state.services.cuttings.close()
            app.state.services.database.close()
        return Outcome(
            statuses=tuple(answer.status_code for answer in answers),
            texts=tuple(answer.text for answer in answers),
            rows=rows_of(self._copy, self._secrets),
        )

    async def _post(
        self, app: FastAPI, forms: Sequence[Form], *, at_once: bool
    ) -> list[httpx.Response]:
        await self._work(app)
        async with _client(app) as client:
            posts = [client.post(form.action, **_body_of(form)) for form in forms]
            if at_once:
                return await asyncio.gather(*posts)
            return [await post for post in posts]

    async def _work(self, app: FastAPI) -> None:
        """Have everything looked for in the background, until it is found."""
        work = self._state.work
        if work is None:
            return
        async with _client(app) as client:
            shown = forms_in((await client.get(work.page)).text)
            carried = next((one.sent for one in shown if one.action == work.form.action), {})
            await client.post(work.form.action, data={**carried, **work.form.sent})
            deadline = time.monotonic() + FOUND_WITHIN_SECONDS
            while work.says not in (await client.get(work.page)).text:
                assert time.monotonic() < deadline, f"{work.page} never said {work.says}"
                await asyncio.sleep(POLLED_EVERY_SECONDS)

    def _settings(self, data_file: Path) -> Settings:
        return Settings(data_file=data_file, frozen_now=self._state.now)


def _client(app: FastAPI) -> httpx.AsyncClient:
    transport = httpx.ASGITransport(app, raise_app_exceptions=False)
    return httpx.AsyncClient(transport=transport, base_url=HOST, timeout=60)


def _body_of(form: Form) -> dict[str, Any]:
    """What is sent of a form: with a picture where it asks for one."""
    if not form.pictures:
        return {"data": form.sent}
    picture = ("picture.jpg", photograph(), "image/jpeg")
    return {"data": form.sent, "files": [(name, picture) for name in form.pictures]}


def rows_of(path: Path, known: Collection[str] = ()) -> Rows:
    """Every row of every table, in no order; what SQLite finds wrong; what lies beside the file.

    Of calendar addresses whether their secret is among those `known`, of copies and photographs
    how many there are.
    """
    rows: Rows = {"calendar addresses": []}
    with suppress(FileNotFoundError):
        listed = json.loads(path.with_name(f"{path.name}.feeds").read_text("utf-8"))["addresses"]
        rows["calendar addresses"] = sorted(
            (one["name"], one["build"], one["digest"] in known) for one in listed
        )
    for beside in ("copies", "photographs"):
        rows[beside] = [(len(list(path.with_name(f"{path.name}.{beside}").glob("*.*"))),)]
    with closing(sqlite3.connect(path)) as database:
        called = dict(database.execute("SELECT key, name FROM own_lists").fetchall())
        rules = database.execute("SELECT key FROM sharings ORDER BY id").fetchall()
        called |= {key: f"rule {number}" for number, (key,) in enumerate(rules, 1)}
        names = database.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        for (name,) in names.fetchall():
            found = database.execute(f'SELECT * FROM "{name}"')
            kept = [i for i, column in enumerate(found.description) if column[0] not in BY_CHANCE]
            told = (tuple(_said(row[i], called) for i in kept) for row in found)
            rows[name] = sorted(told, key=repr)
        for pragma in ("integrity_check", "foreign_key_check"):
            rows[pragma] = [row for row in database.execute(f"PRAGMA {pragma}") if row != ("ok",)]
    return rows


def _said(value: object, called: Mapping[str, str]) -> object:
    """A value without what is made by chance in it.

    A starter list of one's own goes by its name, a rule of sharing by its place, and of the moments
    a list was made and taken out there is told that there are such.
    """
    if not isinstance(value, str):
        return value
    for key, name in called.items():
        value = value.replace(key, name)
    return _MOMENT.sub(r"\1then", value)
