"""Freezing a build: the baseline, taken by hand or when the first task is begun, and a week.

What is frozen is worked out first, beside the writing transaction. Inside it only the number of the
build's last change is compared, and looked whether a week is closed: where somebody changed the
build meanwhile it is begun anew, so that what is kept for good holds every change that was
acknowledged before.
"""

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.build.circuit_dependencies import as_planned
from webapp.build.time.given_away import with_own_hours
from webapp.exchange.build_document import write_document
from webapp.exchange.plan_document import plan_document
from webapp.planning.order.kept_order import plan_that_holds
from webapp.services.forecast_figures import ForecastFigures, forecast_figures
from webapp.services.planned_build import PlannedBuild
from webapp.services.program import Services
from webapp.services.sharing import planned_at
from webapp.storage.builds import revision_of
from webapp.storage.snapshots import (
    SnapshotKind,
    save_snapshot,
    snapshot_headings,
    snapshots_of,
)

if TYPE_CHECKING:
    from sqlmodel import Session

SHARES = (10, 50, 80, 90)
MOST_TRIES = 5
"""So often freezing begins anew where the build is changed while the figures are worked out."""
Outcome = Literal["frozen", "closed already", "changed again and again", "no build"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToFreeze:
    """A build at one revision as it will be kept: its plan and forecast as JSON text."""

    build: BuildInput
    revision: int
    plan: str
    forecast: str

    def save(self, session: "Session", slug: str, kind: SnapshotKind, label: str = "") -> None:
        """Add it to the snapshots of the build; the older ones stay."""
        save_snapshot(
            session,
            slug,
            kind=kind,
            label=label,
            taken_at=self.build.now,
            document=write_document(self.build),
            plan=self.plan,
            forecast=self.forecast,
        )


def freeze(services: Services, slug: str, kind: SnapshotKind, label: str = "") -> Outcome:
    """Keep the build as it is as the next baseline, or as the close of the week `label`.

    A week is closed once, whoever else closes it meanwhile.
    """
    for _ in range(MOST_TRIES):
        found = worked_out(services, slug)
        if found is None:
            return "no build"
        with services.database.writing() as session:
            if kind == "week" and _is_closed(session, slug, label):
                return "closed already"
            if revision_of(session, slug) == found.revision:
                found.save(session, slug, kind, label)
                return "frozen"
    return "changed again and again"


def _is_closed(session: "Session", slug: str, label: str) -> bool:
    headings = snapshot_headings(session, slug)
    return any(one.kind == "week" and one.label == label for one in headings)


def worked_out(services: Services, slug: str) -> ToFreeze | None:
    """The build as it is now with its figures, those at hand or worked out on the spot.

    May take seconds: never to be called while a change is being written. None: no such build.
    """
    now = services.settings.now()
    with services.database.reading() as session:
        found = planned_at(services.plans, session, slug, now)
    if found is None:
        return None
    figures = _figures_of(found.planned)
    return _to_freeze(found.planned.whole, found.revision, figures)


def _figures_of(planned: PlannedBuild) -> ForecastFigures | None:
    at_hand = planned.forecast()
    if at_hand.ready or planned.faults:
        return at_hand.value
    return forecast_figures(planned.planned_input, factors=planned.factors, last=planned.factor)


def without_forecast(build: BuildInput, revision: int) -> ToFreeze:
    """The build at a revision with its plan alone, which takes a moment."""
    return _to_freeze(build, revision, None)


def _to_freeze(build: BuildInput, revision: int, figures: ForecastFigures | None) -> ToFreeze:
    """A faulty build is kept without a plan."""
    plan = None
    if not faults_of(build):
        plan = plan_document(plan_that_holds(with_own_hours(as_planned(build))), {})
    return ToFreeze(
        build=build,
        revision=revision,
        plan=json.dumps(plan),
        forecast=json.dumps(_chances(figures)),
    )


def _chances(figures: ForecastFigures | None) -> dict[str, str] | None:
    if figures is None:
        return None
    return {
        f"p{share}": figures.forecast.at(share / 100).isoformat(timespec="minutes")
        for share in SHARES
    }


def asks_for_baseline(session: "Session", slug: str, before: BuildInput, after: BuildInput) -> bool:
    """Whether a change begins the first task of a build that has no baseline yet."""
    if _is_begun(before) or not _is_begun(after):
        return False
    return not snapshots_of(session, slug, "baseline")


def _is_begun(build: BuildInput) -> bool:
    return any(task.begun_on is not None or task.finished_on is not None for task in build.tasks)


# a story told at once, in the transaction that makes its build --------------------------------
def freeze_baseline(session: "Session", slug: str, build: BuildInput) -> None:
    """Keep a build as the next baseline of one that is being made."""
    without_forecast(build, 0).save(session, slug, "baseline")


def freeze_week(session: "Session", slug: str, build: BuildInput, label: str) -> None:
    """Keep a build as the close of a week, "2026-W07", of one that is being made."""
    without_forecast(build, 0).save(session, slug, "week", label)
