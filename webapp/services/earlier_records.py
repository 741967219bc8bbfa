"""Records of the other builds in this data file, as a build can take them along."""

import datetime as dt

from webapp.build.earlier_record import EarlierRecord
from webapp.planning.record.taking_along import earlier_record_of
from webapp.services.planned_build import PlannedBuild
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
                found_at = planned_at(services.plans, session, each.slug, now)
                planned = None if found_at is None else found_at.planned
                kept = services.records.keep(asked, _records_of(planned, each.slug, now.date()))
            found += kept
    return tuple(found)


def _records_of(
    planned: PlannedBuild | None, slug: str, today: dt.date
) -> tuple[EarlierRecord, ...]:
    """The one record of a build, where it has one."""
    if planned is None or planned.faults:
        return ()
    record = earlier_record_of(planned.linked, key=slug, on=today)
    return () if record is None else (record,)


def shows_the_same(one: EarlierRecord, other: EarlierRecord) -> bool:
    """Whether two records have the same figures, whatever build they are of and since when."""
    return (one.kinds, one.weeks, one.workable_hours, one.worked_hours) == (
        other.kinds,
        other.weeks,
        other.workable_hours,
        other.worked_hours,
    )
