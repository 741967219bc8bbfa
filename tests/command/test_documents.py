"""The commands that read and write documents: what stands in their way is named, in one line."""

import base64
import json
import os
from pathlib import Path

import pytest

from tests.exchange.documents import small_document, small_task
from tests.photographs import photograph
from tests.stored_files import empty_file
from webapp.__main__ import main
from webapp.build.limits import MOST_DOCUMENT_BYTES


@pytest.fixture(autouse=True)
def _own_data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    data_file = tmp_path / "builds.sqlite3"
    data_file.write_bytes(empty_file())
    monkeypatch.setenv("KEYTURN_DATA", str(data_file))
    monkeypatch.setenv("KEYTURN_NOW", "2026-02-09T18:30")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "share"))


@pytest.fixture
def document(tmp_path: Path) -> Path:
    path = tmp_path / "build.json"
    path.write_text(json.dumps(small_document()), encoding="utf-8")
    return path


def faulty(tmp_path: Path) -> Path:
    path = tmp_path / "faulty.json"
    tasks = [
        small_task("weld", name="Weld\nbracket", hours=-1),
        small_task("bend", setup="gone"),
        small_task("start"),
    ]
    path.write_text(json.dumps(small_document(tasks=tasks)), encoding="utf-8")
    return path


# --- plan -----------------------------------------------------------------------------------


def test_every_fault_stands_in_a_line_of_its_own_and_nothing_else_is_printed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["plan", str(faulty(tmp_path)), "--json"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    lines = err.splitlines()
    assert len(lines) == 3  # the name in two lines, the hours, the setup
    assert all(line.startswith(("Task Weld", "Task Bend")) for line in lines)


@pytest.mark.parametrize("command", ["plan", "import"])
@pytest.mark.parametrize("name", ["none.json", ".", "nul\x00", "x" * 300])
def test_a_file_that_cannot_be_read_is_named(
    command: str, name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = str(tmp_path / name) if "\x00" not in name else name
    assert main([command, path]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1


@pytest.mark.parametrize("command", ["plan", "import"])
def test_a_document_beyond_the_limit_is_answered_with_the_limit(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "large.json"
    with path.open("wb") as file:
        file.truncate(MOST_DOCUMENT_BYTES + 1)
    assert main([command, str(path)]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert "64 MB is the most" in line


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="no device that never ends")
def test_a_file_that_never_ends_is_answered(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", "/dev/zero"]) == 2
    assert "64 MB is the most" in capsys.readouterr().err


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read_is_named(
    document: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    document.chmod(0)
    assert main(["plan", str(document)]) == 2
    assert str(document) in capsys.readouterr().err


# --- import and export ----------------------------------------------------------------------


def test_export_prints_the_document(document: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["import", str(document)])
    capsys.readouterr()
    assert main(["export", "the-heron"]) == 0
    written = json.loads(capsys.readouterr().out)
    assert [task["name"] for task in written["tasks"]] == ["Weld bracket", "Start"]


def test_export_takes_photographs_along_where_asked_and_says_which_are_not_there(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pictures = [
        {
            "added_on": "2026-02-01",
            "caption": caption,
            "jpeg": base64.b64encode(photograph(shade)).decode(),
        }
        for caption, shade in (("Dry fit", 60), ("Hose labels", 160))
    ]
    tasks = [small_task("weld", photographs=pictures), small_task("start")]
    path = tmp_path / "build.json"
    path.write_text(json.dumps(small_document(tasks=tasks)), encoding="utf-8")
    assert main(["import", str(path)]) == 0
    capsys.readouterr()

    assert main(["export", "the-heron"]) == 0
    assert "photographs" not in capsys.readouterr().out
    assert main(["export", "the-heron", "--with-photographs"]) == 0
    out, err = capsys.readouterr()
    there = json.loads(out)["tasks"][0]["photographs"]
    assert [each["caption"] for each in there] == ["Dry fit", "Hose labels"]
    assert err == ""

    (folder,) = tmp_path.glob("*.photographs")
    lost = base64.b64decode(there[0]["jpeg"])
    (gone,) = [one for one in folder.iterdir() if one.read_bytes() == lost]
    gone.unlink()
    assert main(["export", "the-heron", "--with-photographs"]) == 0
    out, err = capsys.readouterr()
    assert [each["caption"] for each in json.loads(out)["tasks"][0]["photographs"]] == [
        "Hose labels"
    ]
    assert err == "Left out of it is 1 photograph: its file is not there.\n"


def test_a_faulty_document_is_not_imported(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "builds.sqlite3").unlink()
    assert main(["import", str(faulty(tmp_path))]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 3
    assert not (tmp_path / "builds.sqlite3").exists()


def test_a_build_that_is_not_there_is_answered_with_those_that_are(
    document: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["import", str(document)])
    capsys.readouterr()
    assert main(["export", "the-crane"]) == 2
    assert "the-heron" in capsys.readouterr().err


def test_export_makes_no_database(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "none.sqlite3"
    assert main(["export", "the-heron", "--data", str(path)]) == 2
    assert str(path) in capsys.readouterr().err
    assert not path.exists()


@pytest.mark.parametrize("output", ["no/such/folder.json", "."])
def test_a_place_that_cannot_be_written_is_named_and_nothing_is_left_there(
    output: str, document: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["import", str(document)])
    capsys.readouterr()
    before = sorted(tmp_path.iterdir())
    assert main(["export", "the-heron", "-o", str(tmp_path / output)]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
    assert sorted(tmp_path.iterdir()) == before


def test_a_file_that_is_no_database_is_named(
    document: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["import", str(document), "--data", str(document)]) == 2
    assert str(document) in capsys.readouterr().err
    assert json.loads(document.read_text(encoding="utf-8")) == small_document()


def test_a_clock_that_cannot_be_read_is_named(
    document: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("KEYTURN_NOW", "soon")
    assert main(["plan", str(document)]) == 2
    assert "KEYTURN_NOW" in capsys.readouterr().err
