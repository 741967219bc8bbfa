"""The devices that are let in from the shop's network: paired by a code, known by a token."""

import datetime as dt
import hashlib
import logging
import secrets
import threading
from dataclasses import dataclass, replace

from webapp.services.pairing import Outcome, Pairing, ShownCode
from webapp.storage.database import Database
from webapp.storage.devices import (
    Device,
    add_device,
    devices_by_hash,
    note_uses,
    remove_device,
)
from webapp.storage.trouble import UnusableDatabaseError

TOKEN_BYTES = 32
LONGEST_TOKEN = 200
NOTED_AFTER = dt.timedelta(hours=6)
"""A use is stored when the stored one is so old; until then it is known in memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paired:
    """A device that was just paired, and the token that only it gets to know."""

    device: Device
    token: str


class Devices:
    """The paired devices of one data file. Safe to share between threads.

    All are held in memory, so that a made-up token costs one hash and never the database. `known`
    and `used` never wait for the disk: they are asked of every request.
    """

    def __init__(self, database: Database, pairing: Pairing | None = None) -> None:
        self._database = database
        self._pairing = pairing or Pairing()
        self._changing = threading.Lock()
        """Held over the disk by who pairs or turns away; the other never is."""
        self._lock = threading.Lock()
        with database.reading() as session:
            self._known = devices_by_hash(session)
        self._used = {device.key: device.used_at for device in self._known.values()}

    def all(self) -> tuple[Device, ...]:
        """The devices with their last use, the one used last first."""
        with self._lock:
            devices = [replace(each, used_at=self._used[each.key]) for each in self._known.values()]
        return tuple(sorted(devices, key=lambda device: device.used_at, reverse=True))

    def known(self, token: str) -> Device | None:
        """The device that holds a token, None where nobody does."""
        if not 0 < len(token) <= LONGEST_TOKEN:
            return None
        with self._lock:
            return self._known.get(_hash_of(token))

    # --- pairing ------------------------------------------------------------------------
    def show_code(self) -> ShownCode:
        """A new code for one device."""
        with self._changing:
            return self._pairing.show()

    def shown_code(self) -> ShownCode | None:
        """The code that is valid now."""
        with self._changing:
            return self._pairing.shown()

    def put_code_away(self) -> None:
        """No code pairs from now on."""
        with self._changing:
            self._pairing.put_away()

    def pair(self, code: str, *, name: str, by: str) -> Paired | Outcome:
        """Pair a device by its code; `by` is the address that it comes from.

        The code is used up. Raises `UnusableDatabaseError` where the device can not be stored;
        then the code is still good.
        """
        with self._changing:
            outcome = self._pairing.tried(code, by=by)
            if outcome != "right":
                return outcome
            token, at = secrets.token_urlsafe(TOKEN_BYTES), dt.datetime.now(dt.UTC)
            token_hash = _hash_of(token)
            with self._database.writing() as session:
                device = add_device(session, name=name, token_hash=token_hash, at=at)
            self._pairing.put_away()
            with self._lock:
                self._known[token_hash] = device
                self._used[device.key] = at
            return Paired(device=device, token=token)

    def turn_away(self, key: int) -> Device | None:
        """Let a device in no longer, from this moment on; None where there is none of the key.

        Raises `UnusableDatabaseError` where that can not be stored: then it is kept out until the
        program ends, and no longer.
        """
        with self._changing:
            with self._lock:
                found = {h: each for h, each in self._known.items() if each.key == key}
                for token_hash in found:
                    del self._known[token_hash], self._used[key]
            with self._database.writing() as session:
                remove_device(session, key)
        return next(iter(found.values()), None)

    # --- last use -----------------------------------------------------------------------
    def used(self, device: Device) -> bool:
        """Note that a device is used now; whether it is time to store it."""
        now = dt.datetime.now(dt.UTC)
        with self._lock:
            if device.key in self._used:
                self._used[device.key] = now
        return now - device.used_at >= NOTED_AFTER

    def store_uses(self) -> None:
        """Store when each device was used last; where that can not be, it is no matter."""
        with self._changing:
            with self._lock:
                used = dict(self._used)
            try:
                with self._database.writing() as session:
                    note_uses(session, used)
            except UnusableDatabaseError as trouble:
                logging.getLogger(__name__).warning("No last use was stored: %s", trouble)
                return
            with self._lock:
                for token_hash, each in self._known.items():
                    self._known[token_hash] = replace(
                        each, used_at=used.get(each.key, each.used_at)
                    )


def _hash_of(token: str) -> str:
    """What is kept of a token. It is drawn from 2^256, so no salt and no slow hash is needed."""
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()
