"""Wishes logged a moment ago, so that the same words sent once more are the same wish."""

import time
from collections.abc import Callable

from webapp.services.kept import Kept

SAME_WISH_SECONDS = 60.0
KEPT = 200


class JustLogged:
    """The last wishes, by build and words, in memory; `clock` tells seconds."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._wishes: Kept[tuple[str, str], tuple[str, float]] = Kept(KEPT)

    def note(self, slug: str, text: str, key: str) -> None:
        """That a wish with these words was logged now."""
        self._wishes.keep((slug, text), (key, self._clock()))

    def key_of(self, slug: str, text: str) -> str | None:
        """The key of the wish that was logged with these words within the last minute."""
        found = self._wishes.get((slug, text))
        if found is None or self._clock() - found[1] > SAME_WISH_SECONDS:
            return None
        return found[0]
