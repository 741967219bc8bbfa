"""Records of the other builds in this data file, as a build can take them along."""

import datetime as dt

from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.build.circuit_dependencies import as_planned
from webapp.build.earlier_record import EarlierRecord
from webapp.build.time.given_away import with_own_hours
from webapp.planning.record.taking_along import earlier_record_of
from webapp.services.program import Services
from webapp.services.sharing import planned_at
from webapp.storage.builds import list_builds

MOST_OFFERED = 10
"""So many builds, those changed last, are looked at for a record."""


def records_there(services: Services, *, apart_from: str = "") -> tuple[EarlierRecord, ...]:
    """What each of the other builds has shown up to now, the one changed last first.

    Builds that have shown nothing are left out, and one that has faults.
    """
    now = services.settings.now()
    with services.database.reading() as session:
        headings = [each for each in list_builds(session) if each.slug != apart_from]
        found: list[EarlierRecord] = []
        for each in headings[:MOST_OFFERED]:
            asked = each.slug, each.revision, now.date()
            kept = services.records.get(asked)
            if kept is None:
                planned = planned_at(services.plans, session, each.slug, now)
                build = None if planned is None else planned.planned.build
                kept = services.records.keep(asked, _records_of(build, each.slug, now.date()))
            found += kept
    return tuple(found)


def _records_of(build: BuildInput | None, slug: str, today: dt.date) -> tuple[EarlierRecord, ...]:
    """The one record of a build, where it has one."""
    if build is None or faults_of(build):
        return ()
    record = earlier_record_of(with_own_hours(as_planned(build)), key=slug, on=today)
    return () if record is None else (record,)


def shows_the_same(one: EarlierRecord, other: EarlierRecord) -> bool:
    """Whether two records have the same figures, whatever build they are of and since when."""
    return (one.kinds, one.weeks, one.workable_hours, one.worked_hours) == (
        other.kinds,
        other.weeks,
        other.workable_hours,
        other.worked_hours,
    )
