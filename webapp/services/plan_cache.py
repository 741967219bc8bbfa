"""Plans kept at hand, so that a page does not wait for what was worked out a moment ago."""

import datetime as dt
import threading
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.input_checks import faults_of
from webapp.services.background import Background
from webapp.services.draws_at_hand import DrawsAtHand
from webapp.services.kept import Kept
from webapp.services.planned_build import PlannedBuild
from webapp.services.planned_state import PACES_KEPT, Paces

KEPT_FOR = dt.timedelta(minutes=5)
KEPT_BUILDS = 16
"""Of builds that go in an order two each."""
ASKED_KEPT = 500
LOADED_KEPT = 8
CHECKED_KEPT = 4
_Key = tuple[str, int, Hashable]


@dataclass(slots=True)
class _Entry:
    lock: threading.Lock = field(default_factory=threading.Lock)
    made_at: dt.datetime | None = None
    planned: PlannedBuild | None = None

    def is_fresh(self, now: dt.datetime) -> bool:
        """Whether it was made in the last five minutes of clock time."""
        return self.made_at is not None and dt.timedelta(0) <= now - self.made_at < KEPT_FOR


class PlanCache:
    """The last few builds, each worked out once and kept for five minutes of clock time."""

    def __init__(self) -> None:
        self.background = Background()
        self._paces = Paces(PACES_KEPT)
        self._draws = DrawsAtHand()
        self._checked: Kept[BuildInput, tuple[Fault, ...]] = Kept(CHECKED_KEPT)
        self.had_work: Kept[Hashable, bool] = Kept(ASKED_KEPT)
        self.loaded: Kept[Hashable, BuildInput | None] = Kept(LOADED_KEPT)
        self._entries: Kept[_Key, _Entry] = Kept(KEPT_BUILDS)
        self._asked_last: Kept[tuple[str, int], _Entry] = Kept(KEPT_BUILDS)

    def get(
        self,
        slug: str,
        revision: int,
        now: dt.datetime,
        load: Callable[[], BuildInput | None],
        shared: Hashable = (),
    ) -> PlannedBuild | None:
        """The build at a revision, loaded when it is not at hand; None when `load` finds none.

        `shared` is what else it hangs on: the sessions that belong to other builds. Two requests
        for one build wait for one computation; other builds do not wait.
        """
        entry = self._entries.get_or_keep((slug, revision, shared), _Entry)
        self._asked_last.keep((slug, revision), entry)
        with entry.lock:
            if entry.planned is None or not entry.is_fresh(now):
                build = load()
                entry.planned, entry.made_at = None, now
                before = self._before(slug, revision, now, shared)
                if build is not None and before is not None and before.planned is not None:
                    entry.planned = before.planned.at_revision(revision, build)
                if build is not None and entry.planned is None:
                    entry.planned = self._planned(build, slug, revision)
                elif before is not None and build is not None:
                    entry.made_at = before.made_at
            return entry.planned

    def faults_of(self, build: BuildInput) -> tuple[Fault, ...]:
        """All faults of a build; those of what was just stored are asked for by its page again."""
        found = self._checked.get(build)
        return self._checked.keep(build, faults_of(build)) if found is None else found

    def at_hand(self, slug: str, revision: int) -> PlannedBuild | None:
        """The build at a revision where it was worked out already; nobody is waited for."""
        entry = self._asked_last.get((slug, revision))
        return None if entry is None else entry.planned

    def aside(self, slug: str, build: BuildInput, *, called: str = "") -> PlannedBuild:
        """A build as it was or would be, at the pace of the one that is shown; not kept.

        What is `called` otherwise is worked out beside the one that is shown.
        """
        shown = self._paces.get(slug)
        if called and shown is not None:
            self._paces.get_or_keep(called, lambda: shown)
        return self._planned(build, called or slug)

    def _planned(self, build: BuildInput, slug: str, revision: int = 0) -> PlannedBuild:
        return PlannedBuild(
            build,
            slug=slug,
            revision=revision,
            background=self.background,
            paces=self._paces,
            draws=self._draws,
            check=self.faults_of,
        )

    def _before(
        self, slug: str, revision: int, now: dt.datetime, shared: Hashable
    ) -> _Entry | None:
        """The build at the revision before, where that is still at hand."""
        before = self._entries.get((slug, revision - 1, shared))
        return before if before is not None and before.is_fresh(now) else None
