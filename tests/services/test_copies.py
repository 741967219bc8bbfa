"""Copies made while the program runs, and put back."""

import datetime as dt
import sqlite3
import threading
import time
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.services.test_undo import RICH_BUILD, SLUG, changed, rename, services_on, stored
from tests.storage.rich_build import RICH_BUILD as SIGNED_BUILD
from webapp.services import copies as copies_module
from webapp.services.copies import Copies, look_over
from webapp.services.program import Services
from webapp.storage.builds import create_build, delete_build, revision_of
from webapp.storage.past_changes import past_of
from webapp.storage.photograph_files import folder_of
from webapp.storage.putting_back import take_back_whole
from webapp.storage.trouble import UnusableDatabaseError


@pytest.fixture
def services(tmp_path: Path) -> Iterator[Services]:
    made = services_on(tmp_path)
    yield made
    made.copies.close()
    made.database.close()


def test_a_copy_is_put_back_whole_and_that_is_taken_back(services: Services) -> None:
    first = stored(services)
    copy = services.copies.make()
    assert changed(services, rename("The Crane")) is not None
    later = stored(services)
    before = services.copies.put_back(copy)
    assert stored(services) == first
    services.copies.put_back(before)
    assert stored(services) == later


def test_a_build_that_was_deleted_comes_back_with_its_photographs(services: Services) -> None:
    digest = RICH_BUILD.photographs[0].digest
    pictures = folder_of(services.database.path)
    pictures.mkdir()
    (pictures / f"{digest}.jpg").write_bytes(b"a picture")
    copy = services.copies.make()
    with services.database.writing() as session:
        delete_build(session, SLUG)
    (pictures / f"{digest}.jpg").unlink()
    services.copies.put_back(copy)
    assert stored(services)[0] == RICH_BUILD
    assert services.database.photographs.has(digest)


def test_nothing_shown_before_is_taken_for_what_was_put_back(services: Services) -> None:
    """Each change has a number; what was put back goes on from there."""
    copy = services.copies.make()
    for name in ("The Crane", "The Stork"):
        assert changed(services, rename(name)) is not None

    def revision() -> int:
        with services.database.reading() as session:
            found = revision_of(session, SLUG)
        assert found is not None
        return found

    shown = revision()
    services.copies.put_back(copy)
    assert revision() > shown


def test_the_journal_still_tells_what_was_changed_before_the_copy(services: Services) -> None:
    assert changed(services, rename("The Crane")) is not None
    copy = services.copies.make()
    services.copies.put_back(copy)
    with services.database.reading() as session:
        past = past_of(session, SLUG, now=RICH_BUILD.now, most=5)
    assert past is not None
    assert [change.after and change.after.name for change in past.changes] == [
        "The Crane",
        RICH_BUILD.name,
    ]


def test_what_was_signed_for_the_day_is_asked_anew_of_a_copy(services: Services) -> None:
    """Nobody knows what was opened between the copy and now."""
    with services.database.writing() as session:
        delete_build(session, SLUG)
        create_build(session, SIGNED_BUILD)
    copy = services.copies.make()
    services.copies.put_back(copy)
    start = stored(services)[0].start
    assert start.signatures == SIGNED_BUILD.start.signatures
    assert start.openings[-1].how == "copied"


def test_a_damaged_copy_is_refused_and_nothing_changes(services: Services) -> None:
    copy = services.copies.make()
    content = bytearray(copy.path.read_bytes())
    content[4096:20480] = bytes(16384)
    copy.path.write_bytes(content)
    before = stored(services)
    with pytest.raises(UnusableDatabaseError, match="damaged"):
        services.copies.put_back(copy)
    assert stored(services) == before


def test_a_copy_is_due_on_a_new_day_and_an_hour_after_a_change(services: Services) -> None:
    copies = services.copies
    noon = dt.datetime.now().astimezone().replace(hour=12)
    assert copies.is_due(noon)
    made_at = copies.make().made_at
    same_day = made_at + dt.timedelta(minutes=1)
    if same_day.astimezone().date() == made_at.astimezone().date():
        assert not copies.is_due(same_day)
    assert copies.is_due(made_at + dt.timedelta(days=1))
    assert changed(services, rename("The Crane")) is not None
    assert copies.is_due(made_at + dt.timedelta(hours=1, seconds=1))


