"""The web server of the machine itself, and the second way in that the shop's network is given.

The two never share a socket. So what comes in from the network is known as such by where it came
in, whatever it says of itself, and the machine keeps its own address while the other is opened and
shut.
"""

import asyncio
import errno
import socket
from collections import Counter

import uvicorn
from starlette.types import ASGIApp, Receive, Scope, Send

from webapp.command.prompt_connection import PromptConnection
from webapp.services.shop_network import FROM_NETWORK, CannotListenError
from webapp.settings import Settings

MOST_CONNECTIONS, MOST_OF_ONE = 200, 40
"""So many are held open from the network at once, and from one address in it."""
BACKLOG = 256
ANSWERS_WITHIN_SECONDS = 10.0


class NetworkConnection(PromptConnection):
    """A connection from the network; what is too many is broken off at once.

    Else whoever opens thousands of them would leave none for the machine itself.
    """

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        held = Counter(
            each.client[0] if each.client else ""
            for each in self.connections
            if isinstance(each, NetworkConnection)
        )
        mine = self.client[0] if self.client else ""
        if held.total() > MOST_CONNECTIONS or held[mine] > MOST_OF_ONE:
            transport.abort()


class ShopServer(uvicorn.Server):
    """The server of the machine; the listener of the shop's network, for `ShopNetwork`."""

    def __init__(self, config: uvicorn.Config, app: ASGIApp, settings: Settings) -> None:
        super().__init__(config)
        self._settings = settings
        self._network_config = network_config_of(app, settings)
        self._loop: asyncio.AbstractEventLoop | None = None
        self._listener: socket.socket | None = None
        self._serving: asyncio.Server | None = None
        self.port = settings.shop_port

    def open(self) -> None:
        """Listen in the network; from any thread. Raises CannotListenError."""
        if self._listener is not None:
            return
        listener = network_listener_on(self._settings)
        if self._loop is not None:
            serving = asyncio.run_coroutine_threadsafe(self._serve_network(listener), self._loop)
            try:
                serving.result(ANSWERS_WITHIN_SECONDS)
            except OSError as error:  # that it takes too long is one
                listener.close()
                raise CannotListenError(
                    f"The network can not be served: {error.strerror or 'it takes too long'}. "
                    "Try again, or end Keyturn and start it anew."
                ) from error
        self._listener, self.port = listener, listener.getsockname()[1]

    def close(self) -> None:
        """Listen there no longer; from any thread but the server's own."""
        if self._loop is not None and self._listener is not None:
            leaving = asyncio.run_coroutine_threadsafe(self._leave_network(), self._loop)
            leaving.result(ANSWERS_WITHIN_SECONDS)

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Begin to serve, in the network too where that was opened before."""
        await super().startup(sockets)
        self._loop = asyncio.get_running_loop()
        if self._listener is not None:
            await self._serve_network(self._listener)

    async def _serve_network(self, listener: socket.socket) -> None:
        config = self._network_config

        def connection() -> asyncio.Protocol:
            return NetworkConnection(
                config=config, server_state=self.server_state, app_state=self.lifespan.state
            )

        loop = asyncio.get_running_loop()
        self._serving = await loop.create_server(
            connection, sock=listener, ssl=config.ssl, backlog=config.backlog
        )
        self.servers.append(self._serving)

    async def _leave_network(self) -> None:
        if self._serving is not None:
            self.servers.remove(self._serving)
            self._serving.close()
        for each in list(self.server_state.connections):
            if isinstance(each, NetworkConnection):
                each.transport.close()
        self._serving, self._listener = None, None


def network_config_of(app: ASGIApp, settings: Settings) -> uvicorn.Config:
    """How the network is served; encrypted where a certificate is given.

    Raises CannotListenError where the certificate can not be used.
    """

    async def from_network(scope: Scope, receive: Receive, send: Send) -> None:
        await app({**scope, FROM_NETWORK: True}, receive, send)

    certificate, key = settings.certificate, settings.certificate_key
    config = uvicorn.Config(
        from_network,
        http=NetworkConnection,
        ws="none",
        lifespan="off",
        log_level="warning",
        access_log=False,
        proxy_headers=False,
        server_header=False,
        ssl_certfile=None if certificate is None else str(certificate.expanduser()),
        ssl_keyfile=None if key is None else str(key.expanduser()),
    )
    try:
        config.load()
    except OSError as error:  # ssl.SSLError is one
        raise CannotListenError(
            f"The certificate {certificate} can not be used ({error.strerror or error}). Name the "
            "file of the certificate and its key, in PEM, a key without a password."
        ) from None
    return config


def network_listener_on(settings: Settings) -> socket.socket:
    """A socket that listens in the network. Raises CannotListenError."""
    host, port = settings.shop_host, settings.shop_port
    try:
        if not host and socket.has_dualstack_ipv6():
            try:
                return socket.create_server(
                    ("", port), family=socket.AF_INET6, dualstack_ipv6=True, backlog=BACKLOG
                )
            except OSError as error:
                if error.errno not in (errno.EAFNOSUPPORT, errno.EADDRNOTAVAIL):
                    raise  # else there is no IPv6 on this machine
        family = socket.AF_INET6 if ":" in host else socket.AF_INET
        return socket.create_server((host, port), family=family, backlog=BACKLOG)
    except OSError as error:
        where = f"{host}, port {port}" if host else f"port {port}"
        reason = str(error.strerror).partition(" (while")[0]
        raise CannotListenError(
            f"Cannot listen in the network on {where}: {reason}. End the program that uses it, or "
            "start Keyturn with another --shop-port."
        ) from None
