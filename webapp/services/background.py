"""Dear figures worked out beside the pages, one at a time, and kept until they are outgrown.

A page asks; it gets what is at hand or nothing, and never waits. What was asked for is worked out
by one thread of low rank, the most pressing first; a later page, or the same one asking again,
finds it. What nobody has asked for any more for a while is not begun, and what can be left off is
left off in the middle: `is_wanted` tells. While a page is being answered the thread stands by, so
that the page has the processor: before it begins, and between the rounds of the simulator. What is
being worked out makes way for a more pressing question, and begins anew once none waits: the date
after a change does not wait for what a page asked before it.
"""

import datetime as dt
import itertools
import logging
import threading
import time
from collections.abc import Callable, Hashable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Generic, TypeVar, cast

from webapp.planning.simulator.standing_by import standing_by
from webapp.services.kept import Kept

T = TypeVar("T")
PRESSING, USUAL, AT_LEISURE = range(3)
"""How soon a question is worked out among those that wait."""
FRESH_FOR = dt.timedelta(minutes=5)
SHOWN_FOR = dt.timedelta(hours=2)
"""So long an older answer to the same question is shown while a fresh one is worked out."""
MOST_KEPT = 200
PATIENCE_SECONDS = 60.0
"""So long a question waits for somebody to ask it again; an open page does every few seconds."""
MOST_STOOD_BY_SECONDS = 3.0
"""So long at most the thread stands by at a time, however many pages are asked for."""
WORKED_BETWEEN_SECONDS = 0.2
"""So long it works on after that before it stands by again: it gets done in the end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer(Generic[T]):
    """What is at hand: `value` once `ready`; `failed` where it could not be worked out."""

    ready: bool
    value: T | None = None
    failed: bool = False


class _LeftOffError(Exception):
    """Ends work between two rounds of the simulator where nobody waits for it any more."""


NOT_READY: Answer[Any] = Answer(ready=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kept:
    version: Hashable
    made_at: dt.datetime
    answer: Answer[Any]


@dataclass(slots=True, kw_only=True)
class _Job:
    """A question; `asked_at` is when it was asked last, `left_off` that nobody waited for it,
    `made_way` that it waits again behind another."""

    rank: tuple[int, int]
    version: Hashable
    now: dt.datetime
    work: Callable[[], Any]
    asked_at: float
    left_off: bool = False
    made_way: bool = False


class Background:
    """One thread that works questions out, each under a key and for one version of its inputs."""

    def __init__(self, patience_seconds: float = PATIENCE_SECONDS) -> None:
        self._patience_seconds = patience_seconds
        self._changed = threading.Condition()
        self._waiting: dict[Hashable, _Job] = {}
        self._running: tuple[Hashable, _Job] | None = None
        self._kept: Kept[Hashable, _Kept] = Kept(MOST_KEPT)
        self._count = itertools.count()
        self._thread: threading.Thread | None = None
        self._answering = 0
        self._works_until = 0.0
        self._is_closed = False

    def close(self) -> None:
        """Work nothing out any more: what is running is left off, what waits is not begun."""
        with self._changed:
            self._is_closed = True
            self._waiting.clear()
            self._changed.notify_all()

    @contextmanager
    def answering(self) -> Iterator[None]:
        """While somebody waits for a page: the thread stands by."""
        self._count_answering(1)
        try:
            yield
        finally:
            self._count_answering(-1)

    @contextmanager
    def _waiting_itself(self) -> Iterator[None]:
        """While the page waits for the thread."""
        self._count_answering(-1)
        try:
            yield
        finally:
            self._count_answering(1)

    def _count_answering(self, change: int) -> None:
        with self._changed:
            self._answering += change
            self._changed.notify_all()

    def _stand_by(self) -> None:
        """Wait while pages are being answered, but not for ever; leave off what nobody wants, and
        for now what something more pressing would wait for."""
        if not self.is_wanted() or self._makes_way():
            raise _LeftOffError
        if self._answering <= 0 or time.monotonic() < self._works_until:
            return
        with self._changed:
            self._changed.wait_for(lambda: self._answering <= 0, MOST_STOOD_BY_SECONDS)
        self._works_until = time.monotonic() + WORKED_BETWEEN_SECONDS

    def ask(
        self,
        key: Hashable,
        version: Hashable,
        work: Callable[[], T],
        *,
        now: dt.datetime,
        rank: int = USUAL,
        lasts: dt.timedelta = FRESH_FOR,
    ) -> Answer[T]:
        """The answer at hand for this version of the inputs at about `now`; else it is begun.

        A question that is asked anew for a later version takes the place of the earlier one. After
        `lasts` it is worked out afresh, and shown as it is until then.
        """
        with self._changed:
            kept = self._kept.get(key)
            if kept is not None and kept.version == version:
                age = abs(now - kept.made_at)
                if age < lasts:
                    return cast(Answer[T], kept.answer)
                self._begin(key, version, work, now, rank)
                shown = age < max(SHOWN_FOR, 2 * lasts)
                return cast(Answer[T], kept.answer if shown else NOT_READY)
            self._begin(key, version, work, now, rank)
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
        answer = self.ask(key, version, work, now=now, rank=PRESSING)
        if answer.ready:
            return answer

        def there() -> bool:
            kept = self._kept.get(key)
            return kept is not None and kept.version == version

        until = time.monotonic() + seconds
        while (left := until - time.monotonic()) > 0:
            with self._waiting_itself(), self._changed:
                self._changed.wait_for(there, timeout=min(left, self._patience_seconds / 3))
            answer = self.ask(key, version, work, now=now, rank=PRESSING)
            if answer.ready:
                return answer
        return cast(Answer[T], NOT_READY)

    def _begin(
        self,
        key: Hashable,
        version: Hashable,
        work: Callable[[], Any],
        now: dt.datetime,
        rank: int,
    ) -> None:
        """Put a question in the queue, unless it is there. The lock is held."""
        asked_at = time.monotonic()
        if self._running is not None:
            running_key, running = self._running
            if running_key == key and running.version == version:
                running.asked_at = asked_at
                if not running.left_off:
                    return
        waiting = self._waiting.get(key)
        if waiting is not None and waiting.version == version and waiting.rank[0] <= rank:
            waiting.asked_at = asked_at
            return
        if self._is_closed:
            return
        self._waiting[key] = _Job(
            rank=(rank, next(self._count)), version=version, now=now, work=work, asked_at=asked_at
        )
        if self._thread is None:
            self._thread = threading.Thread(target=self._run, name="background", daemon=True)
            self._thread.start()
        self._changed.notify_all()

    def is_wanted(self) -> bool:
        """Whether somebody still waits for what is being worked out: asked by the work itself.

        Work that stops when it is not, and gives back anything, is as if it had not been asked.
        """
        with self._changed:
            if self._running is None:
                return True
            _, job = self._running
            job.left_off = job.left_off or self._is_closed or self._is_outlived(job)
            return not job.left_off

    def _makes_way(self) -> bool:
        """Whether something more pressing waits than what is being worked out."""
        with self._changed:
            if self._running is None:
                return False
            _, job = self._running
            first = min((one.rank[0] for one in self._waiting.values()), default=AT_LEISURE)
            job.made_way = first < job.rank[0]
            return job.made_way

    def _is_outlived(self, job: _Job) -> bool:
        return time.monotonic() - job.asked_at > self._patience_seconds

    def _run(self) -> None:
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._is_closed or bool(self._waiting))
                if self._is_closed:
                    return
                key = min(self._waiting, key=lambda one: self._waiting[one].rank)
                job = self._waiting.pop(key)
                if self._is_outlived(job):
                    continue
                self._running = (key, job)
            try:
                with standing_by(self._stand_by):
                    self._stand_by()
                    answer: Answer[Any] = Answer(ready=True, value=job.work())
            except _LeftOffError:
                answer = NOT_READY
            except Exception:
                logging.getLogger(__name__).exception("could not be worked out: %r", key)
                answer = Answer(ready=True, failed=True)
            with self._changed:
                self._running = None
                if job.made_way:
                    job.made_way = False
                    self._waiting.setdefault(key, job)
                elif not job.left_off:
                    kept = _Kept(version=job.version, made_at=job.now, answer=answer)
                    self._kept.keep(key, kept)
                self._changed.notify_all()
