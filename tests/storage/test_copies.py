"""Copies of a data file: whole, named by their moment, rotated, their photographs with them."""

import datetime as dt
import random
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.storage.rich_build import RICH_BUILD
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build
from webapp.storage.copies import (
    Copy,
    carry_over,
    copies_folder,
    copies_in,
    copy_at,
    kept_of,
    make_copy,
    photographs_of_copies,
    rotate,
)
from webapp.storage.database import Database
from webapp.storage.photograph_files import folder_of
from webapp.storage.trouble import UnusableDatabaseError

AT = dt.datetime(2026, 2, 10, 18, 30, tzinfo=dt.UTC)
NOW = dt.datetime(2026, 2, 10, 18, 30)
JPEG = b"\xff\xd8 a picture \xff\xd9"


def test_a_copy_holds_what_the_file_holds_while_it_is_open_and_in_its_log(path: Path) -> None:
    with closing(Database.open(path)) as database:
        with database.writing() as session:
            slug = create_build(session, RICH_BUILD)  # stands in the log beside the file
        copy = make_copy(path, at=AT)
        with database.writing() as session:
            create_build(session, RICH_BUILD)  # after the copy
    assert copy.path.parent == copies_folder(path)
    assert [each.name for each in copy.path.parent.iterdir()] == [copy.name]
    with closing(Database.open(copy.path)) as opened, opened.reading() as session:
        assert load_build(session, slug, now=RICH_BUILD.now) is not None
        assert load_build(session, f"{slug[:-2]}-3", now=RICH_BUILD.now) is None


def test_a_copy_takes_its_moment_from_its_name(path: Path) -> None:
    copy = make_copy(path, at=AT + dt.timedelta(microseconds=7))
    assert copy_at(copy.path) == copy
    assert copies_in(copies_folder(path)) == (copy,)
    assert copy_at(path) is None


def test_a_copy_that_is_not_good_does_not_stay(path: Path) -> None:
    def refuse(path: Path) -> None:
        raise UnusableDatabaseError(f"{path.name} is not good.", "damaged")

    with pytest.raises(UnusableDatabaseError, match="is not good"):
        make_copy(path, at=AT, is_good=refuse)
    assert list(copies_folder(path).iterdir()) == []


def test_a_reference_to_nothing_is_no_copy(path: Path) -> None:
    with closing(sqlite3.connect(path)) as file, file:
        file.execute("PRAGMA foreign_keys=OFF")
        file.execute("DELETE FROM builds")
    with pytest.raises(UnusableDatabaseError, match="refers to nothing"):
        make_copy(path, at=AT)
    assert copies_in(copies_folder(path)) == ()


def test_no_data_file_is_said_to_be_none(tmp_path: Path) -> None:
    with pytest.raises(UnusableDatabaseError, match="There is no data file"):
        make_copy(tmp_path / "keyturn.sqlite3", at=AT)


def test_photographs_lie_in_one_folder_for_all_copies(path: Path) -> None:
    pictures = folder_of(path)
    pictures.mkdir()
    (pictures / f"{'a' * 64}.jpg").write_bytes(JPEG)
    copy = make_copy(path, at=AT)
    make_copy(path, at=AT + dt.timedelta(hours=1))
    there = photographs_of_copies(copy.path.parent)
    assert [path.read_bytes() for path in there.iterdir()] == [JPEG]


def test_a_picture_that_no_copy_names_goes_with_the_copy(path: Path) -> None:
    pictures = folder_of(path)
    pictures.mkdir()
    named = RICH_BUILD.photographs[0].digest
    for digest in ("a" * 64, named):
        (pictures / f"{digest}.jpg").write_bytes(JPEG)
    first = make_copy(path, at=AT - dt.timedelta(days=20))
    for days in range(20):  # twenty more: the first is of no last day, week or month
        at = AT - dt.timedelta(days=days)
        shutil.copy(first.path, first.path.with_name(f"keyturn.{at:%Y%m%dT%H%M%S%fZ}.sqlite3"))
    assert first in rotate(first.path.parent, at=AT)
    assert [path.name for path in photographs_of_copies(first.path.parent).iterdir()] == [
        f"{named}.jpg"
    ]


def test_another_folder_has_the_copy_and_its_pictures(path: Path, tmp_path: Path) -> None:
    pictures = folder_of(path)
    pictures.mkdir()
    (pictures / f"{'a' * 64}.jpg").write_bytes(JPEG)
    copy = make_copy(path, at=AT)
    there = carry_over(copy, tmp_path / "stick")
    assert there.path.read_bytes() == copy.path.read_bytes()
    assert carry_over(copy, tmp_path / "stick") == there
    assert [path.name for path in photographs_of_copies(tmp_path / "stick").iterdir()] == [
        f"{'a' * 64}.jpg"
    ]


def noon(day: dt.date) -> Copy:
    made_at = dt.datetime.combine(day, dt.time(12)).astimezone().astimezone(dt.UTC)
    return Copy(path=Path(f"{day}.sqlite3"), made_at=made_at)


def test_of_two_years_of_days_seven_four_and_twelve_stay() -> None:
    """By hand, seen on Tue 10 February 2026 after 730 days with a copy each.

    Days: 4 to 10 February. Weeks (Mon to Sun): the newest of this one is the 10th, of those
    before it the 8th, the 1st, and 25 January: two more. Months, the newest of each: 10
    February (there), 31 January and the last days back to March 2025: eleven more.
    """
    last = dt.date(2026, 2, 10)
    copies = [noon(last - dt.timedelta(days=n)) for n in range(730)]
    kept = {copy.path.stem for copy in kept_of(copies, at=noon(last).made_at)}
    days = {f"2026-02-{day:02d}" for day in range(4, 11)}
    weeks = {"2026-02-01", "2026-01-25"}
    months = {"2026-01-31", "2025-12-31", "2025-11-30", "2025-10-31", "2025-09-30", "2025-08-31"}
    months |= {"2025-07-31", "2025-06-30", "2025-05-31", "2025-04-30", "2025-03-31"}
    assert kept == days | weeks | months


def test_what_was_kept_yesterday_is_enough_for_today() -> None:
    """Rotated every day, a day is never missed that would have stayed had nothing gone before."""
    chance = random.Random(7)
    day, there, all_of_them = dt.date(2024, 1, 1), set(), []
    for _ in range(500):
        day += dt.timedelta(days=chance.choice((1, 1, 1, 2, 9)))
        copy = noon(day)
        there.add(copy)
        all_of_them.append(copy)
        there = set(kept_of(there, at=copy.made_at))
        assert there == kept_of(all_of_them, at=copy.made_at)
        assert copy in there


def test_nothing_goes_within_a_day() -> None:
    copies = [
        Copy(path=Path(f"{n}.sqlite3"), made_at=AT - dt.timedelta(minutes=n)) for n in range(600)
    ]
    assert kept_of(copies, at=AT) == frozenset(copies)
