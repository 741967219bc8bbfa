"""Addresses of the sizing checks, their figures and fill day."""

from urllib.parse import quote, urlencode

from webapp.pages.addresses.joined import build


def sizing(slug: str) -> str:
    """Whether what is drawn carries enough."""
    return f"{build(slug)}/sizing"


def data_sheet(slug: str, asked: str = "") -> str:
    """Where the figures are typed that checks hang on; with the name of one it is ready."""
    return f"{build(slug)}/data-sheet" + (f"?{urlencode({'asked': asked})}" if asked else "")


def figure(slug: str, name: str) -> str:
    """The very field of a figure of the data sheet."""
    return f"{data_sheet(slug, name)}#{quote(name)}"


def wire(slug: str, key: str = "") -> str:
    """A cable or a wire; without a key a new one."""
    return f"{build(slug)}/wire" + (f"?{urlencode({'key': key})}" if key else "")


def belt(slug: str, key: str = "") -> str:
    """A belt with its pulleys; without a key a new one."""
    return f"{build(slug)}/belt" + (f"?{urlencode({'key': key})}" if key else "")


def limit(slug: str, check: str, at: str = "") -> str:
    """What a check is held against at a place; without one, everywhere."""
    return f"{build(slug)}/limit?{urlencode({'check': check} | ({'at': at} if at else {}))}"


def fill_day(slug: str) -> str:
    """What is filled in, how much of it, and what it waits for."""
    return f"{build(slug)}/fill-day"
