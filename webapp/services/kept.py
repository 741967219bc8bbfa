"""What was worked out or said a moment ago and is kept in memory for a while."""

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

Key = TypeVar("Key", bound=Hashable)
Value = TypeVar("Value")


class Kept(Generic[Key, Value]):
    """At most so many values, each under its key; the one not asked for longest goes first.

    Safe to share between threads. Whoever makes one owns it: nothing is kept in a module.
    """

    def __init__(self, at_most: int) -> None:
        self._at_most = at_most
        self._lock = threading.Lock()
        self._values: OrderedDict[Key, Value] = OrderedDict()

    def get(self, key: Key) -> Value | None:
        """The value under a key, None where none is kept."""
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
            return self._values.get(key)

    def keep(self, key: Key, value: Value) -> Value:
        """Keep a value in place of any other under this key; the value."""
        with self._lock:
            self._values[key] = value
            self._values.move_to_end(key)
            self._drop()
        return value

    def get_or_keep(self, key: Key, make: Callable[[], Value]) -> Value:
        """The value under a key; where there is none, what `make` makes (quickly: others wait)."""
        with self._lock:
            if key not in self._values:
                self._values[key] = make()
            self._values.move_to_end(key)
            self._drop()
            return self._values[key]

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
            self._values.popitem(last=False)
