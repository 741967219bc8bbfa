"""What the record says of estimates and of shop time, and what is weak in the plan, in words."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.frame.link import Link
from webapp.pages.record.kinds import KindLine, kind_lines
from webapp.pages.week.labels import label_of, week_words
from webapp.pages.words import amounts as words
from webapp.pages.words.earlier_records import heard, weeks_behind
from webapp.pages.words.how import How, attendance_how
from webapp.pages.words.how_record import heard_attendance_how
from webapp.pages.words.soundness import finding_words
from webapp.planning.chances.factors import Attendance
from webapp.planning.record.attendance import (
    WeekHours,
    attendance_of,
    before_own_weeks,
    weeks_of_record,
)
from webapp.planning.record.finding import Finding
from webapp.planning.record.soundness import findings_of

SHOWN_KEYS = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class AttendanceLine:
    name: str
    address: str
    promised: str
    workable: str
    worked: str
    share: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordView:
    """The page. `ends` are the lines of what has no record of its own; () where no kind has one.

    `is_heard`: records of earlier builds count beside.
    """

    kinds: tuple[KindLine, ...]
    ends: tuple[KindLine, ...]
    is_heard: bool
    attendance: str
    attendance_count: str
    attendance_how: How
    weeks: tuple[AttendanceLine, ...]
    calibrated: bool
    attended: bool


def record_view(page: PageContext) -> RecordView:
    build = page.planned.linked
    attendance, record = attendance_of(build), weeks_of_record(build)
    lines = kind_lines(build)
    return RecordView(
        kinds=lines.kinds,
        ends=lines.ends,
        is_heard=lines.is_heard,
        attendance=f"{attendance.mean * 100:.0f} %",
        attendance_count=weeks_behind(attendance.weeks, build, "full week")
        or words.count(0, "full week"),
        attendance_how=_attendance_how(build, record, attendance),
        weeks=_weeks(page.slug, record, page.today),
        calibrated=build.calibrated,
        attended=build.attended,
    )


def _attendance_how(build: BuildInput, record: Sequence[WeekHours], attendance: Attendance) -> How:
    weeks = [week for week in record if week.whole and week.workable_hours > 0]
    worked = sum(week.worked_hours for week in weeks)
    workable = sum(week.workable_hours for week in weeks)
    if not attendance.earlier:
        return attendance_how(
            worked=worked, workable=workable, weeks=attendance.weeks, told=attendance.mean
        )
    return heard_attendance_how(
        [each for each in heard(build.earlier_records) if each.weeks],
        begins=before_own_weeks(build.earlier_records).mean,
        worked=worked,
        workable=workable,
        weeks=attendance.weeks,
        told=attendance.mean,
    )


def _weeks(slug: str, record: Sequence[WeekHours], today: dt.date) -> tuple[AttendanceLine, ...]:
    """Every whole week of the record, the last first."""
    return tuple(
        AttendanceLine(
            name=week_words((one.iso_year, one.iso_week), today=today),
            address=addresses.week(slug, label_of((one.iso_year, one.iso_week))),
            promised=f"{one.promised_hours:.1f}",
            workable=f"{one.workable_hours:.1f}",
            worked=f"{one.worked_hours:.1f}",
            share=f"{one.worked_hours / one.workable_hours * 100:.0f} %"
            if one.workable_hours
            else words.NOTHING,
        )
        for one in reversed(record)
        if one.whole
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingView:
    practice: str
    sentence: str
    remedy: str
    things: tuple[Link, ...]
    more: str
    within_limit: bool


def finding_views(page: PageContext, baseline: BuildInput | None) -> tuple[FindingView, ...]:
    """Every weakness of the plan, those that matter first; () while faults stand in the way."""
    if page.plan is None:
        return ()
    links = _links(page)
    found = findings_of(page.planned.linked, page.plan, baseline)
    return tuple(
        _finding(page, finding, links)
        for finding in sorted(found, key=lambda one: one.within_limit)
    )


def _links(page: PageContext) -> dict[str, Link]:
    """Where each thing of the build is changed; a task hides a part of the same key."""
    slug, build = page.slug, page.build
    links = {
        one.key: Link(name=one.name, address=addresses.shop(slug, "subsystems"))
        for one in build.subsystems
    }
    links |= {
        one.key: Link(name=one.name, address=addresses.part(slug, one.key)) for one in build.parts
    }
    links |= {
        one.key: Link(name=one.name, address=addresses.task(slug, one.key)) for one in build.tasks
    }
    return links


def _finding(page: PageContext, finding: Finding, links: dict[str, Link]) -> FindingView:
    keys = [key for key in finding.keys if key in links]
    rest = len(keys) - SHOWN_KEYS
    said = finding_words(page.build, finding, today=page.today)
    return FindingView(
        practice=said.practice,
        sentence=said.sentence,
        remedy=said.remedy,
        things=tuple(links[key] for key in keys[:SHOWN_KEYS]),
        more=f"and {rest} more" if rest > 0 else "",
        within_limit=finding.within_limit,
    )
