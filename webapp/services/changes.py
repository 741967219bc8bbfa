"""The way of a change: read, alter, check, store, in one transaction."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.input_checks import faults_of
from webapp.build.verbs.wish_links import without_lost_links
from webapp.pages.frame.context import Services
from webapp.pages.frame.errors import missing_build
from webapp.services.baseline import freeze_first_baseline
from webapp.storage.build_loader import load_build
from webapp.storage.changes import store_changes

if TYPE_CHECKING:
    from sqlmodel import Session


def change_build(
    services: Services,
    slug: str,
    edit: Callable[[BuildInput], BuildInput],
    *,
    also: "Callable[[Session], None] | None" = None,
) -> tuple[Fault, ...]:
    """Store what `edit` makes of the build, unless that brings in a new fault.

    `edit` may raise `Missing` for a thing that is not there. `also` writes beside the build
    (the bench clock) in the same transaction.

    Returns
    -------
    The faults that the change would have brought in; () means that it was stored. A fault that
    was there before does not stop an unrelated change. The change that begins the first task
    freezes the baseline.
    """
    with services.database.writing() as session:
        before = load_build(session, slug, now=services.settings.now())
        if before is None:
            raise missing_build(slug)
        after = without_lost_links(edit(before))
        known = set(faults_of(before))
        new = tuple(fault for fault in faults_of(after) if fault not in known)
        if not new:
            store_changes(session, slug, before, after)
            freeze_first_baseline(session, slug, before, after)
            if also is not None:
                also(session)
    return new
