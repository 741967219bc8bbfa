"""A form is taken once: a double tap gets the answer of the first.

Every form carries a random token that came with its page. The same post with the same token
waits for the first and is sent where that one was sent, and one that comes later is told there
that it was stored already; what is different, be it one letter, is a post of its own, so that
nothing typed is lost. One that comes after the build was changed by
somebody else is looked at anew: what the first one made may stand there no more. A post that was
not taken (its faults were shown) may come again as it is, and so may one without a token.
"""

import asyncio
import hashlib
import re
import secrets
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from markupsafe import Markup
from starlette.datastructures import Headers
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from webapp.pages.forms.posted import TOKEN_FIELD
from webapp.pages.frame.since import sent_again
from webapp.services.kept import Kept

POSTS_KEPT = 1000
"""The oldest are forgotten; a digest and the headers of a redirection each."""

_URL_ENCODED = re.compile(rb"(?:^|&)%b=[^&]" % TOKEN_FIELD.encode())
_MULTIPART = re.compile(rb'name="%b"\r\n\r\n[^\r]' % TOKEN_FIELD.encode())
_BUILD = re.compile(r"/builds/([^/]+)/")
_BOUNDARY = re.compile(r'boundary="?([^";,]+)')


def once_field() -> Markup:
    """The token of one form, in a field that nobody sees."""
    token = secrets.token_urlsafe(12)
    return Markup('<input type="hidden" name="{}" value="{}">').format(TOKEN_FIELD, token)


@dataclass(slots=True)
class _Post:
    """One post with its token; `sent_on` is the redirection it was answered with.

    `made` is the revision of the build then, None where the post was about no build that is there.
    """

    turn: asyncio.Lock = field(default_factory=asyncio.Lock)
    sent_on: Message | None = None
    made: int | None = None


class OnceOnly:
    """ASGI middleware that keeps the last posts for as long as the program runs.

    `revision_of` gives the number of the last change of a build, by slug.
    """

    def __init__(
        self,
        app: ASGIApp,
        posts_kept: int = POSTS_KEPT,
        revision_of: Callable[[str], int | None] = lambda _slug: None,
    ) -> None:
        self.app = app
        self._revision_of = revision_of
        self._posts: Kept[bytes, _Post] = Kept(posts_kept)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        # A form of a browser tells its length, and the guard has looked at that.
        if scope["type"] != "http" or scope["method"] != "POST" or not _tells_length(scope):
            await self.app(scope, receive, send)
            return
        messages = _as_one(await _all_of(receive))
        body = messages[0].get("body", b"")

        async def receive_again() -> Message:
            return messages.pop(0) if messages else await receive()

        digest = _digest_of(scope, body)
        if digest is None:
            await self.app(scope, receive_again, send)
            return
        post = self._posts.get_or_keep(digest, _Post)
        came_meanwhile = post.sent_on is None
        async with post.turn:
            if post.sent_on is not None and (
                came_meanwhile or post.made == await self._revision(scope)
            ):
                await send(post.sent_on if came_meanwhile else _once_more(post.sent_on))
                await send({"type": "http.response.body", "body": b""})
                return

            async def send_and_keep(message: Message) -> None:
                if message["type"] == "http.response.start" and 300 <= message["status"] < 400:
                    post.sent_on = {**message, "headers": list(message["headers"])}
                await send(message)

            before = await self._revision(scope)
            await self.app(scope, receive_again, send_and_keep)
            post.made = await self._revision(scope)
            if before is not None and post.made is not None:
                # What came on top of this one change, in this very moment, is somebody else's.
                post.made = min(post.made, before + 1)

    async def _revision(self, scope: Scope) -> int | None:
        """The number of the last change of the build that a post is about."""
        found = _BUILD.match(scope["path"])
        return await asyncio.to_thread(self._revision_of, found[1]) if found else None


def _once_more(answer: Message) -> Message:
    """The same redirection, to a page that says that it was stored already."""
    headers = [
        (name, sent_again(value.decode("latin-1")).encode("latin-1"))
        if name.lower() == b"location"
        else (name, value)
        for name, value in answer["headers"]
    ]
    return {**answer, "headers": headers}


def _tells_length(scope: Scope) -> bool:
    return "content-length" in Headers(scope=scope)


async def _all_of(receive: Receive) -> list[Message]:
    """The messages of one request, up to its end or to where it broke off."""
    messages = [await receive()]
    while messages[-1].get("more_body", False):
        messages.append(await receive())
    return messages


def _as_one(messages: list[Message]) -> list[Message]:
    """The same with the whole body in the first, so that a large one is held once.

    What broke off stays behind it.
    """
    body = b"".join(message.get("body", b"") for message in messages)
    broken_off = [each for each in messages[-1:] if each["type"] != "http.request"]
    more = bool(broken_off)
    return [{"type": "http.request", "body": body, "more_body": more}, *broken_off]


def _digest_of(scope: Scope, body: bytes) -> bytes | None:
    """What two posts of one form have in common; None where there is no token."""
    kind = Headers(scope=scope).get("content-type", "")
    digest = hashlib.sha256(b"%b?%b\n" % (scope["path"].encode(), scope["query_string"]))
    if kind.startswith("multipart/form-data"):
        boundary = _BOUNDARY.search(kind)
        if boundary is None or not _MULTIPART.search(body):
            return None
        for part in _between(body, boundary[1].encode("latin-1")):
            digest.update(part)  # the boundary is another one for every post
    elif _URL_ENCODED.search(body):
        digest.update(body)
    else:
        return None
    return digest.digest()


def _between(body: bytes, mark: bytes) -> Iterator[memoryview]:
    """What stands between the marks, without a copy of it: a body may be large."""
    whole, begin = memoryview(body), 0
    while (end := body.find(mark, begin)) >= 0:
        yield whole[begin:end]
        begin = end + len(mark)
    yield whole[begin:]
