"""What the program is told from outside: flags and environment, frozen at start."""

import datetime as dt
import ipaddress
import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import webapp

DEFAULT_HOST = "127.0.0.1"
DEFAULT_PORT = 8642
DEFAULT_SHOP_PORT = 8643
EVERY_ADDRESS = frozenset({"0.0.0.0", "::"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Where the data lies, where to listen, and what time it is.

    The machine itself is answered at `host`, which only it can reach, and `port`. Paired devices
    are answered at `shop_port` of `shop_host` ("" is every address), from the start where `shop`
    says so, encrypted where a `certificate` is given; `shop_name` is one more name that the network
    knows this machine by. `frozen_now` stands still (tests, pictures); None means the machine's
    local time.
    """

    data_file: Path
    host: str = DEFAULT_HOST
    port: int = DEFAULT_PORT
    shop: bool = False
    shop_host: str = ""
    shop_port: int = DEFAULT_SHOP_PORT
    shop_name: str = ""
    certificate: Path | None = None
    certificate_key: Path | None = None
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
        shop: bool = False,
        shop_port: int | None = None,
        shop_name: str | None = None,
        certificate: Path | None = None,
        certificate_key: Path | None = None,
        environment: Mapping[str, str] = os.environ,
    ) -> "Settings":
        """Settings from flags (where given), else `KEYTURN_*`, else the defaults.

        A host that others can reach is one of the shop's network.

        Raises
        ------
        ValueError
            With a sentence for the screen, when a variable cannot be read.
        """
        named = data_file or environment.get("KEYTURN_DATA")
        host = host or environment.get("KEYTURN_HOST") or DEFAULT_HOST
        is_own = is_loopback(host)
        return cls(
            data_file=Path(named) if named else default_data_file(environment),
            host=host if is_own else DEFAULT_HOST,
            port=port if port is not None else _port_of(environment, "KEYTURN_PORT", DEFAULT_PORT),
            shop=shop or not is_own or environment.get("KEYTURN_SHOP", "") not in ("", "0"),
            shop_host="" if is_own or host in EVERY_ADDRESS else host,
            shop_port=shop_port
            if shop_port is not None
            else _port_of(environment, "KEYTURN_SHOP_PORT", DEFAULT_SHOP_PORT),
            shop_name=shop_name or environment.get("KEYTURN_SHOP_NAME", ""),
            certificate=certificate or _path_of(environment.get("KEYTURN_CERTIFICATE")),
            certificate_key=certificate_key or _path_of(environment.get("KEYTURN_CERTIFICATE_KEY")),
            frozen_now=_moment_of(environment.get("KEYTURN_NOW")),
        )


def is_loopback(host: str) -> bool:
    """Whether only this machine can reach the host."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def _port_of(environment: Mapping[str, str], name: str, otherwise: int) -> int:
    text = environment.get(name)
    if not text:
        return otherwise
    if not text.isdecimal() or not 0 <= int(text) <= 65535:
        raise ValueError(f"{name} is “{text}”: give a number from 0 to 65535.")
    return int(text)


def _path_of(text: str | None) -> Path | None:
    return Path(text) if text else None


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
