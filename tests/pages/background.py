"""Figures in the background that wait until they are asked for twice: most tests never do."""

import datetime as dt
from collections.abc import Callable, Hashable
from typing import Any

from webapp.services.background import PRESSING, Background


TIMES = 4


class WhenAskedAgain(Background):
    """Begins what a page waits for, or what is asked a second time: somebody looks at it.

    A page asks for every figure that it shows as it becomes ready. A test that looks at something
    else on the page is over before any of them is.
    """

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
        if rank == PRESSING or times >= TIMES:
            super()._begin(key, version, work, now, rank)
