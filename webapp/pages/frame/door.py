"""The door to the shop's network: the machine itself is let in, and who is paired; nobody else.

It stands outside of everything, pages and files alike. Who is not let in sees the page that says
how to pair, whatever was asked for, and can send one thing: the code. A calendar is let in to its
own secret address and to nothing else.

The machine itself is whoever comes over loopback to where only the machine is answered, and was
not passed on by a proxy. What comes in from the network's own listener is never the machine, and
no header makes it so.
"""

import asyncio
import ipaddress
from collections.abc import MutableMapping
from typing import Annotated, Any
from urllib.parse import parse_qs

from fastapi import Depends, Request
from fastapi.responses import RedirectResponse, Response
from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from webapp.pages import addresses
from webapp.pages.frame.pairing_page import pairing_page
from webapp.pages.frame.same_origin import host_name, is_same_origin
from webapp.pages.words import network as words
from webapp.services.devices import Devices, Paired
from webapp.services.shop_network import FROM_NETWORK, ShopNetwork
from webapp.storage.devices import Device
from webapp.storage.feed_addresses import FeedAddresses
from webapp.storage.trouble import UnusableDatabaseError

_AT_THE_MACHINE = "keyturn.at_the_machine"
_DEVICE = "keyturn.device"
PASSED_ON = ("forwarded", "x-forwarded-for", "x-forwarded-host", "x-real-ip", "via")
"""What a proxy adds. It is believed in one thing: that the request was not made on this machine."""
CODE_BYTES = 4000
COOKIE_SECONDS = 400 * 24 * 3600
"""The longest that browsers keep a cookie; it is given anew while the device is used."""


class Door:
    """ASGI middleware, the outermost."""

    def __init__(
        self, app: ASGIApp, devices: Devices, network: ShopNetwork, feeds: FeedAddresses
    ) -> None:
        self.app, self.devices, self.network, self.feeds = app, devices, network, feeds

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan" or (scope["type"] == "http" and _is_the_machine(scope)):
            await self.app({**scope, _AT_THE_MACHINE: True}, receive, send)
        elif scope["type"] == "http":
            await self._from_network(scope, receive, send)
        # nothing else is answered: there is no socket to keep open here

    async def _from_network(self, scope: Scope, receive: Receive, send: Send) -> None:
        token = _token_in(scope, self.network.cookie)
        device = self.devices.known(token) if self.network.is_open else None
        host = _host_of(scope)
        if device is None and await self._is_calendar(scope, host):
            await self.app(scope, receive, send)
            return
        if device is None or not self.network.is_ours(host):
            answer = await self._at_the_door(scope, receive, is_ours=self.network.is_ours(host))
            await answer(scope, receive, _without_body(send) if scope["method"] == "HEAD" else send)
            return
        give_anew = self.devices.used(device)
        if give_anew:
            await asyncio.to_thread(self.devices.store_uses)

        async def send_with_token(message: Message) -> None:
            if give_anew and message["type"] == "http.response.start":
                cookie = self._cookie(token, scope)
                MutableHeaders(scope=message).append("set-cookie", cookie)
            await send(message)

        await self.app({**scope, _DEVICE: device}, receive, send_with_token)

    async def _is_calendar(self, scope: Scope, host: str | None) -> bool:
        """Whether a calendar asks by a secret address, which lets it in to that address alone.

        A calendar keeps no cookies, so the secret stands for the token; one that opens nothing is
        answered like everything else.
        """
        path = scope["path"]
        if not addresses.is_feed(path) or scope["method"] not in ("GET", "HEAD"):
            return False
        if not self.network.is_open or not self.network.is_ours(host):
            return False
        return await asyncio.to_thread(self.feeds.is_known, addresses.secret_of_feed(path))

    async def _at_the_door(self, scope: Scope, receive: Receive, *, is_ours: bool) -> Response:
        """What somebody sees who is not let in."""
        if not is_ours:
            return pairing_page(400, wrong=words.OTHER_NAME)
        if scope["path"] != addresses.pair():
            return pairing_page(403)
        if scope["method"] in ("GET", "HEAD"):
            return pairing_page(200, code=_field(scope["query_string"], "code"))
        if scope["method"] != "POST":
            return pairing_page(403)
        headers = Headers(scope=scope)
        if not is_same_origin(headers, headers["host"]):
            return pairing_page(403, wrong=words.OTHER_SITE)
        body = await _body_of(receive)
        return pairing_page(413) if body is None else await self._pair(scope, body)

    async def _pair(self, scope: Scope, body: bytes) -> Response:
        code, name = _field(body, "code"), _field(body, "name")
        if not self.network.is_open:
            return pairing_page(403)
        try:
            outcome = await asyncio.to_thread(
                self.devices.pair, code, name=words.device_name(name), by=_peer_of(scope)
            )
        except UnusableDatabaseError:
            # what stands in the way is the machine's to know: it names files
            return pairing_page(503, wrong=words.NOT_STORED, code=code, name=name)
        if outcome == "too often":
            page = pairing_page(429, wrong=words.TOO_OFTEN, code=code, name=name)
            page.headers["Retry-After"] = "60"
            return page
        if not isinstance(outcome, Paired):
            return pairing_page(422, wrong=words.WRONG_CODE, code=code, name=name)
        answer = RedirectResponse(addresses.builds(), status_code=303)
        answer.headers["set-cookie"] = self._cookie(outcome.token, scope)
        answer.headers["Cache-Control"] = "no-store"
        return answer

    def _cookie(self, token: str, scope: Scope) -> str:
        """The token for the browser: for no script, no other site, and over TLS for TLS alone."""
        secure = "; Secure" if scope.get("scheme") == "https" else ""
        return (
            f"{self.network.cookie}={token}; Path=/; Max-Age={COOKIE_SECONDS}; HttpOnly; "
            f"SameSite=Strict{secure}"
        )


