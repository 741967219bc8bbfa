"""The application with a build in which nothing is plumbed."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from tests.pages.conftest import Shop, opened
from tests.plumbing.heron import heron
from tests.stored_files import file_with
from webapp.build.plumbing import NOTHING_PLUMBED
from webapp.storage.builds import create_build


@pytest.fixture
def unplumbed(tmp_path: Path) -> Iterator[Shop]:
    """The Heron before anything of it was drawn."""
    data_file = tmp_path / "heron.sqlite3"
    data_file.write_bytes(_unplumbed_file())
    yield from opened(data_file)


@cache
def _unplumbed_file() -> bytes:
    build = replace(heron(), plumbing=NOTHING_PLUMBED)
    return file_with(lambda session: create_build(session, build))
