"""Dear figures worked out beside the pages, one at a time, and kept until they are outgrown.

A page asks; it gets what is at hand or nothing, and never waits. What was asked for is worked out
by one thread of low rank, the most pressing first; a later page, or the same one asking again,
finds it.
"""

import datetime as dt
import itertools
import logging
import threading
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from typing import Any, Generic, TypeVar, cast

from webapp.services.kept import Kept

T = TypeVar("T")
FRESH_FOR = dt.timedelta(minutes=5)
SHOWN_FOR = dt.timedelta(hours=2)
"""So long an older answer to the same question is shown while a fresh one is worked out."""
MOST_KEPT = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer(Generic[T]):
    """What is at hand: `value` once `ready`; `failed` where it could not be worked out."""

    ready: bool
    value: T | None = None
    failed: bool = False


NOT_READY: Answer[Any] = Answer(ready=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kept:
    version: Hashable
    made_at: dt.datetime
    answer: Answer[Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    rank: tuple[int, int]
    version: Hashable
    now: dt.datetime
    work: Callable[[], Any]


class Background:
    """One thread that works questions out, each under a key and for one version of its inputs."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._waiting: dict[Hashable, _Job] = {}
        self._running: tuple[Hashable, Hashable] | None = None
        self._kept: Kept[Hashable, _Kept] = Kept(MOST_KEPT)
        self._count = itertools.count()
        self._thread: threading.Thread | None = None

    def ask(
        self,
        key: Hashable,
        version: Hashable,
        work: Callable[[], T],
        *,
        now: dt.datetime,
        pressing: bool = False,
    ) -> Answer[T]:
        """The answer at hand for this version of the inputs at about `now`; else it is begun.

        A question that is asked anew for a later version takes the place of the earlier one.
        """
        with self._changed:
            kept = self._kept.get(key)
            if kept is not None and kept.version == version:
                age = abs(now - kept.made_at)
                if age < FRESH_FOR:
                    return cast(Answer[T], kept.answer)
                self._begin(key, version, work, now, pressing)
                return cast(Answer[T], kept.answer if age < SHOWN_FOR else NOT_READY)
            self._begin(key, version, work, now, pressing)
            return cast(Answer[T], NOT_READY)

    def wait(
        self,
        key: Hashable,
        version: Hashable,
        work: Callable[[], T],
        *,
        now: dt.datetime,
        seconds: float,
    ) -> Answer[T]:
        """The same, but waits for it: for a press that can not be answered without it."""
        answer = self.ask(key, version, work, now=now, pressing=True)
        if answer.ready:
            return answer

        def there() -> bool:
            kept = self._kept.get(key)
            return kept is not None and kept.version == version

        with self._changed:
            if not self._changed.wait_for(there, timeout=seconds):
                return cast(Answer[T], NOT_READY)
            kept = self._kept.get(key)
            return cast(Answer[T], kept.answer if kept is not None else NOT_READY)

    def _begin(
        self,
        key: Hashable,
        version: Hashable,
        work: Callable[[], Any],
        now: dt.datetime,
        pressing: bool,
    ) -> None:
        """Put a question in the queue, unless it is there. The lock is held."""
        if self._running == (key, version):
            return
        waiting = self._waiting.get(key)
        rank = (0 if pressing else 1, next(self._count))
        if waiting is not None and waiting.version == version and waiting.rank[0] <= rank[0]:
            return
        self._waiting[key] = _Job(rank=rank, version=version, now=now, work=work)
        if self._thread is None:
            self._thread = threading.Thread(target=self._run, name="background", daemon=True)
            self._thread.start()
        self._changed.notify_all()

    def _run(self) -> None:
        while True:
            with self._changed:
                self._changed.wait_for(lambda: bool(self._waiting))
                key = min(self._waiting, key=lambda one: self._waiting[one].rank)
                job = self._waiting.pop(key)
                self._running = (key, job.version)
            try:
                answer: Answer[Any] = Answer(ready=True, value=job.work())
            except Exception:
                logging.getLogger(__name__).exception("could not be worked out: %r", key)
                answer = Answer(ready=True, failed=True)
            with self._changed:
                self._running = None
                self._kept.keep(key, _Kept(version=job.version, made_at=job.now, answer=answer))
                self._changed.notify_all()
