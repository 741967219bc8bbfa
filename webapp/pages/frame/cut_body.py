"""A form whose files are too large, cut down to its fields: so that what was typed is kept.

The files are read and let go, for a browser that is not heard to the end says that the connection
broke, and not what the program has answered.
"""

import re
from collections.abc import MutableMapping
from typing import Any

from starlette.datastructures import Headers
from starlette.types import Message, Receive

MOST_LET_GO_BYTES = 400_000_000
"""What is read to its end only to be let go; what is larger is refused unheard."""
MOST_FIELDS_BYTES = 200_000
"""The fields of a form that adds files: they stand before its files."""
IS_CUT = "files_are_too_large"
"""Where the scope of a request says that its files were let go."""
_BOUNDARY = re.compile(r'boundary="?([^";]+)')
_FILE = re.compile(rb'\r\n[Cc]ontent-[Dd]isposition:[^\r\n]*; filename="')


async def without_files(
    scope: MutableMapping[str, Any], receive: Receive
) -> tuple[MutableMapping[str, Any], Receive]:
    """The request with the fields of its form, and none of its files."""
    head, more = b"", True
    while more:
        message = await receive()
        if message["type"] != "http.request":
            break
        more = message.get("more_body", False)
        if len(head) < MOST_FIELDS_BYTES:
            head += message.get("body", b"")
    body = _fields_of(head, Headers(scope=scope).get("content-type", ""))
    sent: list[Message] = [{"type": "http.request", "body": body, "more_body": False}]

    async def receive_fields() -> Message:
        return sent.pop(0) if sent else await receive()

    length = (b"content-length", str(len(body)).encode())
    headers = [pair for pair in scope["headers"] if pair[0] != b"content-length"]
    return {**scope, "headers": [*headers, length], IS_CUT: True}, receive_fields


def _fields_of(head: bytes, content_type: str) -> bytes:
    """A form up to its first file, ended there; nothing where it is no such form."""
    found = _BOUNDARY.search(content_type)
    if found is None:
        return b""
    mark = b"--" + found[1].encode("latin-1")
    file = _FILE.search(head)
    end = head.rfind(mark, 0, file.start() + 2) if file else head.rfind(mark)
    return head[: max(end, 0)] + mark + b"--\r\n"
