"""The files of photographs: on disk before they are named, and there while they are wanted."""

import datetime as dt
import os
import sqlite3
import time
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from tests.storage.rich_build import NOW, RICH_BUILD
from tests.storage.small_disk import fill, small_disk
from tests.storage.test_schema_upgrade import migrations_with_one_more
from tests.stored_files import opened_new
from webapp.build.build_input import Photograph
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, delete_build
from webapp.storage.changes import store_changes
from webapp.storage.database import Database
from webapp.storage.photograph_files import (
    SWEPT_AFTER_SECONDS,
    PhotographFiles,
    copy_photographs,
    digest_of,
    folder_of,
    is_of_build,
)
from webapp.storage.schema_upgrade import upgrade_schema
from webapp.storage.trouble import UnusableDatabaseError


@pytest.fixture
def files(tmp_path: Path) -> PhotographFiles:
    return PhotographFiles(tmp_path / "keyturn.sqlite3")


def names_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def aged(folder: Path) -> None:
    """Let the files of a folder be older than anything that is on its way."""
    before = time.time() - SWEPT_AFTER_SECONDS - 60
    for path in folder.iterdir():
        os.utime(path, (before, before))


def test_a_picture_is_kept_once_and_called_by_what_is_in_it(files: PhotographFiles) -> None:
    # SHA-256 of "abc" (FIPS 180-4, the example of its appendix)
    known = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert files.keep(b"abc", b"small") == files.keep(b"abc", b"small") == known
    assert names_in(files.folder) == [f"{known}.jpg", f"{known}.small.jpg"]
    assert (files.read(known), files.read(known, small=True)) == (b"abc", b"small")
    assert files.has(known)


def test_a_small_picture_that_is_gone_is_shown_whole(files: PhotographFiles) -> None:
    digest = files.keep(b"abc", b"small")
    (files.folder / f"{digest}.small.jpg").unlink()
    assert files.read(digest, small=True) == b"abc"


def test_what_is_not_there_is_nothing(files: PhotographFiles) -> None:
    for digest in ("0" * 64, "../keyturn.sqlite3", "", "0" * 63 + "\n", "A" * 64):
        assert files.read(digest) is None
        assert not files.has(digest)


def test_a_damaged_file_is_written_anew_when_the_picture_comes_again(
    files: PhotographFiles,
) -> None:
    digest = files.keep(b"abc", b"small")
    (files.folder / f"{digest}.jpg").write_bytes(b"abx")
    files.keep(b"abc", b"small")
    assert files.read(digest) == b"abc"