def came_from_network(scope: MutableMapping[str, Any]) -> bool:
    """Whether a request that was let in is a device's."""
    return _AT_THE_MACHINE not in scope


# --- for pages ------------------------------------------------------------------------------
def is_at_the_machine(request: Request) -> bool:
    """Whether the person sits at the machine that the program runs on."""
    return bool(request.scope.get(_AT_THE_MACHINE))


def device_of(request: Request) -> Device | None:
    """The paired device that asks, None at the machine itself."""
    found = request.scope.get(_DEVICE)
    return found if isinstance(found, Device) else None


def _require_machine(request: Request) -> None:
    if not is_at_the_machine(request):
        raise HTTPException(403, words.AT_THE_MACHINE_ALONE)


AT_THE_MACHINE_ALONE = Depends(_require_machine)
"""Of a route: 403 for paired devices."""
IsAtTheMachine = Annotated[bool, Depends(is_at_the_machine)]
DeviceAsking = Annotated[Device | None, Depends(device_of)]


# --- what a request says --------------------------------------------------------------------
def _is_the_machine(scope: MutableMapping[str, Any]) -> bool:
    if scope.get(FROM_NETWORK) or not _is_loopback(_peer_of(scope)):
        return False
    headers = Headers(scope=scope)
    return not any(name in headers for name in PASSED_ON)


def _peer_of(scope: MutableMapping[str, Any]) -> str:
    """The address at the other end of the connection; an IPv4 one in IPv6 as it is in IPv4."""
    client = scope.get("client")
    text = str(client[0]).partition("%")[0] if client else ""
    try:
        address = ipaddress.ip_address(text)
    except ValueError:
        return text
    mapped = getattr(address, "ipv4_mapped", None)
    return str(mapped or address)


def _is_loopback(text: str) -> bool:
    try:
        return ipaddress.ip_address(text).is_loopback
    except ValueError:
        return False


def _host_of(scope: MutableMapping[str, Any]) -> str | None:
    hosts = Headers(scope=scope).getlist("host")
    return host_name(hosts[0]) if len(hosts) == 1 else None


def _token_in(scope: MutableMapping[str, Any], cookie: str) -> str:
    """The token that a request brings along, "" where it brings none or more than one."""
    found = []
    for header in Headers(scope=scope).getlist("cookie"):
        for piece in header.split(";"):
            name, _, value = piece.strip().partition("=")
            if name == cookie:
                found.append(value)
    return found[0] if len(found) == 1 else ""


async def _body_of(receive: Receive) -> bytes | None:
    """What was sent, None where that is more than a code takes."""
    body, more = b"", True
    while more:
        message = await receive()
        body += message.get("body", b"")
        more = message["type"] == "http.request" and message.get("more_body", False)
        if len(body) > CODE_BYTES:
            return None
    return body


def _field(encoded: bytes, name: str) -> str:
    """A field of a form or a query, "" where it is not there or nothing can be read."""
    try:
        fields = parse_qs(encoded.decode("utf-8", "replace"), errors="replace", max_num_fields=20)
    except ValueError:
        return ""
    return fields.get(name, [""])[0][:CODE_BYTES]


def _without_body(send: Send) -> Send:
    async def send_head(message: Message) -> None:
        if message["type"] == "http.response.body":
            message = {**message, "body": b""}
        await send(message)

    return send_head
