"""Where a request came from, by what its headers say."""

import re

from starlette.datastructures import Headers

_HOST = re.compile(r"(?:\[(?P<address>[0-9a-f:.]+)\]|(?P<name>[0-9a-z._-]+))(?::[0-9]{1,5})?")


def host_name(host: str) -> str | None:
    """The name in a Host header, without its port and brackets; None where it is no host."""
    found = _HOST.fullmatch(host.lower())
    return found and (found["address"] or found["name"])


def is_same_origin(headers: Headers, host: str) -> bool:
    """Whether a change comes from our own pages, or from no page at all.

    Browsers send Sec-Fetch-Site to secure and loopback addresses; over plain http to a
    shop's network only Origin. A client that sends neither is no browser.
    """
    site = headers.get("sec-fetch-site")
    if site is not None:
        return site in ("same-origin", "none")
    origin = headers.get("origin")
    return origin is None or origin.lower() in (f"http://{host}", f"https://{host}")
