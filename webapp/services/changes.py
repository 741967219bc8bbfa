"""The one way of a change: load, edit, check and store, in one transaction."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Generic, TypeVar

from webapp.build.build_input import BuildInput, Fault
from webapp.build.edited import Edited
from webapp.build.openings import with_openings
from webapp.build.verbs.guesses import with_settled_guesses
from webapp.build.verbs.wish_links import without_lost_links
from webapp.build.verbs.wish_places import with_wishes_let_go
from webapp.plumbing.in_step import with_parts_following
from webapp.services.baseline import (
    MOST_TRIES,
    ToFreeze,
    asks_for_baseline,
    without_forecast,
    worked_out,
)
from webapp.services.program import Services
from webapp.services.sharing import settle
from webapp.storage.build_loader import load_build
from webapp.storage.builds import revision_of
from webapp.storage.changes import store_changes

if TYPE_CHECKING:
    from sqlmodel import Session

Made = TypeVar("Made")
Edit = Callable[[BuildInput], Edited[Made]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stored(Generic[Made]):
    """A change that is on disk; `since` is the revision before it, `revision` the one after it.

    The two are the same where nothing was to be changed.
    """

    before: BuildInput
    build: BuildInput
    since: int
    revision: int
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
    change that begins the first task freezes the baseline: its figures are worked out beside the
    transaction, and the edit is then asked once more.
    """
    baseline: ToFreeze | None = None
    tries = 0
    while True:
        with services.database.writing() as session:
            done = _within(
                session,
                services,
                slug,
                lambda build: _settled(build, edit(build)),
                baseline=baseline,
            )
        if isinstance(done, Stored):
            services.befores.keep((slug, done.since), done.before)
        if not isinstance(done, _Unfrozen):
            return done
        tries += 1
        if tries == MOST_TRIES:
            return Refused(before=done.before, edited=done.edited, new_faults=(_MOVING,))
        baseline = worked_out(services, slug)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Unfrozen(Generic[Made]):
    """A change that begins the first task, while no baseline of the build before it is at hand."""

    before: BuildInput
    since: int
    edited: Edited[Made]


_MOVING = Fault(
    kind="build",
    key="",
    field="",
    text="The build was changed elsewhere again and again in this moment. Press once more.",
)


def _settled(build: BuildInput, edited: Edited[Made]) -> Edited[Made]:
    """What was edited, and what follows from it by itself.

    Hours that were a guess and were changed are one no more; undecided wishes let go of tasks that
    are ended; parts of the buy list and of coolant that are not ordered yet follow what is drawn
    and mixed.
    """
    after = with_wishes_let_go(build, with_settled_guesses(build, edited.build))
    return replace(edited, build=with_parts_following(build, after))


def change_within(
    session: "Session",
    services: Services,
    slug: str,
    edit: Edit[Made],
    known: frozenset[Fault] = frozenset(),
) -> Stored[Made] | Refused[Made] | None:
    """The same, in a transaction that is open for more than the change; guesses stay as they are.

    `known` are faults that the build may have as well: it had them before. A baseline that it asks
    for is laid out on the spot, without a forecast.
    """
    done = _within(session, services, slug, edit, known)
    if isinstance(done, _Unfrozen):
        baseline = without_forecast(done.before, done.since)
        done = _within(session, services, slug, edit, known, baseline)
    assert not isinstance(done, _Unfrozen)
    return done


def _within(
    session: "Session",
    services: Services,
    slug: str,
    edit: Edit[Made],
    known: frozenset[Fault] = frozenset(),
    baseline: ToFreeze | None = None,
) -> Stored[Made] | Refused[Made] | _Unfrozen[Made] | None:
    settle(services.plans, session, services.settings.now())
    since = revision_of(session, slug)
    before = load_build(session, slug, now=services.settings.now())
    if since is None or before is None:
        return None
    edited = edit(before)
    at = services.settings.moment()
    after = with_openings(before, without_lost_links(edited.build), at=at)
    new = _new_faults(services, before, after, known)
    if edited.faults or edited.lost or edited.is_refused or new:
        return Refused(before=before, edited=edited, new_faults=new)
    asks = asks_for_baseline(session, slug, before, after)
    if asks and (baseline is None or baseline.revision != since):
        return _Unfrozen(before=before, since=since, edited=edited)
    store_changes(session, slug, before, after)
    if asks and baseline is not None:
        baseline.save(session, slug, "baseline")
    revision = revision_of(session, slug)
    assert revision is not None
    return Stored(before=before, build=after, since=since, revision=revision, made=edited.made)


def _new_faults(
    services: Services, before: BuildInput, after: BuildInput, known: frozenset[Fault]
) -> tuple[Fault, ...]:
    """The faults that a change brings; a build without one, as most are, is looked through once."""
    if after == before:  # as it is where the form itself has faults
        return ()
    new = tuple(fault for fault in services.plans.faults_of(after) if fault not in known)
    old = frozenset(services.plans.faults_of(before)) if new else frozenset[Fault]()
    return tuple(fault for fault in new if fault not in old)
