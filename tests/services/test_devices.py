"""Paired devices: known by their token alone, of this machine and of no build or copy."""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tests.services.test_undo import RICH_BUILD, SLUG, changed, rename, services_on, stored, undone
from webapp.exchange.build_document import write_document
from webapp.services.devices import Devices, Paired
from webapp.services.program import Services
from webapp.storage.copies import Copy
from webapp.storage.database import Database
from webapp.storage.journal import journal_of
from webapp.storage.putting_back import put_in_place
from webapp.storage.trouble import UnusableDatabaseError

PHONE = "192.0.2.7"


@pytest.fixture
def services(tmp_path: Path) -> Iterator[Services]:
    made = services_on(tmp_path)
    yield made
    made.database.close()


def paired(services: Services, name: str = "Phone") -> Paired:
    code = services.devices.show_code().text
    done = services.devices.pair(code, name=name, by=PHONE)
    assert isinstance(done, Paired)
    return done


def names(devices: Devices) -> set[str]:
    return {device.name for device in devices.all()}


def test_a_device_is_known_by_its_token_after_a_restart_too(services: Services) -> None:
    phone = paired(services)
    for devices in (services.devices, Devices(services.database)):
        assert devices.known(phone.token) == phone.device
        for other in ("", phone.token[:-1], f"{phone.token}A", phone.token.lower(), "é" * 43):
            assert devices.known(other) is None


def test_only_a_hash_of_the_token_is_stored(services: Services) -> None:
    phone = paired(services)
    services.database.close()
    folder = services.database.path.parent
    everything = b"".join(path.read_bytes() for path in folder.rglob("*") if path.is_file())
    assert b"Phone" in everything
    assert phone.token.encode() not in everything
    with closing(sqlite3.connect(services.database.path)) as file:
        ((kept,),) = file.execute("SELECT token_hash FROM devices")
    assert len(kept) == 64
    with closing(Database.open(services.database.path)) as again:
        assert Devices(again).known(kept) is None
        assert Devices(again).known(phone.token) == phone.device


def test_a_code_pairs_one_device(services: Services) -> None:
    code = services.devices.show_code().text
    first = services.devices.pair(code, name="Phone", by=PHONE)
    assert isinstance(first, Paired)
    assert services.devices.shown_code() is None
    assert services.devices.pair(code, name="Another", by="192.0.2.8") == "wrong"
    assert names(services.devices) == {"Phone"}


def test_of_many_who_type_the_code_at_once_one_is_paired(services: Services) -> None:
    code, outcomes = services.devices.show_code().text, list[object]()
    gate = threading.Barrier(8)

    def press(number: int) -> None:
        gate.wait()
        outcomes.append(services.devices.pair(code, name=f"Device {number}", by=f"10.0.0.{number}"))

    presses = [threading.Thread(target=press, args=(number,)) for number in range(8)]
    for thread in presses:
        thread.start()
    for thread in presses:
        thread.join()
    assert sum(isinstance(outcome, Paired) for outcome in outcomes) == 1
    assert outcomes.count("wrong") == 7
    assert len(services.devices.all()) == 1


def test_where_it_can_not_be_stored_the_code_stays_good(
    services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_given: object, **_named: object) -> None:
        raise UnusableDatabaseError("The disk is full.", "full")

    code = services.devices.show_code().text
    with monkeypatch.context() as patch:
        patch.setattr("webapp.services.devices.add_device", refuse)
        with pytest.raises(UnusableDatabaseError):
            services.devices.pair(code, name="Phone", by=PHONE)
    assert names(services.devices) == set()
    assert isinstance(services.devices.pair(code, name="Phone", by=PHONE), Paired)


def test_one_that_is_turned_away_stays_away(services: Services) -> None:
    phone, tablet = paired(services), paired(services, "Tablet")
    turned = services.devices.turn_away(phone.device.key)
    assert turned is not None
    assert turned.name == "Phone"
    assert services.devices.turn_away(phone.device.key) is None
    for devices in (services.devices, Devices(services.database)):
        assert devices.known(phone.token) is None
        assert devices.known(tablet.token) is not None


def test_the_last_use_is_shown_at_once_and_stored_in_the_end(services: Services) -> None:
    phone = paired(services)
    before = services.devices.all()[0].used_at
    assert not services.devices.used(phone.device)
    used = services.devices.all()[0].used_at
    assert used > before
    assert Devices(services.database).all()[0].used_at == before
    services.devices.store_uses()
    assert Devices(services.database).all()[0].used_at == used


# --- of the machine, not of a build ---------------------------------------------------------
def test_a_copy_put_back_revives_nobody_and_forgets_nobody(services: Services) -> None:
    lost = paired(services, "Lost phone")
    services.network.open()
    copy = services.copies.make()
    services.devices.turn_away(lost.device.key)
    later = paired(services, "New phone")
    services.network.close()
    services.copies.put_back(copy)
    again = Devices(services.database)
    assert names(again) == {"New phone"} == names(services.devices)
    assert again.known(later.token) is not None
    assert again.known(lost.token) is None
    cookie = services.network.cookie
    fresh = type(services.network)(services.settings, services.database)
    assert (fresh.is_open, fresh.cookie) == (False, cookie)


def test_no_copy_holds_a_device(services: Services) -> None:
    paired(services)
    services.network.open()
    copy = services.copies.make()
    with closing(sqlite3.connect(copy.path)) as file:
        assert file.execute("SELECT * FROM devices").fetchall() == []
        assert file.execute("SELECT * FROM shop_network").fetchall() == []


def test_a_copy_in_the_place_of_a_damaged_file_lets_nobody_in(
    services: Services, tmp_path: Path
) -> None:
    """Not even one that a program of before took along."""
    paired(services)
    services.network.open()
    services.database.close()
    whole = tmp_path / "whole.sqlite3"
    whole.write_bytes(services.database.path.read_bytes())
    other = tmp_path / "other.sqlite3"
    at = RICH_BUILD.now
    put_in_place(Copy(path=whole, made_at=at.astimezone()), other, at=at)
    with closing(sqlite3.connect(other)) as file:
        assert file.execute("SELECT * FROM devices").fetchall() == []


def test_the_document_the_journal_and_undo_know_of_no_device(services: Services) -> None:
    def journal() -> int:
        with services.database.reading() as session:
            return len(journal_of(session, SLUG, limit=10_000))

    done = changed(services, rename("The Crane"))
    assert done is not None
    before, entries = stored(services), journal()
    phone = paired(services, "Telltale phone")
    services.network.open()
    services.devices.store_uses()
    assert (stored(services), journal()) == (before, entries)
    assert "Telltale" not in write_document(stored(services)[0])
    undone(services, done)
    assert stored(services)[0].name == RICH_BUILD.name
    assert services.devices.known(phone.token) is not None
    assert services.network.is_open
