"""What the program is told from outside: flags and environment, frozen at start."""

import datetime as dt
import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import webapp

DEFAULT_HOST = "127.0.0.1"
DEFAULT_PORT = 8642


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Where the data lies, where to listen, and what time it is.

    `frozen_now` stands still (tests, pictures); None means the machine's local time.
    """

    data_file: Path
    host: str = DEFAULT_HOST
    port: int = DEFAULT_PORT
    frozen_now: dt.datetime | None = None

    def now(self) -> dt.datetime:
        """The naive local time, floored to the minute."""
        if self.frozen_now is not None:
            return self.frozen_now
        return dt.datetime.now().replace(second=0, microsecond=0)

    def moment(self) -> dt.datetime:
        """The local time to the fraction of a second with its offset: of rests and watches."""
        return (dt.datetime.now() if self.frozen_now is None else self.frozen_now).astimezone()

    @classmethod
    def from_environment(
        cls,
        *,
        data_file: Path | None = None,
        host: str | None = None,
        port: int | None = None,
        environment: Mapping[str, str] = os.environ,
    ) -> "Settings":
        """Settings from flags (where given), else `KEYTURN_*`, else the defaults.

        Raises
        ------
        ValueError
            With a sentence for the screen, when a variable cannot be read.
        """
        named = data_file or environment.get("KEYTURN_DATA")
        return cls(
            data_file=Path(named) if named else default_data_file(environment),
            host=host or environment.get("KEYTURN_HOST") or DEFAULT_HOST,
            port=port if port is not None else _port_of(environment.get("KEYTURN_PORT")),
            frozen_now=_moment_of(environment.get("KEYTURN_NOW")),
        )


def _port_of(text: str | None) -> int:
    if not text:
        return DEFAULT_PORT
    if not text.isdecimal() or not 0 <= int(text) <= 65535:
        raise ValueError(f"KEYTURN_PORT is “{text}”: give a number from 0 to 65535.")
    return int(text)


def _moment_of(text: str | None) -> dt.datetime | None:
    if not text:
        return None
    try:
        moment = dt.datetime.fromisoformat(text)
    except ValueError:
        raise ValueError(
            f"KEYTURN_NOW is “{text}”: write it as 2026-02-09T18:30, or leave it out."
        ) from None
    return moment.replace(second=0, microsecond=0, tzinfo=None)


def default_data_file(environment: Mapping[str, str] = os.environ) -> Path:
    """The database in the data folder that this platform keeps for programs."""
    home = Path.home()
    if sys.platform == "darwin":
        folder = home / "Library" / "Application Support"
    elif sys.platform == "win32":
        folder = Path(environment.get("LOCALAPPDATA") or home / "AppData" / "Local")
    else:
        folder = Path(environment.get("XDG_DATA_HOME") or home / ".local" / "share")
    return folder / "keyturn" / "keyturn.sqlite3"


def resource_root() -> Path:
    """The folder of templates, static, migrations and seed_data.

    A wheel carries them inside the package; in the source tree they lie beside it.
    """
    package = Path(webapp.__file__).parent
    inside = package / "resources"
    return inside if inside.is_dir() else package.parent
