"""What each build that shares gives away: by hand and by its share of the week.

Of the sessions that close after `since`, and until `until` where it is given: those are the facts
of what is over.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.sharing import HandedOver, Sharing
from webapp.build.shop import GivenAway
from webapp.build.time.shared_sessions import (
    GivenAwayByBuild,
    OwnerOf,
    SharedSession,
    shared_on,
)
from webapp.build.time.week_shares import DAYS_OF_A_WEEK, WeekShares, last_special_day
from webapp.build.time_units import DAY

Given = dict[str, tuple[GivenAway, ...]]


def sharing_builds(builds: Mapping[str, BuildInput], sharing: Sharing) -> dict[str, BuildInput]:
    """Those of the builds that share, in the order of the rule, with all the hours they entered."""
    return {
        slug: replace(builds[slug], shop=replace(builds[slug].shop, given=()))
        for slug in sharing.slugs
        if slug in builds
    }


def given_by_shares(
    builds: Mapping[str, BuildInput],
    sharing: Sharing,
    since: dt.datetime,
    until: dt.datetime | None = None,
) -> Given:
    """By slug what each build gives away where a week is shared."""
    there = sharing_builds(builds, sharing)
    shares = WeekShares(there, {one.slug: one.sessions for one in sharing.builds})
    return given_between(there, sharing, shares.owner, since, until, for_ever=True)


def given_between(
    there: Mapping[str, BuildInput],
    sharing: Sharing,
    owner_of: OwnerOf,
    since: dt.datetime,
    until: dt.datetime | None,
    *,
    for_ever: bool = False,
    last: dt.date | None = None,
) -> Given:
    """By slug what each build gives away where `owner_of` says whose a session is.

    Up to `until`, or to the day `last`; with `for_ever` every week on from where all are alike.
    """
    given = GivenAwayByBuild({slug: build.name for slug, build in there.items()})
    handed = {one.date for one in sharing.handed_over}
    day = since.date()
    if until is not None:
        end = until.date()
    else:
        end = max([last or day, *handed])
        if for_ever:
            end = max(end, last_special_day(there, day))
            end += (DAYS_OF_A_WEEK - 1 - end.weekday()) * DAY  # to its Sunday
    while day <= end:
        for session in shared_on(there, day):
            is_over = until is not None and session.closes > until
            if session.closes <= since or is_over:
                continue
            owner = handed_to(sharing, session) or owner_of(session)
            if owner is not None:
                given.add(session, owner)
        day += DAY
    if for_ever and until is None:
        for number in range(DAYS_OF_A_WEEK):
            for session in shared_on(there, day + number * DAY):
                owner = owner_of(session)
                if owner is not None:
                    given.add(session, owner, for_ever=True)
    return {slug: given.of(slug) for slug in there}


def handed_to(sharing: Sharing, session: SharedSession) -> str | None:
    """The build that a session was given to by hand; of several times the last counts."""
    return next(
        (one.slug for one in reversed(sharing.handed_over) if is_of(one, session)),
        None,
    )


def is_of(handed: HandedOver, session: SharedSession) -> bool:
    """Whether what was handed over is this session."""
    return handed.date == session.date and session.overlaps(
        handed.opens_minute, handed.closes_minute
    )
