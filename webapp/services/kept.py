"""What was worked out or said a moment ago and is kept in memory for a while."""

import threading
from collections.abc import Callable, Hashable
from typing import Any, Generic, TypeVar

Key = TypeVar("Key", bound=Hashable)
Value = TypeVar("Value")
_NOTHING: Any = object()
"""What stands under a key that is not kept: a value that is kept may be None."""


class Kept(Generic[Key, Value]):
    """At most so many values, each under its key; the one not asked for longest goes first.

    Safe to share between threads. Whoever makes one owns it: nothing is kept in a module.
    """

    def __init__(self, at_most: int) -> None:
        self._at_most = at_most
        self._lock = threading.Lock()
        # The one asked for last stands at the end: it is taken out and put back, so that a key
        # which takes a while to compare, a whole build, is compared once.
        self._values: dict[Key, Value] = {}

    def get(self, key: Key) -> Value | None:
        """The value under a key, None where none is kept."""
        with self._lock:
            value: Value = self._values.pop(key, _NOTHING)
            if value is _NOTHING:
                return None
            self._values[key] = value
            return value

    def keep(self, key: Key, value: Value) -> Value:
        """Keep a value in place of any other under this key; the value."""
        with self._lock:
            self._values.pop(key, None)
            self._values[key] = value
            self._drop()
        return value

    def get_or_keep(self, key: Key, make: Callable[[], Value]) -> Value:
        """The value under a key; where there is none, what `make` makes (quickly: others wait)."""
        with self._lock:
            value: Value = self._values.pop(key, _NOTHING)
            if value is _NOTHING:
                value = make()
            self._values[key] = value
            self._drop()
            return value

    def drop(self, key: Key) -> None:
        """Forget a key."""
        with self._lock:
            self._values.pop(key, None)

    def values(self) -> tuple[Value, ...]:
        """All that is kept, the one asked for last at the end."""
        with self._lock:
            return tuple(self._values.values())

    def _drop(self) -> None:
        while len(self._values) > self._at_most:
            del self._values[next(iter(self._values))]
