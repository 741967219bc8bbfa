"""Where `keyturn export` writes: into devices, pipes and what a link leads to, whole or not at all.

What is expected of each kind of file is what POSIX says of writing to it; a link is followed.
"""

import errno
import json
import os
import shutil
import stat
import subprocess
from collections.abc import Callable
from pathlib import Path
from threading import Thread

import pytest

from tests.exchange.documents import small_document
from tests.forked_command import ran
from tests.stored_files import empty_file
from webapp.__main__ import main

Export = Callable[[Path], int]


@pytest.fixture(scope="module")
def brought_in(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a build document, and a data file that it was brought into by the command."""
    data = tmp_path_factory.mktemp("brought_in")
    document = data / "build.json"
    document.write_text(json.dumps(small_document()), encoding="utf-8")
    (data / "builds.sqlite3").write_bytes(empty_file())
    assert main(["import", str(document), "--data", str(data / "builds.sqlite3")]) == 0
    return data


@pytest.fixture
def export(brought_in: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Export:
    """Exports one build to a path; answers with the exit status."""
    data = shutil.copytree(brought_in, tmp_path / "data")
    monkeypatch.setenv("KEYTURN_DATA", str(data / "builds.sqlite3"))
    return lambda output: main(["export", "the-heron", "-o", str(output)])


def device(tmp_path: Path, name: str) -> Path:
    """A device like /dev/null. Who may do anything gets another one, to do no harm to that."""
    real = Path("/dev", name)
    if not real.is_char_device():
        pytest.skip(f"there is no {real}")
    if os.access(real.parent, os.W_OK):
        copy = tmp_path / name
        try:
            os.mknod(copy, stat.S_IFCHR | 0o666, real.stat().st_rdev)
            copy.write_bytes(b"")
        except OSError:
            pytest.skip("no device can be made here")
        return copy
    return real


def is_whole(text: str) -> bool:
    return bool(json.loads(text)["build"]["name"] == "The Heron")


def folder(tmp_path: Path) -> Path:
    path = tmp_path / "out"
    path.mkdir()
    return path


def test_a_file_is_replaced_and_keeps_who_may_read_it(export: Export, tmp_path: Path) -> None:
    path = folder(tmp_path) / "build.json"
    path.write_text("old")
    path.chmod(0o600)
    assert export(path) == 0
    assert is_whole(path.read_text(encoding="utf-8"))
    assert path.stat().st_mode & 0o777 == 0o600
    assert list(path.parent.iterdir()) == [path]


def test_a_link_stays_a_link_and_its_file_is_replaced(export: Export, tmp_path: Path) -> None:
    out = folder(tmp_path)
    (out / "kept").mkdir()
    file, middle, link = out / "kept" / "build.json", out / "middle.json", out / "link.json"
    file.write_text("old")
    before = file.stat().st_ino
    middle.symlink_to("kept/build.json")
    link.symlink_to(middle)
    assert export(link) == 0
    assert link.readlink() == middle
    assert middle.readlink() == Path("kept/build.json")
    assert is_whole(file.read_text(encoding="utf-8"))
    assert file.stat().st_ino != before  # by a rename: never half of the new, half of the old
    assert sorted(path.name for path in out.rglob("*")) == [
        "build.json",
        "kept",
        "link.json",
        "middle.json",
    ]


def test_a_link_to_a_file_that_is_not_there_yet_makes_it(export: Export, tmp_path: Path) -> None:
    out = folder(tmp_path)
    link = out / "link.json"
    link.symlink_to("new.json")
    assert export(link) == 0
    assert link.is_symlink()
    assert is_whole((out / "new.json").read_text(encoding="utf-8"))


def test_a_ring_of_links_is_named(
    export: Export, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    link = folder(tmp_path) / "ring.json"
    link.symlink_to(link)
    assert export(link) == 2
    assert str(link) in capsys.readouterr().err
    assert link.is_symlink()


def test_a_pipe_with_a_name_is_written_into(export: Export, tmp_path: Path) -> None:
    pipe = folder(tmp_path) / "pipe"
    os.mkfifo(pipe)
    read: list[str] = []
    reader = Thread(target=lambda: read.append(pipe.read_text(encoding="utf-8")), daemon=True)
    reader.start()
    assert export(pipe) == 0
    reader.join(timeout=10)
    assert is_whole(read[0])
    assert pipe.is_fifo()


def test_a_device_is_written_into(export: Export, tmp_path: Path) -> None:
    null = device(tmp_path, "null")
    assert export(null) == 0
    assert null.is_char_device()


def test_a_link_to_a_device_is_followed(export: Export, tmp_path: Path) -> None:
    null, link = device(tmp_path, "null"), folder(tmp_path) / "link"
    link.symlink_to(null)
    assert export(link) == 0
    assert link.is_symlink()
    assert null.is_char_device()


def test_a_device_that_is_full_is_named(
    export: Export, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    full = device(tmp_path, "full")
    assert export(full) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith(f"{full} cannot be written: No space left on device.")
    assert full.is_char_device()


def test_a_disk_that_runs_full_leaves_what_was_there_and_nothing_else(
    export: Export,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def full(_descriptor: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    path = folder(tmp_path) / "build.json"
    path.write_text("old")
    monkeypatch.setattr(os, "fsync", full)
    assert export(path) == 2
    assert "No space left on device" in capsys.readouterr().err
    assert path.read_text() == "old"
    assert list(path.parent.iterdir()) == [path]


def test_the_longest_name_a_file_can_have_will_do(export: Export, tmp_path: Path) -> None:
    path = folder(tmp_path) / ("n" * 250 + ".json")
    assert export(path) == 0
    assert is_whole(path.read_text(encoding="utf-8"))


# --- standard output ------------------------------------------------------------------------


def _exported(*arguments: str, stdout: int) -> subprocess.CompletedProcess[str]:
    return ran("export", "the-heron", *arguments, stdout=stdout)


@pytest.fixture(params=["/proc/self/fd/1", "/dev/fd/1"])
def standard_output(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """A name of standard output: a link to one that nobody can replace, like /dev/stdout."""
    if not Path("/proc/self/fd/1").exists():
        pytest.skip("standard output has no name here")
    link = tmp_path / "stdout"
    link.symlink_to(request.param)
    return str(link)


@pytest.mark.usefixtures("export")
def test_standard_output_by_its_name_is_written_into(standard_output: str) -> None:
    done = _exported("-o", standard_output, stdout=subprocess.PIPE)
    assert (done.returncode, done.stderr) == (0, "")
    assert is_whole(done.stdout)
    assert Path(standard_output).is_symlink()


@pytest.mark.usefixtures("export")
def test_standard_output_that_goes_on_in_a_file_goes_on_there(
    standard_output: str, tmp_path: Path
) -> None:
    path = folder(tmp_path) / "log.txt"
    path.write_text("before\n")
    with path.open("ab") as file:
        assert _exported("-o", standard_output, stdout=file.fileno()).returncode == 0
    before, _, rest = path.read_text(encoding="utf-8").partition("\n")
    assert before == "before"
    assert is_whole(rest)


@pytest.mark.usefixtures("export")
def test_standard_output_that_is_full_is_named(tmp_path: Path) -> None:
    with device(tmp_path, "full").open("wb") as full:
        done = _exported(stdout=full.fileno())
    (line,) = done.stderr.splitlines()
    assert line.startswith("Standard output cannot be written: No space left on device.")
    assert done.returncode == 2


@pytest.mark.usefixtures("export")
def test_an_import_that_cannot_say_so_says_what_is_stored(tmp_path: Path) -> None:
    document = tmp_path / "data" / "build.json"
    with device(tmp_path, "full").open("wb") as full:
        done = ran("import", str(document), stdout=full.fileno())
    stored, why = done.stderr.splitlines()
    assert stored.startswith("The Heron is in ")
    assert "as the-heron-2, with " in stored
    assert why.startswith("Standard output cannot be written: No space left on device.")
    assert done.returncode == 2
    assert ran("export", "the-heron-2").returncode == 0


@pytest.mark.parametrize("command", ["serve", "demo"])
def test_a_server_that_cannot_say_its_address_does_not_start(tmp_path: Path, command: str) -> None:
    data = str(tmp_path / "builds.sqlite3")
    with device(tmp_path, "full").open("wb") as full:
        done = ran(command, "--data", data, "--port", "0", stdout=full.fileno())
    (line,) = done.stderr.splitlines()
    assert line.startswith("Standard output cannot be written: No space left on device.")
    assert done.returncode == 2
