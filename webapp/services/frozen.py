"""Snapshots read back: each once, and those that can not be read with a sentence that says so."""

from dataclasses import dataclass
from functools import cached_property

from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.build.circuit_dependencies import as_planned
from webapp.build.time.given_away import with_own_hours
from webapp.exchange.build_document import read_document
from webapp.planning.order.kept_order import plan_that_holds
from webapp.planning.order.plan import Plan
from webapp.storage.snapshots import Snapshot, SnapshotHeading


class FrozenBuild:
    """The build of a snapshot, as it was planned. `build` is None where its document can not be
    read."""

    def __init__(self, snapshot: Snapshot) -> None:
        self.taken_at = snapshot.taken_at
        build, faults = read_document(snapshot.document, now=snapshot.taken_at)
        # Of a version that is not known, what can be read may mean something else.
        is_foreign = any(fault.field in ("format", "version") for fault in faults)
        self.first_fault = faults[0].text if faults else ""
        self.build = None if is_foreign else build
        self.is_sound = self.build is not None and not faults and not faults_of(self.build)
        if self.build is not None and self.is_sound:
            self.build = with_own_hours(as_planned(self.build))

    @cached_property
    def plan(self) -> Plan | None:
        """Its plan, laid out anew from what was frozen; None where it has faults."""
        return plan_that_holds(self.build) if self.build is not None and self.is_sound else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Headings:
    """What snapshots a build has, the oldest first."""

    all: tuple[SnapshotHeading, ...]

    @property
    def baselines(self) -> tuple[SnapshotHeading, ...]:
        """The baselines, the oldest first."""
        return tuple(one for one in self.all if one.kind == "baseline")

    @property
    def baseline(self) -> SnapshotHeading | None:
        """The latest baseline: the one that is measured against."""
        return self.baselines[-1] if self.baselines else None

    def closed(self, label: str) -> SnapshotHeading | None:
        """The close of a week."""
        return next((one for one in self.all if (one.kind, one.label) == ("week", label)), None)

    def baseline_at(self, closed: SnapshotHeading | None) -> SnapshotHeading | None:
        """The baseline that counted when a week was closed; of None the one that counts now.

        None where none had been taken by then: no week is held against a younger one.
        """
        if closed is None:
            return self.baseline
        by_then = [one for one in self.all if one.taken_at <= closed.taken_at]
        return Headings(all=tuple(by_then)).baseline

    def before(self, label: str, closed: SnapshotHeading | None) -> SnapshotHeading | None:
        """What a week, or its close, is held against: the last closed week before it.

        Where there is none, the baseline that counted then.
        """
        earlier = [one for one in self.all if one.kind == "week" and one.label < label]
        return max(earlier, key=lambda one: one.label) if earlier else self.baseline_at(closed)

    def by_id(self, text: str) -> SnapshotHeading | None:
        return next((one for one in self.all if str(one.id) == text), None)


def sound_build(frozen: FrozenBuild | None) -> BuildInput | None:
    return frozen.build if frozen is not None and frozen.is_sound else None
