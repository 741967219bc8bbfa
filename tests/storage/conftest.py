"""A database in a folder of its own."""

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tests.stored_files import opened_new
from webapp.storage.database import Database


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    """A new, empty database."""
    with closing(opened_new(tmp_path / "keyturn.sqlite3")) as opened:
        yield opened
