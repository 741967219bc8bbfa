"""A connection that sends at once what it is given."""

import asyncio
import socket

from uvicorn.protocols.http.h11_impl import H11Protocol


class PromptConnection(H11Protocol):
    """HTTP/1.1 of uvicorn, without the wait of small writes for one another.

    An answer is written in two: its head, then its body. Left alone, the system holds the body
    back until the head is acknowledged, which the other side puts off for some 40 ms. asyncio
    switches that off only for sockets that were made by the name of their protocol, and those
    accepted on Windows never are.
    """

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        connected = transport.get_extra_info("socket")
        connected.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        super().connection_made(transport)
