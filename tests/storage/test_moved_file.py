"""A data file that is moved, deleted or replaced while the program serves it.

Every answer that acknowledges a change must be found in a file that a person can find.
"""

import html
import os
import shutil
import signal
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from multiprocessing.process import BaseProcess
from pathlib import Path

import httpx
import pytest

from tests.forked_server import forked_server
from tests.storage.rich_build import NOW, RICH_BUILD
from tests.stored_files import opened_new
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build
from webapp.storage.database import Database, UnusableDatabaseError


class Served:
    """A running server on a data file, and what it has acknowledged."""

    def __init__(self, browser: httpx.Client, path: Path, process: BaseProcess) -> None:
        self.browser, self.path, self.process = browser, path, process
        self.acknowledged: list[str] = []

    def log_wish(self, text: str) -> tuple[int, str]:
        """Send a wish; the status and the words of the answer."""
        answer = self.browser.post("/builds/the-heron/bench/wish", data={"wish": text})
        if answer.status_code == 303:
            self.acknowledged.append(text)
        return answer.status_code, html.unescape(answer.text)

    def beside(self, ending: str) -> Path:
        return self.path.with_name(self.path.name + ending)


def wishes_in(path: Path) -> set[str]:
    """The wishes of a file, opened by itself as a person would who finds it."""
    with closing(Database.open(path)) as database, database.reading() as session:
        build = load_build(session, "the-heron", now=NOW)
    assert build is not None
    return {wish.text for wish in build.wishes}


def kept_copy(folder: Path) -> Path:
    (kept,) = folder.glob("keyturn.kept.*.sqlite3")
    return kept


@pytest.fixture
def served(path: Path) -> Iterator[Served]:
    with (
        forked_server(path) as (process, address),
        httpx.Client(base_url=address, timeout=60) as browser,
    ):
        served = Served(browser, path, process)
        assert served.log_wish("Before")[0] == 303
        yield served


@pytest.mark.slow
def test_a_file_that_is_moved_away_is_missed_before_the_next_answer(served: Served) -> None:
    elsewhere = served.path.with_name("elsewhere.sqlite3")
    served.path.rename(elsewhere)
    status, words = served.log_wish("Into the void")
    assert status == 503
    assert f"{served.path} is gone: it was moved, renamed or deleted" in words
    assert "Into the void" in words
    assert served.browser.get("/builds/the-heron/wishes").status_code == 503
    assert str(kept_copy(served.path.parent)) in words
    assert wishes_in(kept_copy(served.path.parent)) >= set(served.acknowledged)
    elsewhere.rename(served.path)
    assert served.log_wish("Put back")[0] == 303
    assert wishes_in(served.path) >= {"Before", "Put back"}
    assert "Into the void" not in wishes_in(served.path)


@pytest.mark.slow
def test_what_a_deleted_file_held_is_kept(served: Served) -> None:
    served.path.unlink()
    assert served.log_wish("Into the void")[0] == 503
    assert served.log_wish("And again")[0] == 503
    assert wishes_in(kept_copy(served.path.parent)) >= set(served.acknowledged)


@pytest.mark.slow
def test_a_file_put_in_the_place_of_another_is_noticed_and_left_alone(
    served: Served, tmp_path: Path
) -> None:
    other = tmp_path / "other.sqlite3"
    with closing(opened_new(other)) as database, database.writing() as session:
        create_build(session, replace(RICH_BUILD, vehicle="Another"))
    content = other.read_bytes()
    other.replace(served.path)
    status, words = served.log_wish("Into the void")
    assert status == 503
    assert f"Another file stands in the place of {served.path}" in words
    assert served.path.read_bytes() == content
    assert wishes_in(kept_copy(tmp_path)) >= set(served.acknowledged)


@pytest.mark.slow
@pytest.mark.parametrize("ending", ["-wal", "-shm"])
def test_a_log_that_is_deleted_beside_the_file_is_noticed(served: Served, ending: str) -> None:
    served.beside(ending).unlink()
    status, words = served.log_wish("Into the void")
    assert status == 503
    assert f"keyturn.sqlite3{ending}, which belongs to {served.path}, was moved or deleted" in words
    assert wishes_in(kept_copy(served.path.parent)) >= set(served.acknowledged)


@pytest.mark.slow
def test_after_its_log_was_deleted_the_program_ends_with_everything_in_the_file(
    served: Served,
) -> None:
    served.beside("-wal").unlink()
    assert served.log_wish("Into the void")[0] == 503
    assert served.process.pid is not None
    os.kill(served.process.pid, signal.SIGINT)
    served.process.join()
    assert wishes_in(served.path) >= set(served.acknowledged)


def test_a_file_that_is_moved_during_a_change_is_not_said_to_hold_it(path: Path) -> None:
    def change_and_move() -> None:
        with database.writing() as session:
            create_build(session, RICH_BUILD)
            path.rename(path.with_name("elsewhere.sqlite3"))

    with closing(Database.open(path)) as database:
        with pytest.raises(UnusableDatabaseError, match="is gone: it was moved"):
            change_and_move()
        with closing(sqlite3.connect(kept_copy(path.parent))) as kept:
            assert kept.execute("SELECT slug FROM builds").fetchall() == [
                ("the-heron",),
                ("the-heron-2",),
            ]


def test_a_folder_that_is_gone_with_the_file_is_no_accident(path: Path, tmp_path: Path) -> None:
    folder = tmp_path / "stick"
    folder.mkdir()
    with closing(Database.open(shutil.copy(path, folder))) as database:
        folder.rename(tmp_path / "pulled out")
        with pytest.raises(UnusableDatabaseError, match="is gone") as gone, database.reading():
            pass
        assert "kept" not in str(gone.value)
        (tmp_path / "pulled out").rename(folder)
        with database.reading() as session:
            assert load_build(session, "the-heron", now=NOW) == RICH_BUILD
