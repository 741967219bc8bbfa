"""The application with the demo build and its plumbing."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.pages.conftest import Shop, opened
from tests.plumbing.heron import heron
from tests.stored_files import file_with
from webapp.build.build_input import BuildInput
from webapp.pages.frame import context
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build


@pytest.fixture
def plumbed_shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Shop]:
    """The Heron with all that is plumbed in it: it is read from the document."""

    def loaded(*given: Any, **named: Any) -> BuildInput | None:
        build = load_build(*given, **named)
        return None if build is None else replace(build, plumbing=heron().plumbing)

    monkeypatch.setattr(context, "load_build", loaded)
    data_file = tmp_path / "heron.sqlite3"
    data_file.write_bytes(_heron_file())
    yield from opened(data_file)


@cache
def _heron_file() -> bytes:
    return file_with(lambda session: create_build(session, heron()))
