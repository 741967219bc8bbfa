"""The one way of a change: load, edit, check and store, in one transaction."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.input_checks import faults_of
from webapp.build.edited import Edited
from webapp.build.verbs.guesses import with_settled_guesses
from webapp.build.verbs.wish_links import without_lost_links
from webapp.services.baseline import freeze_first_baseline
from webapp.services.program import Services
from webapp.storage.build_loader import load_build
from webapp.storage.builds import revision_of
from webapp.storage.changes import store_changes

Made = TypeVar("Made")
Edit = Callable[[BuildInput], Edited[Made]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stored(Generic[Made]):
    """A change that is on disk; `since` is the revision before it."""

    before: BuildInput
    build: BuildInput
    since: int
    made: Made


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused(Generic[Made]):
    """A change that was not stored. `new_faults` are those it would bring into the build."""

    before: BuildInput
    edited: Edited[Made]
    new_faults: tuple[Fault, ...]


def change(services: Services, slug: str, edit: Edit[Made]) -> Stored[Made] | Refused[Made] | None:
    """Store what `edit` makes of the build as it is now; None: there is no such build.

    Nothing is stored where the edit has faults of its own, brings a new fault into the build, or
    says that it is refused. A fault that was there before does not stop an unrelated change. The
    change that begins the first task freezes the baseline.
    """
    with services.database.writing() as session:
        since = revision_of(session, slug)
        before = load_build(session, slug, now=services.settings.now())
        if since is None or before is None:
            return None
        edited = edit(before)
        after = with_settled_guesses(before, without_lost_links(edited.build))
        known = set(faults_of(before))
        new = tuple(fault for fault in faults_of(after) if fault not in known)
        if edited.faults or edited.lost or edited.is_refused or new:
            return Refused(before=before, edited=edited, new_faults=new)
        store_changes(session, slug, before, after)
        freeze_first_baseline(session, slug, before, after)
    services.befores.keep((slug, since), before)
    return Stored(before=before, build=after, since=since, made=edited.made)
