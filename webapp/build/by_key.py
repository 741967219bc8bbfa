"""Finding and replacing the things of a build by their keys."""

from collections.abc import Iterable
from typing import Protocol, TypeVar


class Keyed(Protocol):
    """A thing that is named by its key: task, part, wish, setup, station, subsystem."""

    @property
    def key(self) -> str: ...


K = TypeVar("K", bound=Keyed)


def find_by_key(things: Iterable[K], key: str | None) -> K | None:
    """The first thing of that key, None where there is none."""
    return next((thing for thing in things if thing.key == key), None)


def get_by_key(things: Iterable[K], key: str) -> K:
    """The first thing of that key; raises KeyError where there is none."""
    thing = find_by_key(things, key)
    if thing is None:
        raise KeyError(key)
    return thing


def replaced_by_key(things: Iterable[K], new: K) -> tuple[K, ...]:
    """The things with `new` in the place of the one that has its key."""
    return tuple(new if thing.key == new.key else thing for thing in things)