def test_once_started_it_makes_one_by_itself(
    services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("webapp.services.copies.FIRST_AFTER_SECONDS", 0.01)
    services.copies.start()
    until = time.monotonic() + 30
    while not services.copies.all() and time.monotonic() < until:
        time.sleep(0.02)
    services.copies.close()
    assert len(services.copies.all()) == 1


def test_another_folder_that_is_gone_is_told_and_the_copy_is_made(
    services: Services, tmp_path: Path
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    services.copies.carry_to(stick)
    first = services.copies.make()
    assert (stick / first.name).exists()
    assert services.copies.elsewhere() == stick
    for path in sorted(stick.rglob("*"), reverse=True):
        path.unlink() if path.is_file() else path.rmdir()
    stick.rmdir()
    stick.write_text("no folder any more")
    second = services.copies.make()
    assert second in services.copies.all()
    trouble = services.copies.elsewhere_trouble
    assert trouble is not None
    assert str(stick) in trouble.text


def test_two_who_put_back_at_once_leave_one_of_the_two(services: Services) -> None:
    first = services.copies.make()
    assert changed(services, rename("The Crane")) is not None
    second = services.copies.make()
    gate = threading.Barrier(2)

    def press(number: int) -> None:
        gate.wait()
        services.copies.put_back((first, second)[number])

    presses = [threading.Thread(target=press, args=(number,)) for number in range(2)]
    for thread in presses:
        thread.start()
    for thread in presses:
        thread.join()
    assert stored(services)[0] in (RICH_BUILD, replace(RICH_BUILD, name="The Crane"))
    assert len(look_over(services.database.path, now=RICH_BUILD.now)) == 1


def test_a_file_is_looked_over_without_being_changed(services: Services) -> None:
    copy = services.copies.make()
    before = copy.path.read_bytes()
    found = look_over(copy.path, now=RICH_BUILD.now)
    assert [(build.slug, build.tasks) for build in found] == [(SLUG, len(RICH_BUILD.tasks))]
    assert copy.path.read_bytes() == before
    assert [path.name for path in copy.path.parent.iterdir()] == [copy.name]


def test_copies_of_another_moment_are_kept_apart(services: Services) -> None:
    copies = Copies(services.settings, services.database)
    names = {copies.make().name for _ in range(3)}
    assert {copy.name for copy in copies.all()} == names
    assert len(names) == 3
    assert copies.called("keyturn.sqlite3") is None
    assert copies.called("../keyturn.sqlite3") is None


def test_what_is_stored_while_a_copy_is_put_back_is_in_the_file_or_in_the_copy(
    services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The copy of what was there is made first: what comes behind it must not be overwritten."""
    first = services.copies.make()
    stored_meanwhile = threading.Event()

    def store() -> None:
        with services.database.writing() as session:
            create_build(session, replace(RICH_BUILD, name="The Stork"))
        stored_meanwhile.set()

    writer = threading.Thread(target=store)
    take_back = take_back_whole

    def come_between(*given: Any, **named: Any) -> None:
        writer.start()
        stored_meanwhile.wait(0.5)
        take_back(*given, **named)

    monkeypatch.setattr(copies_module, "take_back_whole", come_between)
    before = services.copies.put_back(first)
    writer.join()
    there = {build.name for build in look_over(services.database.path, now=RICH_BUILD.now)}
    kept = {build.name for build in look_over(before.path, now=RICH_BUILD.now)}
    assert "The Stork" in there | kept


def test_what_another_program_stored_meanwhile_is_not_overwritten(
    services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its change comes behind the copy of what was there: then nothing is put back."""
    first = services.copies.make()
    take_back = take_back_whole

    def come_between(*given: Any, **named: Any) -> None:
        with closing(sqlite3.connect(services.database.path)) as other, other:
            other.execute("UPDATE builds SET name = 'The Stork'")
        take_back(*given, **named)

    monkeypatch.setattr(copies_module, "take_back_whole", come_between)
    with pytest.raises(UnusableDatabaseError, match="put back once more"):
        services.copies.put_back(first)
    assert stored(services)[0].name == "The Stork"


def test_an_old_copy_that_can_not_be_removed_is_told_and_stands_in_no_way(
    services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_given: object, **_named: object) -> None:
        raise PermissionError(13, "Permission denied")

    first = services.copies.make()
    monkeypatch.setattr(copies_module, "rotate", refuse)
    assert services.copies.make() in services.copies.all()
    trouble = services.copies.rotation_trouble
    assert trouble is not None
    assert "Permission denied" in trouble.text
    services.copies.put_back(first)
    monkeypatch.undo()
    services.copies.make()
    assert services.copies.rotation_trouble is None
