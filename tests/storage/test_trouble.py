"""A full disk, a file that is held by another program or may not be written: told and outlived.

What may be written by whom is tried as a user without rights, in a process of its own.
"""

import multiprocessing
import os
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from tests.storage.rich_build import NOW, RICH_BUILD
from tests.storage.small_disk import fill, small_disk
from tests.stored_files import rich_file
from webapp.build.build_input import BuildInput
from webapp.storage.build_loader import load_build
from webapp.storage.builds import list_builds
from webapp.storage.changes import store_changes
from webapp.storage.database import Database, UnusableDatabaseError

NOBODY = 65534


def with_the_rich_build(path: Path) -> Path:
    path.write_bytes(rich_file())
    return path


def change(database: Database, **fields: str) -> None:
    with database.writing() as session:
        before = load_build(session, "the-heron", now=NOW)
        assert before is not None
        store_changes(session, "the-heron", before, replace(before, **fields))  # type: ignore[arg-type]


def stored(database: Database) -> BuildInput | None:
    with database.reading() as session:
        return load_build(session, "the-heron", now=NOW)


# --- a full disk ----------------------------------------------------------------------------


def test_a_full_disk_is_named_and_nothing_stored_before_is_lost(tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk", 2000) as disk:
        path = with_the_rich_build(disk / "keyturn.sqlite3")
        with closing(Database.open(path)) as database:
            filler = fill(disk)
            acknowledged, trouble = vehicles_until_full(database)
            assert trouble.kind == "full"
            assert f"The disk that holds {path} is full" in str(trouble)
            found = stored(database)
            assert found is not None
            assert found.vehicle == acknowledged[-1]
            filler.unlink()
            change(database, vehicle="There is room again")
            found = stored(database)
            assert found is not None
            assert found.vehicle == "There is room again"


def vehicles_until_full(database: Database) -> tuple[list[str], UnusableDatabaseError]:
    """Change the vehicle until that fails; what was stored, the last as the last, and why."""
    acknowledged = [RICH_BUILD.vehicle]
    for number in range(100):
        vehicle = f"{number}" * 4000
        try:
            change(database, vehicle=vehicle)
        except UnusableDatabaseError as trouble:
            return acknowledged, trouble
        acknowledged.append(vehicle)
    raise AssertionError("the disk was never full")


def test_a_disk_without_room_for_a_new_file_is_named(tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk", 100) as disk:
        fill(disk)
        with pytest.raises(UnusableDatabaseError, match="is full"):
            Database.open(disk / "keyturn.sqlite3")


def test_a_disk_without_room_to_open_a_file_is_named(tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk", 1500) as disk:
        path = with_the_rich_build(disk / "keyturn.sqlite3")
        before = path.read_bytes()
        filler = fill(disk)
        with pytest.raises(UnusableDatabaseError, match="is full"):
            Database.open(path)
        assert path.read_bytes() == before
        filler.unlink()
        with closing(Database.open(path)) as database:
            assert stored(database) == RICH_BUILD


# --- held by another program ----------------------------------------------------------------


@pytest.fixture
def _impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    for module in ("data_file", "database", "schema_upgrade", "soundness", "trouble"):
        monkeypatch.setattr(f"webapp.storage.{module}.BUSY_SECONDS", 0.1)


@pytest.mark.usefixtures("_impatient")
def test_a_program_that_holds_the_file_is_waited_for_and_named(path: Path) -> None:
    with closing(Database.open(path)) as database:
        with closing(sqlite3.connect(path, isolation_level=None)) as other:
            other.execute("BEGIN EXCLUSIVE")
            with pytest.raises(
                UnusableDatabaseError, match=r"Another program has held .* for 0\.1 s"
            ):
                change(database, vehicle="Not now")
            assert stored(database) == RICH_BUILD  # reading goes on
            other.execute("ROLLBACK")
        change(database, vehicle="Now")


@pytest.mark.usefixtures("_impatient")
def test_a_program_that_keeps_readers_out_too_is_named(path: Path) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("PRAGMA locking_mode=EXCLUSIVE")
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(UnusableDatabaseError, match="Another program has held"):
            Database.open(path)


# --- may not be written ---------------------------------------------------------------------


@pytest.fixture
def common(tmp_path: Path) -> Iterator[Path]:
    """A file in a folder that everybody may look into."""
    del tmp_path  # is for its owner alone
    with tempfile.TemporaryDirectory() as folder:
        os.chmod(folder, 0o755)
        yield with_the_rich_build(Path(folder) / "keyturn.sqlite3")


def as_nobody(work: Callable[[], object]) -> str:
    """What the work raises or gives, done by a user without rights."""
    if os.geteuid() != 0:
        return _outcome(work)
    forking = multiprocessing.get_context("fork")
    hears, says = forking.Pipe(duplex=False)

    def give_up_rights_and_work() -> None:
        os.setgroups([])
        os.setgid(NOBODY)
        os.setuid(NOBODY)
        says.send(_outcome(work))

    process = forking.Process(target=give_up_rights_and_work)
    process.start()
    process.join()
    outcome = hears.recv()
    assert isinstance(outcome, str)
    return outcome


def _outcome(work: Callable[[], object]) -> str:
    try:
        return str(work())
    except UnusableDatabaseError as trouble:
        return f"{trouble.kind}: {trouble}"


def open_and_change(path: Path) -> str:
    with closing(Database.open(path)) as database:
        change(database, vehicle="Another")
    return "changed"


def test_a_file_that_may_not_be_written_can_be_read_and_is_named(common: Path) -> None:
    common.chmod(0o444)
    common.parent.chmod(0o777)

    def read() -> int:
        with closing(Database.open(common)) as database, database.reading() as session:
            return len(list_builds(session))

    assert as_nobody(read) == "1"
    said = as_nobody(lambda: open_and_change(common))
    assert said.startswith(f"locked: {common} may not be written")


def test_a_folder_that_may_not_be_written_is_named(common: Path) -> None:
    common.chmod(0o666)
    common.parent.chmod(0o555)
    said = as_nobody(lambda: open_and_change(common))
    assert said.startswith("locked: ")
    assert f"the folder {common.parent}" in said


def test_a_file_that_may_not_be_read_is_named(common: Path) -> None:
    common.chmod(0o000)
    said = as_nobody(lambda: open_and_change(common))
    assert said.startswith(f"locked: The database {common} can not be opened")


def test_a_new_file_in_a_folder_that_may_not_be_written_is_named(common: Path) -> None:
    common.parent.chmod(0o555)
    new = common.with_name("new.sqlite3")
    assert as_nobody(lambda: open_and_change(new)).startswith(f"locked: The database {new} can")


# --- not trouble with the file --------------------------------------------------------------


def test_a_mistake_in_a_statement_is_raised_as_it_is(path: Path) -> None:
    def misspell() -> None:
        with database.reading() as session:
            session.connection().exec_driver_sql("SELECT * FROM taskz")

    with closing(Database.open(path)) as database, pytest.raises(Exception, match="taskz") as error:
        misspell()
    assert not isinstance(error.value, UnusableDatabaseError)


def test_the_copy_before_an_upgrade_does_not_stay_when_the_disk_is_full(tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk", 1200) as disk:
        path = with_the_rich_build(tmp_path / "keyturn.sqlite3")
        with closing(sqlite3.connect(path)) as connection, connection:
            connection.execute("UPDATE alembic_version SET version_num = '0002'")
        path = Path(shutil.copy(path, disk))
        filler = fill(disk)
        os.truncate(filler, filler.stat().st_size - path.stat().st_size // 2)
        before = path.read_bytes()
        with pytest.raises(UnusableDatabaseError, match="is full"):
            Database.open(path)
        assert path.read_bytes() == before
        assert not list(disk.glob("*.schema-*"))
