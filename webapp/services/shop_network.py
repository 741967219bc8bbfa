"""The shop's own network: whether the program answers in it, where, and by which names."""

import ipaddress
import socket
import threading
from typing import Protocol

from webapp.settings import Settings
from webapp.storage.database import Database
from webapp.storage.devices import switch_of, turn_switch

FROM_NETWORK = "keyturn.from_network"
"""Set in the scope of a request by the listener of the network."""
SOMEWHERE = ("10.255.255.255", "172.31.255.255", "192.168.255.255", "203.0.113.1", "224.0.0.251")
"""Asked which way leads to them; nothing is sent. Private ranges (RFC 1918), one for examples
(RFC 5737), the one of local names (RFC 6762)."""


class CannotListenError(Exception):
    """The program can not listen in the network; the message says why and what to do."""


class Listener(Protocol):
    """What opens and shuts the way in from the network."""

    port: int

    def open(self) -> None:
        """Listen from now on; nothing where it does already. Raises CannotListenError."""

    def close(self) -> None:
        """Listen no longer, and break off what is connected."""


class ShopNetwork:
    """The switch, and what it opens. Safe to share between threads.

    `listener` is None in a program that serves nothing.
    """

    def __init__(self, settings: Settings, database: Database) -> None:
        self.listener: Listener | None = None
        self._settings, self._database = settings, database
        self._lock = threading.Lock()
        with database.reading() as session:
            stored = switch_of(session)
        self.is_open = settings.shop or (stored is not None and stored.is_open)
        self._called = stored.called if stored is not None else ""
        if self.is_open and not self._called:
            self._store(is_open=False)

    @property
    def cookie(self) -> str:
        """What the token is kept under: two programs on one machine share a browser's cookies."""
        return f"keyturn-{self._called}"

    def open(self) -> None:
        """Let paired devices in. Raises CannotListenError or UnusableDatabaseError."""
        with self._lock:
            if self.listener is not None:
                self.listener.open()
            self._store(is_open=True)
            self.is_open = True

    def close(self) -> None:
        """Let nobody in, from this moment on. Raises UnusableDatabaseError."""
        with self._lock:
            self.is_open = False
            if self.listener is not None:
                self.listener.close()
            self._store(is_open=False)

    def _store(self, *, is_open: bool) -> None:
        with self._database.writing() as session:
            self._called = turn_switch(session, is_open=is_open).called

    # --- names and addresses ------------------------------------------------------------
    def is_ours(self, name: str | None) -> bool:
        """Whether a device may call the program by a name, as it stands in a Host header.

        A bare address can not be made to point elsewhere. A name can, and what it leads to then
        has no token: a browser gives a token only to the name that it was given by.
        """
        if name is None:
            return False
        if name in self._own_names() or name.endswith(".local"):
            return True
        try:
            ipaddress.ip_address(name)
        except ValueError:
            return False
        return True

    def addresses(self) -> tuple[str, ...]:
        """Where a device may open the program, the best first; () while nobody is let in."""
        if not self.is_open:
            return ()
        scheme = "http" if self._settings.certificate is None else "https"
        port = self.listener.port if self.listener is not None else self._settings.shop_port
        hosts = [self._settings.shop_name] if self._settings.shop_name else []
        if self._settings.shop_host:
            hosts.append(self._settings.shop_host)
        else:
            hosts += [*machine_addresses(), f"{_short_name()}.local"]
        return tuple(f"{scheme}://{_in_address(host)}:{port}/" for host in hosts)

    def _own_names(self) -> frozenset[str]:
        whole = socket.gethostname().lower()
        names = {"localhost", whole, _short_name(), self._settings.shop_name.lower()}
        return frozenset(names - {""})


def machine_addresses() -> tuple[str, ...]:
    """The addresses of this machine in its networks, IPv4 before IPv6; loopback is none."""
    found: dict[str, None] = {}
    for somewhere in SOMEWHERE:
        if (address := _address_towards(somewhere)) is not None:
            found[address] = None
    try:
        for *_, place in socket.getaddrinfo(socket.gethostname(), None, type=socket.SOCK_STREAM):
            found[str(place[0])] = None
    except OSError:
        pass
    usable = [text for text in found if _is_of_network(text)]
    return tuple(sorted(usable, key=lambda text: ":" in text))


def _address_towards(somewhere: str) -> str | None:
    """The address that this machine would send from."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect((somewhere, 9))
        except OSError:
            return None
        return str(asked.getsockname()[0])


def _is_of_network(text: str) -> bool:
    try:
        address = ipaddress.ip_address(text)
    except ValueError:
        return False
    return not (address.is_loopback or address.is_link_local or address.is_unspecified)


def _short_name() -> str:
    return socket.gethostname().lower().partition(".")[0]


def _in_address(host: str) -> str:
    return f"[{host}]" if ":" in host else host
