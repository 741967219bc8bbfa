"""Keys of what is plumbed, made of names: no dot, not too long, unlike any other."""

import re

from webapp.build.limits import MOST_PLUMBING_KEY_CHARACTERS
from webapp.build.verbs.wish_tasks import fresh_key

_ROOM_FOR_A_NUMBER = 6


def free_key(name: str, taken: set[str], otherwise: str = "piece") -> str:
    """A key made of a name; `name` itself where it can be one and is free."""
    plain = re.sub(r"\s+", " ", name.replace(".", " ")).strip()
    wanted = plain[: MOST_PLUMBING_KEY_CHARACTERS - _ROOM_FOR_A_NUMBER].strip() or otherwise
    return fresh_key(wanted, taken)
