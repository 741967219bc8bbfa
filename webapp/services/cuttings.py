"""Cut lists worked out beside the pages: one a build at a time, the last of each kind of tube kept.

Nothing of it is stored: a restart of the program loses what was worked out and what was typed.
"""

import logging
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import count

from webapp.plumbing.cutting.best_cut import CutProgress, cut_at_once, cut_list
from webapp.plumbing.cutting.cut_list import CutJob, CutList
from webapp.services.kept import Kept
from webapp.services.tightenings import end_all, stand_back

MOST_KEPT = 60
FIRST_SECONDS = 1.0
"""So long the page waits for the first answer, which is there at once but for the largest lists."""
Search = Callable[..., CutList | None]
"""Called as `best_cut.cut_list` is."""


@dataclass(slots=True, kw_only=True, eq=False)
class CutRun:
    """One cut list: what is to be cut, and how far it has come. Written by its own thread alone.

    `first` is the answer without a solver, `found` the last one; both None where there is none.
    `ended` is set once `found` is there, or has `failed`.
    """

    number: int
    slug: str
    what: str
    job: CutJob
    seconds: int
    began: float
    stop: threading.Event = field(default_factory=threading.Event)
    ended: threading.Event = field(default_factory=threading.Event)
    has_first: threading.Event = field(default_factory=threading.Event)
    progress: CutProgress | None = None
    first: CutList | None = None
    found: CutList | None = None
    failed: bool = False

    @property
    def seconds_gone(self) -> int:
        return int(time.monotonic() - self.began)

    @property
    def answer(self) -> CutList | None:
        """The best that can be shown."""
        return self.found or self.first


class Cuttings:
    """The cut lists of all builds, the last of each kind of hose or tube."""

    def __init__(self, search: Search = cut_list) -> None:
        self._search = search
        self._lock = threading.Lock()
        self._runs: Kept[tuple[str, str], CutRun] = Kept(MOST_KEPT)
        self._numbers = count(1)

    def begin(self, slug: str, what: str, job: CutJob, seconds: int) -> None:
        """Begin to look for the best; every other search ends with what it has.

        The same job that is being worked out already goes on.
        """
        with self._lock:
            last = self._runs.get((slug, what))
            if last is not None and last.job == job and not last.ended.is_set():
                return
            for other in self._runs.values():
                other.stop.set()
            run = CutRun(
                number=next(self._numbers),
                slug=slug,
                what=what,
                job=job,
                seconds=seconds,
                began=time.monotonic(),
            )
            self._runs.keep((slug, what), run)
        threading.Thread(target=self._carry_out, args=(run,), name="cut", daemon=True).start()
        run.has_first.wait(FIRST_SECONDS)

    def of(self, slug: str, what: str) -> CutRun | None:
        """The last run of a kind of hose or tube."""
        return self._runs.get((slug, what))

    def stop(self, slug: str, what: str) -> None:
        """End a run with what it has."""
        run = self.of(slug, what)
        if run is not None:
            run.stop.set()

    def put_away(self, slug: str) -> None:
        """Forget all of a build that is deleted."""
        for run in self._runs.values():
            if run.slug == slug:
                run.stop.set()
                self._runs.drop((slug, run.what))

    def close(self) -> None:
        """End every run, and wait a moment for them: the program goes."""
        end_all(self._runs.values())

    def _carry_out(self, run: CutRun) -> None:
        stand_back()

        def tell(progress: CutProgress) -> None:
            run.progress = progress

        try:
            run.first = cut_at_once(run.job)
            run.has_first.set()
            run.found = self._search(run.job, seconds=run.seconds, progress=tell, stop=run.stop)
        except Exception:
            logging.getLogger(__name__).exception("a cut list could not be worked out")
            run.failed = True
        finally:
            run.has_first.set()
            run.ended.set()
