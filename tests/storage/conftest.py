"""A database in a folder of its own."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from webapp.storage.database import Database


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    """A new, empty database."""
    opened = Database.open(tmp_path / "keyturn.sqlite3")
    yield opened
    opened.close()
