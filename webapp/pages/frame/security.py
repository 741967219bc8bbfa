"""The guard before every request: whose requests are taken, and how large they may be.

A page on another site must not be able to read or change a build in the shop's own program:
foreign host names are refused (a name made to point at this machine), changes that come from
another origin are refused, and every answer carries a strict content security policy.
"""

from collections.abc import MutableMapping
from typing import Any

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from webapp.build.limits import MOST_FULL_DOCUMENT_BYTES, MOST_PHOTOGRAPH_BYTES
from webapp.pages import addresses
from webapp.pages.frame.answer_headers import ANSWER_HEADERS
from webapp.pages.frame.cut_body import MOST_LET_GO_BYTES, without_files
from webapp.pages.frame.door import came_from_network
from webapp.pages.frame.errors import too_big
from webapp.pages.frame.rendering import render_refusal
from webapp.pages.frame.same_origin import host_name, is_same_origin
from webapp.services.shop_network import ShopNetwork

BODY_LIMIT_BYTES = 5 * 1024 * 1024
UPLOAD_LIMIT_BYTES = MOST_FULL_DOCUMENT_BYTES + BODY_LIMIT_BYTES
"""A document, and what a form puts around it and into its line ends."""
PHOTOGRAPHS_LIMIT_BYTES = MOST_PHOTOGRAPH_BYTES + 200_000
"""The photographs of one press, and what a form puts around them."""
SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS", "TRACE"})
LOOPBACK_NAMES = frozenset({"localhost", "127.0.0.1", "::1"})


def body_limit(path: str) -> int:
    """How many bytes may be sent to an address."""
    if addresses.adds_photographs(path):
        return PHOTOGRAPHS_LIMIT_BYTES
    return UPLOAD_LIMIT_BYTES if path == addresses.import_build() else BODY_LIMIT_BYTES


def _length_of(scope: MutableMapping[str, Any]) -> int:
    """How long a request says that its body is, in bytes; 0 where it does not say."""
    length = Headers(scope=scope).get("content-length", "0")
    return int(length) if length.isascii() and length.isdecimal() else 0


def _is_too_long(scope: MutableMapping[str, Any]) -> bool:
    return _length_of(scope) > body_limit(scope["path"])


class LimitedBody:
    """Receives the body of one request, and no more of it than its address takes."""

    def __init__(self, receive: Receive, path: str) -> None:
        self._receive = receive
        self._path = path
        self._received_bytes = 0

    async def __call__(self) -> Message:
        message = await self._receive()
        self._received_bytes += len(message.get("body", b""))
        if self._received_bytes > body_limit(self._path):
            raise HTTPException(413, too_big(self._path))
        return message


class Guard:
    """ASGI middleware; `host` is where the program answers the machine itself.

    By which names a device may call it, the shop's `network` knows.
    """

    def __init__(self, app: ASGIApp, host: str, network: ShopNetwork) -> None:
        self.app = app
        self.names = LOOPBACK_NAMES | {host.lower()}
        self.network = network

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in ANSWER_HEADERS.items():
                    headers[name] = value
                headers.setdefault("Cache-Control", "no-store")
            await send(message)

        refusal = self.refusal(scope)
        if refusal is None and _is_too_long(scope):
            fields, receive_fields = await without_files(scope, receive)
            await self.app(fields, receive_fields, send_guarded)
        elif refusal is None:
            await self.app(scope, LimitedBody(receive, scope["path"]), send_guarded)
        else:
            status, title, text = refusal
            answer = render_refusal(status, title=title, texts=(text,))
            await answer(scope, receive, send_guarded)

    def refusal(self, scope: MutableMapping[str, Any]) -> tuple[int, str, str] | None:
        """Status, title and sentence of a refusal, or None when the request is taken."""
        headers = Headers(scope=scope)
        # With two of them, who stands before us may have believed the other.
        hosts = headers.getlist("host")
        if len(hosts) != 1 or not self.is_ours(scope, host_name(hosts[0])):
            return (
                400,
                "Another name",
                "This program does not answer to that host name. Open it by the address it "
                "printed when it started.",
            )
        if scope["method"] not in SAFE_METHODS and not is_same_origin(headers, hosts[0]):
            return (
                403,
                "Refused",
                "This change came from another site and was not made. Make it from the "
                "program's own pages.",
            )
        let_go = MOST_LET_GO_BYTES if addresses.adds_photographs(scope["path"]) else 0
        if _length_of(scope) > max(body_limit(scope["path"]), let_go):
            return 413, "Too large", too_big(scope["path"])
        return None

    def is_ours(self, scope: MutableMapping[str, Any], name: str | None) -> bool:
        """Whether the program answers to a name; at the machine itself to its own names alone."""
        if came_from_network(scope):
            return self.network.is_ours(name)
        return name in self.names
