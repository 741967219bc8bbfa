"""Freezing a build: the baseline, taken by hand or when the first task is begun, and a week."""

import json
from typing import TYPE_CHECKING

from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.exchange.build_document import write_document
from webapp.exchange.plan_document import plan_document
from webapp.planning.order.kept_order import plan_that_holds
from webapp.services.planned_build import ForecastFigures
from webapp.storage.snapshots import SnapshotKind, save_snapshot, snapshots_of

if TYPE_CHECKING:
    from sqlmodel import Session

SHARES = (10, 50, 80, 90)


def freeze_baseline(
    session: "Session", slug: str, build: BuildInput, figures: ForecastFigures | None = None
) -> None:
    """Keep the build as it is as the next baseline; older ones stay.

    `figures` is the forecast where it is at hand. A faulty build is kept without a plan.
    """
    _freeze(session, slug, build, figures, kind="baseline", label="")


def freeze_week(
    session: "Session", slug: str, build: BuildInput, label: str, figures: ForecastFigures | None
) -> None:
    """Keep the build as it is as the close of a week, "2026-W07"."""
    _freeze(session, slug, build, figures, kind="week", label=label)


def _freeze(
    session: "Session",
    slug: str,
    build: BuildInput,
    figures: ForecastFigures | None,
    *,
    kind: SnapshotKind,
    label: str,
) -> None:
    plan = None if faults_of(build) else plan_document(plan_that_holds(build), {})
    save_snapshot(
        session,
        slug,
        kind=kind,
        label=label,
        taken_at=build.now,
        document=write_document(build),
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


def freeze_first_baseline(
    session: "Session", slug: str, before: BuildInput, after: BuildInput
) -> None:
    """Freeze the build as it was before its first task was begun, unless a baseline is there."""
    if _is_begun(before) or not _is_begun(after) or snapshots_of(session, slug, "baseline"):
        return
    freeze_baseline(session, slug, before)


def _is_begun(build: BuildInput) -> bool:
    return any(task.begun_on is not None or task.finished_on is not None for task in build.tasks)
