"""What the commands say where the data file stands in the way: a sentence, and exit status 2."""

import re
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from alembic import command

from tests.forked_command import WITH_STDOUT, running
from tests.storage.small_disk import fill, small_disk
from tests.stored_files import empty_file
from webapp.__main__ import main
from webapp.settings import resource_root
from webapp.storage.schema_upgrade import migration_config, schema_engine

HERON = resource_root() / "seed_data" / "heron.json"
COMMANDS = {
    "import": ["import", str(HERON)],
    "export": ["export", "the-heron"],
    "serve": ["serve", "--port", "0"],
    "demo": ["demo", "--port", "0"],
}


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data file with The Heron in it."""
    path = tmp_path_factory.mktemp("whole") / "keyturn.sqlite3"
    path.write_bytes(empty_file())
    assert main([*COMMANDS["import"], "--data", str(path)]) == 0
    return path


@pytest.fixture
def path(whole: Path, tmp_path: Path) -> Path:
    """The data file of every command here."""
    return Path(shutil.copy(whole, tmp_path))


@pytest.fixture
def _impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    for module in ("database", "schema_upgrade", "trouble", "data_file", "soundness"):
        monkeypatch.setattr(f"webapp.storage.{module}.BUSY_SECONDS", 0.1)


def refused(capsys: pytest.CaptureFixture[str], arguments: list[str], path: Path) -> str:
    """The one line on standard error of a command that was refused."""
    assert main([*arguments, "--data", str(path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    (line,) = err.splitlines()
    return line


def no_database(path: Path) -> None:
    path.write_text("Dear neighbour, " * 100)


def a_page_of_zeros(path: Path) -> None:
    content = bytearray(path.read_bytes())
    middle = len(content) // 4096 // 2 * 4096
    content[middle : middle + 4096] = bytes(4096)
    path.write_bytes(content)


def names_that_are_no_text(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("PRAGMA writable_schema=ON")
        connection.execute(
            "UPDATE sqlite_master SET name = CAST(x'74FF' AS TEXT) WHERE name = 'wish_parts'"
        )


SPOILED: dict[str, tuple[Callable[[Path], None], str]] = {
    "no database": (no_database, "is not a database of this program"),
    "zeros": (a_page_of_zeros, "is damaged"),
    "no text": (names_that_are_no_text, "is damaged"),
}


@pytest.mark.parametrize("spoiled", SPOILED)
@pytest.mark.parametrize("name", COMMANDS)
def test_a_spoiled_file_is_named_and_left_alone(
    capsys: pytest.CaptureFixture[str], path: Path, name: str, spoiled: str
) -> None:
    spoil, sentence = SPOILED[spoiled]
    spoil(path)
    before = path.read_bytes()
    line = refused(capsys, COMMANDS[name], path)
    assert str(path) in line
    assert sentence in line
    assert "put back a copy" in line
    assert path.read_bytes() == before


@pytest.mark.usefixtures("_impatient")
@pytest.mark.parametrize("name", COMMANDS)
def test_a_program_that_holds_the_file_is_waited_for_and_named(
    capsys: pytest.CaptureFixture[str], path: Path, name: str
) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        line = refused(capsys, COMMANDS[name], path)
    assert "Another program has held" in line
    assert "then try again" in line


def test_a_disk_that_is_full_is_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk", 2000) as disk:
        path = disk / "keyturn.sqlite3"
        filler = fill(disk)
        assert "is full" in refused(capsys, COMMANDS["import"], path)
        filler.unlink()
        assert main([*COMMANDS["import"], "--data", str(path)]) == 0


@pytest.mark.parametrize("name", ["import", "export"])
def test_the_copy_made_before_an_upgrade_is_announced(
    capsys: pytest.CaptureFixture[str], path: Path, name: str
) -> None:
    take_back_a_migration(path)
    assert main([*COMMANDS[name], "--data", str(path)]) == 0
    announced = re.search(r"As it was before, it is kept in (\S+)\.$", capsys.readouterr().err)
    assert announced
    with closing(sqlite3.connect(announced[1])) as copy:
        assert copy.execute("SELECT slug FROM builds").fetchall() == [("the-heron",)]
    assert main([*COMMANDS[name], "--data", str(path)]) == 0
    assert capsys.readouterr().err == ""


@pytest.mark.slow
@pytest.mark.parametrize("name", ["serve", "demo"])
def test_the_copy_is_announced_before_the_address(path: Path, name: str) -> None:
    take_back_a_migration(path)
    with running(*COMMANDS[name], "--data", str(path), stderr=WITH_STDOUT) as server:
        assert server.stdout is not None
        lines = [server.stdout.readline() for _ in range(2)]
    assert re.search(r"it is kept in \S+keyturn\.schema-\S+\.sqlite3\.", lines[0]), lines


def take_back_a_migration(path: Path) -> None:
    """Make the file one of the version before."""
    config = migration_config()
    with schema_engine(path).begin() as connection:
        config.attributes["connection"] = connection
        command.downgrade(config, "-1")