def test_a_write_that_breaks_off_leaves_no_file_under_the_name(
    files: PhotographFiles, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(_number: int) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(os, "fsync", broken)
    with pytest.raises(UnusableDatabaseError) as trouble:
        files.keep(b"abc", b"small")
    assert trouble.value.kind == "disk"
    assert names_in(files.folder) == []


def test_file_and_folder_are_on_disk_before_they_are_relied_on(
    files: PhotographFiles, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each file, then its new name: a folder is a file of names (POSIX, fsync)."""
    done: list[str] = []
    fsync, renamed = os.fsync, os.replace

    def noted(number: int) -> None:
        done.append("folder" if os.path.isdir(f"/proc/self/fd/{number}") else "file")
        fsync(number)

    def noted_rename(source: str, target: str) -> None:
        done.append("rename")
        renamed(source, target)

    monkeypatch.setattr(os, "fsync", noted)
    monkeypatch.setattr(os, "replace", noted_rename)
    files.keep(b"abc", b"small")
    assert done == ["folder", "file", "rename", "file", "rename", "folder"]


def test_a_full_disk_is_told_and_leaves_nothing_half_written(tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk", 200) as disk:
        files = PhotographFiles(disk / "keyturn.sqlite3")
        first = files.keep(b"a" * 20_000, b"small")
        filler = fill(disk)
        with pytest.raises(UnusableDatabaseError, match="is full") as trouble:
            files.keep(b"b" * 90_000, b"small")
        assert trouble.value.kind == "full"
        assert [name for name in names_in(files.folder) if name.endswith(".part")] == []
        assert files.read(first) == b"a" * 20_000
        filler.unlink()
        assert files.read(files.keep(b"b" * 90_000, b"small")) == b"b" * 90_000


def test_a_file_in_the_place_of_the_folder_is_told(files: PhotographFiles) -> None:
    files.folder.write_bytes(b"")
    with pytest.raises(UnusableDatabaseError, match="nothing else stands in its place"):
        files.keep(b"abc", b"small")


# how long they stay -------------------------------------------------------------------------
def of(task: str, jpeg: bytes) -> Photograph:
    return Photograph(
        task=task,
        digest=digest_of(jpeg),
        width_px=4,
        height_px=3,
        size_bytes=len(jpeg),
        added_on=dt.date(2026, 2, 9),
    )


def swept(database: Database) -> int:
    with database.reading() as session:
        return database.photographs.sweep(session)


def test_a_file_stays_while_a_row_or_the_journal_names_it(tmp_path: Path) -> None:
    with closing(opened_new(tmp_path / "keyturn.sqlite3")) as database:
        files = database.photographs
        here, gone, nobody = (files.keep(data, b"s") for data in (b"here", b"gone", b"nobody"))
        build = replace(RICH_BUILD, photographs=(of("mount", b"here"), of("mount", b"gone")))
        with database.writing() as session:
            slug = create_build(session, build)
        with database.writing() as session:
            before = load_build(session, slug, now=NOW)
            assert before is not None
            left = replace(before, photographs=before.photographs[:1])
            store_changes(session, slug, before, left)
        assert swept(database) == 0  # all of them are young: a row may be on its way
        aged(files.folder)
        assert swept(database) == 2  # what nobody names: the whole one and the small one
        assert files.has(here)
        assert files.has(gone)  # Undo can bring it back
        assert not files.has(nobody)


def test_the_files_of_a_deleted_build_go_unless_another_has_them(tmp_path: Path) -> None:
    with closing(opened_new(tmp_path / "keyturn.sqlite3")) as database:
        files = database.photographs
        own, shared = files.keep(b"own", b"s"), files.keep(b"shared", b"s")
        both = replace(RICH_BUILD, photographs=(of("mount", b"own"), of("mount", b"shared")))
        other = replace(RICH_BUILD, photographs=(of("drain", b"shared"),))
        with database.writing() as session:
            slug = create_build(session, both)
            create_build(session, other)
        with database.writing() as session:
            delete_build(session, slug)
        aged(files.folder)
        (files.folder / "holiday.jpg").write_bytes(b"somebody's own")
        aged(files.folder)
        assert swept(database) == 2
        assert not files.has(own)
        assert files.has(shared)
        assert (files.folder / "holiday.jpg").exists()


def test_what_a_killed_program_was_writing_is_swept(files: PhotographFiles, tmp_path: Path) -> None:
    with closing(opened_new(tmp_path / "keyturn.sqlite3")) as database:
        files.keep(b"abc", b"small")
        (files.folder / f".{'0' * 64}.jpg.99-ab.part").write_bytes(b"ab")
        aged(files.folder)
        assert swept(database) == 3
        assert names_in(files.folder) == []


def test_a_picture_that_comes_again_is_young_again(files: PhotographFiles, tmp_path: Path) -> None:
    """Whoever is about to name it must find it still there."""
    with closing(opened_new(tmp_path / "keyturn.sqlite3")) as database:
        digest = files.keep(b"abc", b"small")
        aged(files.folder)
        files.keep(b"abc", b"small")
        assert swept(database) == 0
        assert files.has(digest)


def test_only_the_pictures_of_a_build_are_of_it(tmp_path: Path) -> None:
    with closing(opened_new(tmp_path / "keyturn.sqlite3")) as database:
        with database.writing() as session:
            slug = create_build(session, RICH_BUILD)
            bare = create_build(session, replace(RICH_BUILD, photographs=()))
        with database.reading() as session:
            assert is_of_build(session, slug, "0a" * 32)
            assert not is_of_build(session, slug, "0b" * 32)
            assert not is_of_build(session, bare, "0a" * 32)


# copies -------------------------------------------------------------------------------------
def test_a_copy_before_an_upgrade_has_the_photographs(tmp_path: Path) -> None:
    path = tmp_path / "keyturn.sqlite3"
    with closing(opened_new(path)) as database:
        digest = database.photographs.keep(b"abc", b"small")
        with database.writing() as session:
            create_build(session, RICH_BUILD)
    aside = upgrade_schema(path, migrations_with_one_more(path))
    assert aside is not None
    assert PhotographFiles(aside).read(digest) == b"abc"
    # As good as two: what becomes of one name does nothing to the other.
    (folder_of(path) / f"{digest}.jpg").unlink()
    assert PhotographFiles(aside).read(digest) == b"abc"


def test_a_copy_that_failed_takes_its_photographs_away(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "keyturn.sqlite3"
    with closing(opened_new(path)) as database:
        database.photographs.keep(b"abc", b"small")

    def refused(*_paths: object) -> None:
        raise OSError(28, "No space left on device")

    folder = migrations_with_one_more(path)
    monkeypatch.setattr(os, "link", refused)
    monkeypatch.setattr("shutil.copy2", refused)
    with pytest.raises(UnusableDatabaseError, match="is full"):
        upgrade_schema(path, folder)
    assert [each.name for each in tmp_path.glob("keyturn.schema-*")] == []
    with closing(sqlite3.connect(path)) as file:
        assert file.execute("SELECT version_num FROM alembic_version").fetchone() != ("9999",)


def test_where_the_disk_has_no_links_photographs_are_copied(
    files: PhotographFiles, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def unknown(*_paths: object) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(os, "link", unknown)
    digest = files.keep(b"abc", b"small")
    copy = tmp_path / "copy.sqlite3"
    copy_photographs(tmp_path / "keyturn.sqlite3", copy)
    copy_photographs(tmp_path / "keyturn.sqlite3", copy)
    assert PhotographFiles(copy).read(digest) == b"abc"


def test_what_is_kept_of_a_moved_file_has_the_photographs(tmp_path: Path) -> None:
    path = tmp_path / "keyturn.sqlite3"
    with closing(opened_new(path)) as database:
        digest = database.photographs.keep(b"abc", b"small")
        path.rename(tmp_path / "aside.sqlite3")
        with pytest.raises(UnusableDatabaseError, match="is kept in"), database.reading():
            pass
        (kept,) = tmp_path.glob("keyturn.kept.*.sqlite3")
        assert PhotographFiles(kept).read(digest) == b"abc"
