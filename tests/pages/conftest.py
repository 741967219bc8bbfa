"""The application on a database of its own with The Heron in it, at a fixed moment."""

import datetime as dt
import html
import re
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from types import SimpleNamespace

import pytest

from tests.pages.background import WhenLookedFor
from tests.pages.client import Client, stay_in_the_thread
from tests.settled import settled
from tests.stored_files import empty_file, file_with
from tests.worked_out_once import keep_what_is_worked_out
from webapp import app
from webapp.build.build_input import BuildInput
from webapp.exchange.build_document import read_document
from webapp.services import plan_cache
from webapp.settings import Settings
from webapp.storage import database
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build
from webapp.storage.changes import store_changes
from webapp.storage.database import Database

NOW = dt.datetime(2026, 2, 10, 18, 30)
"""A Tuesday, the moment the shop opens."""
_NO_COLLECTOR = SimpleNamespace(collect=lambda: None, freeze=lambda: None)
"""A program keeps the collector off what lives as long as it does; that of a test ends."""
HERON = Path(__file__).parents[2] / "seed_data" / "heron.json"


def without_tokens(page: str) -> str:
    """A page as it is every time it is asked for: each of its forms has a new token then."""
    return re.sub(r'<input type="hidden" name="once" value="[\w-]{16}">', "", page)


class Shop:
    """A client and the database behind it."""

    def __init__(self, client: Client, data_file: Path) -> None:
        self.client, self.data_file = client, data_file
        self.database: Database = client.app.state.services.database

    def page(self, name: str) -> str:
        """A page of The Heron, which has to be there, its character references resolved."""
        answer = self.client.get(f"/builds/the-heron/{name}")
        assert answer.status_code == 200, answer.text
        return html.unescape(answer.text)

    def settled(self, name: str) -> str:
        """A page once everything that it works out in the background is there."""
        return html.unescape(settled(self.client, f"/builds/the-heron/{name}"))

    def post(self, address: str, /, **fields: str) -> "tuple[int, str]":
        """Send a form to an address below The Heron; status and page in the end."""
        answer = self.client.post(f"/builds/the-heron/{address}", data=fields)
        return answer.status_code, answer.text

    def seen(self, address: str) -> str:
        """What a question below The Heron shows of what would go, as it is carried along."""
        found = re.search(
            r'name="seen" value="([^"]*)"', self.client.get(f"/builds/the-heron/{address}").text
        )
        assert found is not None, address
        return html.unescape(found[1])

    def removed(self, address: str, **fields: str) -> "tuple[int, str]":
        """Ask whether something is to go, and press that it is."""
        return self.post(address, seen=self.seen(address), **fields)

    def become(self, after: BuildInput) -> None:
        """Store The Heron as it is to be, past its pages."""
        with self.database.writing() as session:
            before = load_build(session, "the-heron", now=NOW)
            assert before is not None
            store_changes(session, "the-heron", before, after)

    def stored(self, slug: str = "the-heron") -> BuildInput:
        """The build as the database has it."""
        with self.database.reading() as session:
            build = load_build(session, slug, now=NOW)
        assert build is not None
        return build


def client_of(data_file: Path, now: dt.datetime = NOW) -> Client:
    """The application on a data file that a test made: it is sound, and of the current schema."""
    settings = Settings(data_file=data_file, frozen_now=now)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(plan_cache, "Background", WhenLookedFor)
        for looked_at in ("require_sound", "upgrade_schema"):
            patch.setattr(database, looked_at, lambda _path: None)
        application = app.create_app(settings)
    return Client(application, base_url="http://127.0.0.1:8642")


def opened(data_file: Path) -> Iterator[Shop]:
    """The application on a data file, for the length of a test."""
    with client_of(data_file) as client:
        yield Shop(client, data_file)


@contextmanager
def shop_of(build: BuildInput, folder: Path) -> Iterator[Shop]:
    """The application on a data file of its own with a build in it, at its moment."""
    data_file = folder / "build.sqlite3"
    data_file.write_bytes(file_with(lambda session: create_build(session, build)))
    with client_of(data_file, build.now) as client:
        yield Shop(client, data_file)


@pytest.fixture(autouse=True, scope="session")
def _worked_out_once() -> Iterator[None]:
    """Work the figures of a build out once for all tests: most begin with the same Heron."""
    with pytest.MonkeyPatch.context() as patch:
        keep_what_is_worked_out(patch)
        stay_in_the_thread(patch)
        patch.setattr(app, "gc", _NO_COLLECTOR)
        yield


@pytest.fixture
def bare(tmp_path: Path) -> Iterator[Shop]:
    """No build at all."""
    data_file = tmp_path / "bare.sqlite3"
    data_file.write_bytes(empty_file())
    yield from opened(data_file)


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    """The Heron, as the seed data have it."""
    data_file = tmp_path / "heron.sqlite3"
    data_file.write_bytes(_heron_file())
    yield from opened(data_file)


@pytest.fixture(scope="module")
def still_shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """The same for tests that change nothing: one for a module."""
    data_file = tmp_path_factory.mktemp("still") / "heron.sqlite3"
    data_file.write_bytes(_heron_file())
    yield from opened(data_file)


@cache
def _heron_file() -> bytes:
    """A database file with The Heron in it."""
    build, faults = read_document(HERON.read_bytes(), now=NOW)
    assert build is not None
    assert not faults
    return file_with(lambda session: create_build(session, build))
