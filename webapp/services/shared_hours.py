"""Which build has which session, where several share their hours: worked out as it stands now.

By a share of the week it follows from the hours of the builds alone. In an order a build has the
sessions in which its likely plan has work, and whose session one was that is over is what the plans
said when it opened. `settle` stores that before anything is changed, so that what is over stays as
it was. An open session is handed to whoever had it then.
"""

import datetime as dt
import itertools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from webapp.build.build_input import BuildInput
from webapp.build.sharing import HandedOver
from webapp.build.shop import GivenAway
from webapp.build.time.given_by_rule import (
    Given,
    given_between,
    given_by_shares,
    handed_to,
    sharing_builds,
)
from webapp.build.time.shared_sessions import (
    GivenAwayByBuild,
    SharedSession,
    drawn_together,
    shared_on,
)
from webapp.build.time.week_shares import WeekShares
from webapp.build.time_units import DAY
from webapp.planning.order.claims import Claim, claims_of
from webapp.services.plan_cache import PlanCache
from webapp.services.planned_build import PlannedBuild
from webapp.storage.sharing import StoredSharing

LOOK_AHEAD_DAYS = 60
TRIED = "tried"
TRIED_SECONDS = 1.0
"""So long a page waits for each forecast by another rule."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedBuild:
    """A build that shares, at a revision, with what it gives away."""

    revision: int
    build: BuildInput


class SharedHours:
    """The sharing of a data file at one moment: `plans` has the plans that an order hangs on.

    `is_tried`: it is not stored, and asked for its dates alone, which the page waits for.
    """

    def __init__(
        self,
        plans: PlanCache,
        stored: StoredSharing,
        builds: Mapping[str, SharedBuild],
        now: dt.datetime,
        *,
        is_tried: bool = False,
    ) -> None:
        self._plans, self.stored, self.now, self._is_tried = plans, stored, now, is_tried
        self.sharing = stored.sharing
        self.is_settled = True
        """Whether every forecast that was waited for was there."""
        self._builds = builds
        self._there = sharing_builds(
            {slug: one.build for slug, one in builds.items()}, self.sharing
        )
        self._names = {slug: one.build.name for slug, one in self._builds.items()}

    # --- what each gives away -----------------------------------------------------------------

    @cached_property
    def planned(self) -> dict[str, PlannedBuild]:
        """Each build that shares, with what it gives away, by its slug in the order of the rule."""
        if self.sharing.way == "week":
            given = given_by_shares(self._there, self.sharing, self.stored.settled_until)
            return {slug: self._planned_with(slug, given[slug]) for slug in self._there}
        return self._by_order()

    def _planned_with(
        self, slug: str, given: Iterable[GivenAway], later: tuple[GivenAway, ...] = ()
    ) -> PlannedBuild:
        one = self._builds[slug]
        together = drawn_together((*one.build.shop.given, *given))
        build = replace(one.build, shop=replace(one.build.shop, given=together))
        if self._is_tried:
            tried = self._plans.aside(slug, build, called=f"{slug} {TRIED}")
            self.is_settled &= tried.forecast(wait_seconds=TRIED_SECONDS).ready
            tried.later_given = later
            return tried
        planned = self._plans.get(slug, one.revision, self.now, lambda: build, (together, later))
        assert planned is not None
        planned.later_given = later
        return planned

    def _by_order(self) -> dict[str, PlannedBuild]:
        facts = self._facts_of_order()
        handed = given_between(
            self._there, self.sharing, lambda _: None, self.stored.settled_until, None
        )
        fixed = {slug: (*facts[slug], *handed[slug]) for slug in self._there}
        claimed: dict[SharedSession, str] = {}
        firsts: dict[str, PlannedBuild] = {}
        for slug in self._there:
            taken = self._given(claimed, givers=(slug,))
            firsts[slug] = self._planned_with(slug, (*fixed[slug], *taken.of(slug)))
            for session in self._claims(firsts[slug]):
                claimed.setdefault(session, slug)
        found = {}
        for slug, first in firsts.items():
            before = {s: to for s, to in claimed.items() if self._is_after(first, s)}
            later = self._given(before, givers=(slug,), after_first_start=True).of(slug)
            given = first.build.shop.given
            found[slug] = self._planned_with(slug, given, later) if later else first
            for session in self._claims(found[slug], of_later_work=True):
                claimed.setdefault(session, slug)
        return found

    def _is_after(self, planned: PlannedBuild, session: SharedSession) -> bool:
        """Whether a session lies behind first start of a build, as its plan says it."""
        plan = planned.plan()
        at = None if plan is None else plan.first_start_at
        return at is None or session.closes > at

    def _claims(self, planned: PlannedBuild, *, of_later_work: bool = False) -> list[SharedSession]:
        plan = planned.plan()
        if plan is None:
            return []
        asked = planned.factor, of_later_work
        claims = planned.claims.get(asked) or planned.claims.keep(
            asked, claims_of(planned.laid_input, plan, of_later_work=of_later_work)
        )
        return self._sessions(claims)

    def _sessions(self, claims: Iterable[Claim]) -> list[SharedSession]:
        found: dict[SharedSession, None] = {}
        by_date: dict[dt.date, list[SharedSession]] = {}
        for claim in claims:
            if claim.date not in by_date:
                by_date[claim.date] = shared_on(self._there, claim.date)
            for session in by_date[claim.date]:
                is_it = session.overlaps(claim.opens_minute, claim.closes_minute)
                if is_it and len(session.builds) > 1:
                    found[session] = None
        return list(found)

    def _given(
        self,
        claimed: Mapping[SharedSession, str],
        *,
        givers: tuple[str, ...],
        after_first_start: bool = False,
    ) -> GivenAwayByBuild:
        given = GivenAwayByBuild(self._names)
        for session, owner in claimed.items():
            of_it = tuple(slug for slug in givers if slug in session.builds)
            given.add(session, owner, givers=of_it, after_first_start=after_first_start)
        return given

    # --- what is over -------------------------------------------------------------------------

    def _facts_of_order(self) -> Given:
        """What each gave away of the sessions that are over since they were stored last."""
        since = self.stored.settled_until
        if since >= self.now:
            return dict.fromkeys(self._there, ())
        return given_between(self._there, self.sharing, self.owner_then, since, self.now)

    def owner_then(self, session: SharedSession) -> str | None:
        """Whose a session was by the order when it opened: the first whose plan had work in it."""
        if len(session.builds) < 2:
            return None
        return next((slug for slug in self._there if self._had_work(slug, session)), None)

    def _had_work(self, slug: str, session: SharedSession) -> bool:
        one = self._builds[slug]
        if slug not in session.builds:
            return False
        at = max(session.opens, self.stored.settled_until)
        known = (slug, one.revision, at, session)
        return self._plans.had_work.get_or_keep(known, lambda: session in self._claims_at(slug, at))

    def _claims_at(self, slug: str, at: dt.datetime) -> list[SharedSession]:
        build = replace(self._builds[slug].build, now=at)
        return self._claims(self._plans.aside(slug, build))

    def facts(self) -> Given:
        """The same by any rule, to be stored."""
        since = self.stored.settled_until
        if since >= self.now:
            return {}
        if self.sharing.way == "week":
            return given_by_shares(self._there, self.sharing, since, self.now)
        return self._facts_of_order()

    def running(self) -> tuple[HandedOver, ...]:
        """What was handed over and is not over yet; in an order also the session that runs."""
        kept = [one for one in self.sharing.handed_over if one.date >= self.now.date()]
        if self.sharing.way == "order":
            for session in shared_on(self._there, self.now.date()):
                if session.opens <= self.now < session.closes:
                    owner = handed_to(self.sharing, session) or self.owner_then(session)
                    if owner is not None and handed_to(self.sharing, session) is None:
                        kept.append(handed_over(session, owner))
        return tuple(kept)

    # --- whose a session is -------------------------------------------------------------------

    def owner(self, session: SharedSession) -> str | None:
        """Whose a session is that is not over; None: it is nobody's more than another's."""
        by_hand = handed_to(self.sharing, session)
        if by_hand is not None:
            return by_hand
        if len(session.builds) < 2:
            return session.builds[0]
        if self.sharing.way == "week":
            shares = {one.slug: one.sessions for one in self.sharing.builds}
            return WeekShares(self._there, shares).owner(session)
        for slug, planned in self.planned.items():
            if slug in session.builds and session in self._claims(planned, of_later_work=True):
                return slug
        return None

    def coming(self, count: int) -> tuple[SharedSession, ...]:
        """The session that is open and the next, so many within two months, of all the builds."""
        days = (self.now.date() + number * DAY for number in range(LOOK_AHEAD_DAYS))
        ahead = (s for day in days for s in shared_on(self._there, day) if s.closes > self.now)
        return tuple(itertools.islice(ahead, count))

    def next_session(self) -> SharedSession | None:
        """The session that is open, else the next."""
        return next(iter(self.coming(1)), None)

    def open_now(self) -> SharedSession | None:
        """The session that is open."""
        session = self.next_session()
        return session if session is not None and session.opens <= self.now else None

    def session_of(self, date: dt.date, minute: int) -> SharedSession | None:
        """The session of a date that opens at a minute, unless it is over."""
        there = shared_on(self._there, date)
        found = (s for s in there if s.opens_minute == minute and s.closes > self.now)
        return next(found, None)

    def alone(self, slug: str) -> PlannedBuild:
        """A build with all of its hours."""
        return self._planned_with(slug, ())

    def name(self, slug: str) -> str:
        return self._names.get(slug, slug)


def handed_over(session: SharedSession, slug: str) -> HandedOver:
    """A session given to one build by hand."""
    return HandedOver(
        date=session.date,
        opens_minute=session.opens_minute,
        closes_minute=session.closes_minute,
        slug=slug,
    )
