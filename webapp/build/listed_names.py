"""Names of things in a sentence."""

from collections.abc import Iterable

SHOWN_NAMES = 3


def listed(names: Iterable[str]) -> str:
    """Up to three names in quotes, and how many more there are."""
    quoted = [f"“{name}”" for name in names]
    if len(quoted) > SHOWN_NAMES + 1:
        more = len(quoted) - SHOWN_NAMES
        quoted = [*quoted[:SHOWN_NAMES], f"{more} more"]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} and {quoted[-1]}"
