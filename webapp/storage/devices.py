"""The devices that were paired with this installation, and the switch of the shop's network."""

import datetime as dt
import secrets
from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import select
from sqlmodel import Session, col

from webapp.storage.database import Database
from webapp.storage.tables.devices import INSTALLATION, DeviceRow, ShopNetworkRow
from webapp.storage.tables.row import Row

_MOST_KEYS = 10**12


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """A paired device; both moments are in UTC."""

    key: int
    name: str
    paired_at: dt.datetime
    used_at: dt.datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Switch:
    """Whether devices are let in, and what this installation is called among others."""

    is_open: bool
    called: str


def devices_by_hash(session: Session) -> dict[str, Device]:
    """Every paired device by the hash of its token, in the order of pairing."""
    rows = session.execute(select(DeviceRow).order_by(col(DeviceRow.paired_at))).scalars()
    return {row.token_hash: _device_of(row) for row in rows}


def add_device(session: Session, *, name: str, token_hash: str, at: dt.datetime) -> Device:
    """Store a device that was just paired."""
    key = secrets.randbelow(_MOST_KEYS)
    row = DeviceRow(id=key, name=name, token_hash=token_hash, paired_at=at, used_at=at)
    session.add(row)
    session.flush()
    return _device_of(row)


def remove_device(session: Session, key: int) -> bool:
    """Store a device no longer; whether it was there."""
    row = session.get(DeviceRow, key)
    if row is None:
        return False
    session.delete(row)
    return True


def note_uses(session: Session, used: Mapping[int, dt.datetime]) -> None:
    """Store when devices were used last, by their keys; those that are gone are passed over."""
    for key, at in used.items():
        row = session.get(DeviceRow, key)
        if row is not None:
            row.used_at = max(row.used_at, at)


def switch_of(session: Session) -> Switch | None:
    """The switch; None where it was never touched."""
    row = session.get(ShopNetworkRow, 1)
    return None if row is None else Switch(is_open=row.is_open, called=row.called)


def turn_switch(session: Session, *, is_open: bool) -> Switch:
    """Store whether devices are let in; the first time gives the installation its name."""
    row = session.get(ShopNetworkRow, 1)
    if row is None:
        row = ShopNetworkRow(id=1, called=secrets.token_hex(4))
        session.add(row)
    row.is_open = is_open
    return Switch(is_open=row.is_open, called=row.called)


def carry_installation(present: Database, other: Database) -> None:
    """Have another file hold what belongs to this machine, as it is here and nothing else."""
    with present.reading() as session:
        here = [type(row)(**row.model_dump()) for row in _rows_of_installation(session)]
    with other.writing() as session:
        for row in _rows_of_installation(session):
            session.delete(row)
        session.flush()
        session.add_all(here)


def _rows_of_installation(session: Session) -> list[Row]:
    return [row for kind in INSTALLATION for row in session.execute(select(kind)).scalars()]


def _device_of(row: DeviceRow) -> Device:
    return Device(key=row.id, name=row.name, paired_at=row.paired_at, used_at=row.used_at)
