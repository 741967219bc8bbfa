"""Builds that share their hours, read and stored: the one way to a planned build leads through it.

Whose which session is says `SharedHours`.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from webapp.build.sharing import Sharing
from webapp.build.shop import GivenAway
from webapp.build.time.shared_sessions import SharedSession
from webapp.services.plan_cache import PlanCache
from webapp.services.planned_build import PlannedBuild
from webapp.services.shared_hours import SharedBuild, SharedHours, handed_over
from webapp.storage.build_loader import load_build
from webapp.storage.builds import revision_of
from webapp.storage.sharing import (
    StoredSharing,
    keep_facts,
    keep_settled,
    keep_sharing,
    sharing_of,
)

if TYPE_CHECKING:
    from sqlmodel import Session


def shared_hours(plans: PlanCache, session: "Session", now: dt.datetime) -> SharedHours | None:
    """The sharing of the data file; None where nothing is shared."""
    return _hours_by(plans, session, sharing_of(session), now)


def _hours_by(
    plans: PlanCache, session: "Session", stored: StoredSharing | None, now: dt.datetime
) -> SharedHours | None:
    if stored is None or not stored.sharing.builds:
        return None
    builds = _builds(plans, session, stored, stored.sharing.slugs, now)
    return SharedHours(plans, stored, builds, now)


def as_if(plans: PlanCache, session: "Session", sharing: Sharing, now: dt.datetime) -> SharedHours:
    """The sharing as it would be by another rule from now on, before it is stored.

    It knows the builds that shared until then, too: see `alone`.
    """
    stored = sharing_of(session)
    there = _hours_by(plans, session, stored, now)
    known = () if there is None else there.sharing.slugs
    builds = _builds(plans, session, stored, (*sharing.slugs, *known), now)
    if there is not None:
        for slug, given in there.facts().items():
            if slug in builds:
                builds[slug] = _with_facts(builds[slug], given)
    tried = StoredSharing(key="", sharing=sharing, since=now, settled_until=now)
    return SharedHours(plans, tried, builds, now, is_tried=True)


def _with_facts(one: SharedBuild, given: tuple[GivenAway, ...]) -> SharedBuild:
    shop = replace(one.build.shop, given=(*one.build.shop.given, *given))
    return replace(one, build=replace(one.build, shop=shop))


def _builds(
    plans: PlanCache,
    session: "Session",
    stored: StoredSharing | None,
    slugs: Iterable[str],
    now: dt.datetime,
) -> dict[str, SharedBuild]:
    """The builds that share as they are stored, those of a revision loaded once."""
    found = {}
    facts = None if stored is None else (stored.key, stored.settled_until)
    for slug in dict.fromkeys(slugs):
        revision = revision_of(session, slug)
        if revision is None:
            continue
        known = slug, revision, facts
        build = plans.loaded.get(known) or load_build(session, slug, now=now)
        if build is not None:
            plans.loaded.keep(known, build)
            found[slug] = SharedBuild(revision=revision, build=replace(build, now=now))
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedAt:
    """A build planned in the hours that are its own, at a revision; `shared` where it shares."""

    revision: int
    planned: PlannedBuild
    shared: SharedHours | None = None


def planned_at(
    plans: PlanCache, session: "Session", slug: str, now: dt.datetime
) -> PlannedAt | None:
    """The one way to a planned build. None: there is no such build."""
    revision = revision_of(session, slug)
    if revision is None:
        return None
    stored = sharing_of(session)
    shared = None
    if stored is not None and slug in stored.sharing.slugs:
        shared = _hours_by(plans, session, stored, now)
    if shared is not None:
        return PlannedAt(revision=revision, planned=shared.planned[slug], shared=shared)
    planned = plans.get(slug, revision, now, lambda: load_build(session, slug, now=now))
    return None if planned is None else PlannedAt(revision=revision, planned=planned)


# --- storing -----------------------------------------------------------------------------------
def settle(plans: PlanCache, session: "Session", now: dt.datetime, *, whole: bool = False) -> None:
    """Store whose the sessions were that are over, before something is changed that they hang on.

    By shares of the week nothing is stored until the rule itself is changed (`whole`).
    """
    shared = shared_hours(plans, session, now)
    if shared is None or (shared.sharing.way == "week" and not whole):
        return
    running = shared.running()
    for slug, given in shared.facts().items():
        keep_facts(session, slug, given)
    keep_settled(session, shared.stored.key, max(now, shared.stored.settled_until), running)


def set_sharing(plans: PlanCache, session: "Session", sharing: Sharing, now: dt.datetime) -> None:
    """Let another rule hold from now on; what is over stays as it was."""
    settle(plans, session, now, whole=True)
    keep_sharing(session, sharing, at=now)


def leave_sharing(plans: PlanCache, session: "Session", slug: str, now: dt.datetime) -> None:
    """A build that is deleted shares no more: its sessions are the others' again."""
    stored = sharing_of(session)
    if stored is None or slug not in stored.sharing.slugs:
        return
    left = tuple(one for one in stored.sharing.builds if one.slug != slug)
    handed = tuple(one for one in stored.sharing.handed_over if one.slug != slug)
    is_shared = len(left) > 1
    sharing = replace(
        stored.sharing,
        builds=left if is_shared else (),
        handed_over=handed if is_shared else (),
    )
    set_sharing(plans, session, sharing, now)


def hand_over(
    plans: PlanCache, session: "Session", given: SharedSession, slug: str, now: dt.datetime
) -> None:
    """Give one session to a build by hand, before any rule."""
    stored = sharing_of(session)
    assert stored is not None
    handed = (*stored.sharing.handed_over, handed_over(given, slug))
    set_sharing(plans, session, replace(stored.sharing, handed_over=handed), now)
