"""keyturn backup, restore and check, and what is offered beside a damaged data file."""

from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from tests.storage.rich_build import RICH_BUILD
from tests.stored_files import file_with, rich_file
from webapp.__main__ import main
from webapp.services.seed_builds import demo_build
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, delete_build
from webapp.storage.database import Database

SLUG = "the-heron"


@pytest.fixture
def data_file(tmp_path: Path) -> Path:
    path = tmp_path / "keyturn.sqlite3"
    path.write_bytes(rich_file())
    return path


def backed_up(data_file: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["backup", "--data", str(data_file)]) == 0
    return Path(capsys.readouterr().out.strip())


def is_there(data_file: Path) -> bool:
    with closing(Database.open(data_file)) as database, database.reading() as session:
        build = load_build(session, SLUG, now=RICH_BUILD.now)
    # that it was put back is among what was opened since it was signed
    return build is not None and replace(build, start=RICH_BUILD.start) == RICH_BUILD


def test_a_copy_is_made_and_put_back(data_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copy = backed_up(data_file, capsys)
    assert copy.parent == data_file.with_name("keyturn.sqlite3.copies")
    with closing(Database.open(data_file)) as database, database.writing() as session:
        delete_build(session, SLUG)
    assert main(["restore", str(copy), "--data", str(data_file)]) == 0
    said = capsys.readouterr().out
    assert "was put back" in said
    assert is_there(data_file)
    kept = Path(said.splitlines()[1].removeprefix("What was there before is kept in ")[:-1])
    assert main(["check", str(kept)]) == 0
    assert "0 builds" in capsys.readouterr().out


def test_it_is_in_another_folder_as_well(
    data_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["backup", "--data", str(data_file), "--to", str(tmp_path / "stick")]) == 0
    own, there = (Path(line) for line in capsys.readouterr().out.splitlines())
    assert there.parent == tmp_path / "stick"
    assert own.read_bytes() == there.read_bytes()
    assert main(["restore", str(there), "--data", str(tmp_path / "new.sqlite3")]) == 0
    assert is_there(tmp_path / "new.sqlite3")


def test_check_tells_what_is_in_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    heron = demo_build(RICH_BUILD.now)
    data_file = tmp_path / "heron.sqlite3"
    data_file.write_bytes(file_with(lambda session: create_build(session, heron)))
    before = data_file.read_bytes()
    assert main(["check", str(data_file)]) == 0
    said = capsys.readouterr().out
    assert "is whole: 1 build." in said
    assert f"The Heron: {len(heron.tasks)} tasks, first start" in said
    assert data_file.read_bytes() == before


def test_check_names_every_fault_of_a_build(
    data_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The rich build has a line break where no form takes one."""
    assert main(["check", str(data_file)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "holds a line break" in said.err


@pytest.mark.parametrize("command", ["check", "restore"])
def test_no_file_and_no_database_are_refused(
    command: str, tmp_path: Path, data_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "notes.txt"
    other.write_text("no database at all " * 400)
    more = ["--data", str(data_file)] if command == "restore" else []
    for path in (other, tmp_path / "nowhere.sqlite3", tmp_path):
        assert main([command, str(path), *more]) == 2
        said = capsys.readouterr()
        assert said.out == ""
        assert str(path) in said.err
    assert is_there(data_file)


def test_beside_a_damaged_file_the_last_good_copy_is_offered_and_put_back(
    data_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good = backed_up(data_file, capsys)
    worse = backed_up(data_file, capsys)
    worse.write_bytes(b"\x00" * 8192)
    content = bytearray(data_file.read_bytes())
    content[4096:40960] = bytes(36864)
    data_file.write_bytes(content)
    assert main(["serve", "--data", str(data_file), "--port", "0"]) == 2
    said = capsys.readouterr().err
    assert "is damaged" in said
    assert f"keyturn restore {good} --data {data_file}" in said
    assert data_file.read_bytes() == content  # nothing was touched
    assert main(["restore", str(good), "--data", str(data_file)]) == 0
    kept = next(data_file.parent.glob("keyturn.damaged.*.sqlite3"))
    assert str(kept) in capsys.readouterr().out
    assert kept.read_bytes() == content
    assert is_there(data_file)


def test_a_damaged_file_without_a_copy_says_that_there_is_none(
    data_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    content = bytearray(data_file.read_bytes())
    content[4096:40960] = bytes(36864)
    data_file.write_bytes(content)
    assert main(["serve", "--data", str(data_file), "--port", "0"]) == 2
    assert "There is no good copy of it" in capsys.readouterr().err
