"""Figures in the background that wait until somebody looks for them: most tests never do."""

import datetime as dt
from collections.abc import Callable, Hashable
from typing import Any

from webapp.services.background import PRESSING, Background

ASKED = 4
"""So often a question is asked before it is begun: a page that waits asks until it has an answer,
and no test that looks at something else opens so many pages of one state of a build."""


class WhenLookedFor(Background):
    """Begins what a press waits for, and what is asked again and again."""

    def __init__(self) -> None:
        super().__init__()
        self._asked: dict[Hashable, tuple[Hashable, int]] = {}

    def _begin(
        self,
        key: Hashable,
        version: Hashable,
        work: Callable[[], Any],
        now: dt.datetime,
        rank: int,
    ) -> None:
        before, times = self._asked.get(key, (version, 0))
        times = times + 1 if before == version else 1
        self._asked[key] = version, times
        if rank == PRESSING or times >= ASKED:
            super()._begin(key, version, work, now, rank)
