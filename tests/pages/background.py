"""Figures in the background that wait until somebody looks for them: most tests never do."""

import datetime as dt
from collections.abc import Callable, Hashable, Iterator
from contextlib import contextmanager
from typing import Any

from webapp.services.background import PRESSING, Background

ASKED = 3
"""So many pages ask a question before it is begun: a page that waits asks until it has an answer,
and no test that looks at something else opens so many pages of one state of a build."""


class WhenLookedFor(Background):
    """Begins what a press waits for, and what page after page asks."""

    def __init__(self) -> None:
        super().__init__()
        self._pages = 0
        self._asked: dict[Hashable, tuple[Hashable, set[int]]] = {}

    @contextmanager
    def answering(self) -> Iterator[None]:
        self._pages += 1
        with super().answering():
            yield

    def _begin(
        self,
        key: Hashable,
        version: Hashable,
        work: Callable[[], Any],
        now: dt.datetime,
        rank: int,
    ) -> None:
        before, pages = self._asked.get(key, (version, set[int]()))
        pages = pages | {self._pages} if before == version else {self._pages}
        self._asked[key] = version, pages
        if rank == PRESSING or len(pages) >= ASKED:
            super()._begin(key, version, work, now, rank)
