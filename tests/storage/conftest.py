"""A database in a folder of its own."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.stored_files import empty_file
from webapp.storage.database import Database


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    """A new, empty database."""
    path = tmp_path / "keyturn.sqlite3"
    path.write_bytes(empty_file())
    opened = Database.open(path)
    yield opened
    opened.close()
