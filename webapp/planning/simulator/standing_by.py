"""Work that nobody waits for makes way between the rounds of the simulator.

Python runs one thread at a time: a long run beside a page would take half of its time. Who runs
one that may wait says here, for its own thread, what is called between the rounds.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

ROUNDS_BETWEEN = 8
"""So many rounds are run between two calls: a few milliseconds."""

_stand_by: ContextVar[Callable[[], None] | None] = ContextVar("stand_by", default=None)


@contextmanager
def standing_by(stand_by: Callable[[], None]) -> Iterator[None]:
    """Have `stand_by` called between the rounds of all that this thread simulates within."""
    token = _stand_by.set(stand_by)
    try:
        yield
    finally:
        _stand_by.reset(token)


def stand_by_of_thread() -> Callable[[], None] | None:
    """What this thread calls between the rounds, None where it makes way for nobody."""
    return _stand_by.get()
