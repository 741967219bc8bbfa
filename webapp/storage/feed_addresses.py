"""The addresses that calendars follow: kept beside the data file, each as a digest alone.

Not in the data file: a copy of that is put back, or given away, and neither may let an address in
again that was taken back. Whoever reads the file learns no address from it.
"""

import datetime as dt
import hashlib
import json
import os
import secrets
import threading
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

SECRET_BYTES = 24
"""192 bits: nobody finds an address by trying."""
_KEY_CHARACTERS = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedAddress:
    """One address, under the name that its person gave it.

    `digest` is the SHA-256 of its secret; `build` the slug of the build it is about, "" for all;
    `used_on` the last day it was asked for; `device` the number of the paired device that knows
    the secret, None where it was made at the machine.
    """

    name: str
    digest: str
    made_on: dt.date
    build: str = ""
    used_on: dt.date | None = None
    device: int | None = None

    @property
    def key(self) -> str:
        """What a press calls it by."""
        return self.digest[:_KEY_CHARACTERS]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kept:
    """What the file says. `installation` tells the events of this program from all others."""

    installation: str
    addresses: tuple[FeedAddress, ...] = ()


class FeedAddresses:
    """The addresses of one data file. Safe to share between threads.

    Every method that changes them returns once they are on disk, and raises OSError where that
    can not be.
    """

    def __init__(self, data_file: Path) -> None:
        self._path = data_file.with_name(f"{data_file.name}.feeds")
        self._lock = threading.Lock()

    def all(self) -> tuple[FeedAddress, ...]:
        """Every address, in the order they were made."""
        return self._read().addresses

    def installation(self) -> str:
        """What stands in the name of every event of this program."""
        return self._read().installation

    def opened_by(self, secret: str, *, today: dt.date) -> FeedAddress | None:
        """The address of a secret, None where there is none; that it was used today is kept."""
        with self._lock:
            kept, digest = self._read(), digest_of(secret)
            found = next((one for one in kept.addresses if one.digest == digest), None)
            if found is not None and found.used_on != today:
                used = replace(found, used_on=today)
                with suppress(OSError):  # a full disk keeps nobody from looking
                    self._write(kept, (used if one == found else one for one in kept.addresses))
            return found

    def is_known(self, secret: str) -> bool:
        """Whether a secret opens anything; that it was asked is not kept."""
        digest = digest_of(secret)
        return any(one.digest == digest for one in self.all())

    def make(self, name: str, *, build: str, today: dt.date, device: int | None = None) -> str:
        """Make an address and return its secret: the one time that it is known."""
        secret = secrets.token_urlsafe(SECRET_BYTES)
        made = FeedAddress(
            name=name, digest=digest_of(secret), made_on=today, build=build, device=device
        )
        with self._lock:
            kept = self._read()
            self._write(kept, (*kept.addresses, made))
        return secret

    def change(self, key: str, *, today: dt.date, device: int | None = None) -> str | None:
        """Give an address another secret, and return it: the old one leads nowhere from now on.

        None where there is no such address. `device` is the one that gets to know it.
        """
        secret = secrets.token_urlsafe(SECRET_BYTES)
        with self._lock:
            kept = self._read()
            if all(one.key != key for one in kept.addresses):
                return None
            digest = digest_of(secret)
            changed = (
                replace(one, digest=digest, made_on=today, used_on=None, device=device)
                if one.key == key
                else one
                for one in kept.addresses
            )
            self._write(kept, changed)
        return secret

    def take_back(self, key: str) -> FeedAddress | None:
        """Take an address back: it leads nowhere from now on. None where there is none."""
        with self._lock:
            kept = self._read()
            found = next((one for one in kept.addresses if one.key == key), None)
            if found is not None:
                self._write(kept, (one for one in kept.addresses if one != found))
            return found

    def take_back_of(self, device: int) -> None:
        """Take back every address whose secret a device knows: it is let in no longer."""
        with self._lock:
            kept = self._read()
            if any(one.device == device for one in kept.addresses):
                self._write(kept, (one for one in kept.addresses if one.device != device))

    def _read(self) -> _Kept:
        """What is kept; nothing of a file that can not be read: then no address leads anywhere."""
        try:
            said = json.loads(self._path.read_text(encoding="utf-8"))
            addresses = tuple(_address_of(one) for one in said["addresses"])
            return _Kept(installation=str(said["installation"]), addresses=addresses)
        except (OSError, ValueError, KeyError, TypeError):
            return _Kept(installation=secrets.token_hex(8))

    def _write(self, kept: _Kept, addresses: Iterable[FeedAddress]) -> None:
        listed = [asdict(one) for one in addresses]
        said = {"installation": kept.installation, "addresses": listed}
        beside = self._path.with_name(f"{self._path.name}-{os.getpid()}.part")
        try:
            with beside.open("w", encoding="utf-8") as file:
                beside.chmod(0o600)
                json.dump(said, file, ensure_ascii=False, default=dt.date.isoformat)
                file.flush()
                os.fsync(file.fileno())
            beside.replace(self._path)
        finally:
            beside.unlink(missing_ok=True)


def digest_of(secret: str) -> str:
    """What is kept of a secret. It is long and random, so a plain digest gives nothing away."""
    return hashlib.sha256(secret.encode("utf-8", "surrogatepass")).hexdigest()


def _address_of(said: dict[str, Any]) -> FeedAddress:
    used_on = said["used_on"]
    return FeedAddress(
        name=str(said["name"]),
        digest=str(said["digest"]),
        made_on=dt.date.fromisoformat(said["made_on"]),
        build=str(said["build"]),
        used_on=None if used_on is None else dt.date.fromisoformat(used_on),
        device=said.get("device"),
    )
