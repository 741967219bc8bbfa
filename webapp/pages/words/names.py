"""Names of things in a sentence."""

from collections.abc import Iterable

from webapp.pages.words.amounts import listed

SHOWN_NAMES = 3


def named(names: Iterable[str]) -> str:
    """Up to three names in quotes, and how many more there are: "“A”, “B”, “C” and 4 more"."""
    quoted = [f"“{name}”" for name in names]
    if len(quoted) > SHOWN_NAMES + 1:
        more = len(quoted) - SHOWN_NAMES
        quoted = [*quoted[:SHOWN_NAMES], f"{more} more"]
    return listed(quoted)
