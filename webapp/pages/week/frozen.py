"""Snapshots read back: each once, and those that can not be read with a sentence that says so."""

import datetime as dt
import threading
from collections import OrderedDict
from dataclasses import dataclass
from functools import cached_property

from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.exchange.build_document import read_document
from webapp.pages.frame.context import PageContext, Services
from webapp.pages.words import amounts as words
from webapp.planning.order.kept_order import plan_that_holds
from webapp.planning.order.plan import Plan
from webapp.storage.snapshots import Snapshot, SnapshotHeading, snapshot_by_id

KEPT = 16


class FrozenBuild:
    """The build of a snapshot. `build` is None where its document can not be read."""

    def __init__(self, snapshot: Snapshot) -> None:
        self.taken_at = snapshot.taken_at
        build, faults = read_document(snapshot.document, now=snapshot.taken_at)
        # Of a version that is not known, what can be read may mean something else.
        is_foreign = any(fault.field in ("format", "version") for fault in faults)
        self.build = None if is_foreign else build
        self.first_fault = faults[0].text if faults else ""
        self.is_sound = self.build is not None and not faults and not faults_of(self.build)

    @cached_property
    def plan(self) -> Plan | None:
        """Its plan, laid out anew from what was frozen; None where it has faults."""
        return plan_that_holds(self.build) if self.build is not None and self.is_sound else None


class _FrozenBuilds:
    """The last few snapshots that were read. A snapshot never changes."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._kept: OrderedDict[tuple[object, ...], FrozenBuild] = OrderedDict()

    def get(self, key: tuple[object, ...]) -> FrozenBuild | None:
        with self._lock:
            found = self._kept.get(key)
            if found is not None:
                self._kept.move_to_end(key)
            return found

    def keep(self, key: tuple[object, ...], frozen: FrozenBuild) -> FrozenBuild:
        with self._lock:
            kept = self._kept.setdefault(key, frozen)
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
            return kept


_KEPT = _FrozenBuilds()


def frozen_build(services: Services, slug: str, heading: SnapshotHeading) -> FrozenBuild | None:
    """The build of a snapshot; None where the snapshot is gone."""
    # One data file may be put in the place of another: the moment tells them apart as well.
    key = (services.settings.data_file, slug, heading)
    found = _KEPT.get(key)
    if found is not None:
        return found
    with services.database.reading() as session:
        snapshot = snapshot_by_id(session, slug, heading.id)
    return None if snapshot is None else _KEPT.keep(key, FrozenBuild(snapshot))


@dataclass(frozen=True, slots=True, kw_only=True)
class Headings:
    """What snapshots a build has, the oldest first."""

    all: tuple[SnapshotHeading, ...]

    @property
    def baseline(self) -> SnapshotHeading | None:
        """The latest baseline: the one that is measured against."""
        return next((one for one in reversed(self.all) if one.kind == "baseline"), None)

    def closed(self, label: str) -> SnapshotHeading | None:
        """The close of a week."""
        return next((one for one in self.all if (one.kind, one.label) == ("week", label)), None)

    def before(self, label: str) -> SnapshotHeading | None:
        """What a week is held against: the last closed week before it, else the baseline."""
        earlier = [one for one in self.all if one.kind == "week" and one.label < label]
        return max(earlier, key=lambda one: one.label) if earlier else self.baseline

    def by_id(self, text: str) -> SnapshotHeading | None:
        return next((one for one in self.all if str(one.id) == text), None)


def heading_words(heading: SnapshotHeading, *, today: dt.date) -> str:
    """A snapshot in a list: "week 6, closed Sun 8 February", "baseline 1, Sat 10 January"."""
    day = words.day(heading.taken_at, today=today)
    if heading.kind == "baseline":
        return f"baseline {heading.label}, {day}"
    year, _, week = heading.label.partition("-W")
    of_year = "" if year == str(today.year) else f" of {year}"
    return f"week {week.lstrip('0') or week}{of_year}, closed {day}"


def unreadable_words(page: PageContext, heading: SnapshotHeading, frozen: FrozenBuild) -> str:
    """Why a snapshot can not be shown, and that nothing is lost."""
    return (
        f"{words.sentence(heading_words(heading, today=page.today))}, was written by another "
        f"version of the program and can not be read here. {frozen.first_fault} "
        "It is kept as it is: nothing is lost, and the program that wrote it can show it."
    )


def sound_build(frozen: FrozenBuild | None) -> BuildInput | None:
    return frozen.build if frozen is not None and frozen.is_sound else None
