"""What every address begins with."""

from urllib.parse import quote, urlencode


def encoded(text: str) -> str:
    return quote(text, safe="")


def thing_in(list_address: str, key: str) -> str:
    """The page of one thing; a key that a path can not carry stands in the query."""
    if key in ("new", ".", "..") or "/" in key or not key.isprintable():
        return f"{list_address}?{urlencode({'key': key})}"
    return f"{list_address}/{encoded(key)}"


def build(slug: str) -> str:
    return f"/builds/{encoded(slug)}"
