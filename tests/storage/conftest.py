"""A database in a folder of its own, new or with the rich build in it."""

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tests.stored_files import opened_new, rich_file
from webapp.storage.database import Database


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    """A new, empty database."""
    with closing(opened_new(tmp_path / "keyturn.sqlite3")) as opened:
        yield opened


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A sound data file of the current schema with the rich build, which nobody has open."""
    path = tmp_path / "keyturn.sqlite3"
    path.write_bytes(rich_file())
    return path
