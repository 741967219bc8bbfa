"""One week in strings: its hours, the bridge to it, and whether it is closed."""

import datetime as dt
from dataclasses import dataclass

from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.frame.link import Link
from webapp.pages.week.bridges import (
    TODAY,
    BridgeView,
    bridge_that_moved,
    side_of,
    side_of_snapshot,
)
from webapp.pages.week.labels import label_of, monday_of, week_after, week_named, week_words
from webapp.pages.week.next_sessions import NextSessions, next_sessions
from webapp.pages.week.sheet import sheet_view
from webapp.pages.week.sheet_view import SheetView
from webapp.pages.week.to_do import Answered, ToDoView, to_do_view
from webapp.pages.words import amounts as words
from webapp.pages.words.snapshots import heading_words, unreadable_words
from webapp.pages.words.the_end import the_end
from webapp.planning.record.attendance import first_day
from webapp.planning.record.to_do import to_do
from webapp.planning.record.week_figures import IsoWeek, week_of, week_sheet
from webapp.services.frozen import FrozenBuild, Headings, sound_build
from webapp.services.program import Services
from webapp.services.snapshots import frozen_build
from webapp.storage.snapshots import SnapshotHeading

CLOSED_SHOWN = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One snapshot in a pick list."""

    value: str
    words: str
    chosen: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """Whether the week can be closed now, and what is said beside the button."""

    address: str
    hint: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekView:
    """The page of one week. `state` says what is shown; `unreadable` why its close is not.

    `to_do` and `upcoming` stand on the page of the week that runs, and of the last one as long as
    it is not closed; there the sheet is folded away. `late` leads to a last week that is open.
    """

    label: str
    title: str
    state: str
    unreadable: str
    before: Link
    after: Link | None
    sheet: SheetView
    bridge: BridgeView | None
    no_bridge: str
    choices: tuple[Choice, ...]
    to_do: ToDoView | None
    upcoming: NextSessions | None
    closing: Closing | None
    late: Link | None
    other: Link | None
    closed: tuple[Link, ...]
    closed_in_all: int
    baseline: str


def week_view(
    services: Services,
    page: PageContext,
    headings: Headings,
    week: IsoWeek,
    *,
    since: str = "",
    as_today: bool = False,
    answered: Answered | None = None,
) -> WeekView:
    """The week sheet; a closed week as it was closed unless `as_today`.

    `since` is the number of the snapshot that the bridge is to begin at.
    """
    label, this_week = label_of(week), week_of(page.today)
    closed = headings.closed(label)
    frozen = frozen_build(services, page.slug, closed) if closed else None
    unreadable = ""
    if closed is not None and frozen is not None and frozen.build is None:
        unreadable = unreadable_words(closed, frozen.first_fault, today=page.today)
    shown = frozen if frozen is not None and frozen.build is not None and not as_today else None
    baseline = headings.baseline_at(closed if shown else None)
    bridge, no_bridge = _bridge(services, page, headings, week, since, closed if shown else None)
    following, last_week = week_after(week), week_after(this_week, -1)
    is_running = week == this_week or (week == last_week and closed is None)
    return WeekView(
        label=label,
        title=week_words(week, today=page.today),
        state=_state(page, week, closed, is_frozen=shown is not None),
        unreadable=unreadable,
        before=_link(page, week_after(week, -1)),
        after=_link(page, following) if following <= this_week or week < this_week else None,
        sheet=_sheet(services, page, week, shown, baseline),
        bridge=bridge,
        no_bridge=no_bridge,
        choices=_choices(page, headings, closed if shown else None, since, week),
        to_do=what_there_is_to_do(page, headings, week, answered) if is_running else None,
        upcoming=next_sessions(page, following) if is_running else None,
        closing=_closing(page, week, closed),
        late=_late(page, headings, last_week) if week == this_week else None,
        other=_other(page, label, closed, is_frozen=shown is not None),
        closed=_closed_links(page, headings),
        closed_in_all=sum(one.kind == "week" for one in headings.all),
        baseline=heading_words(baseline, today=page.today) if baseline else "",
    )


def what_there_is_to_do(
    page: PageContext, headings: Headings, week: IsoWeek, answered: Answered | None = None
) -> ToDoView:
    """The lines of what there is to do, on the page of a week."""
    label = "" if week == week_of(page.today) else label_of(week)
    planned = page.planned
    todo = to_do(planned.linked, _since(headings), lived=planned.as_lived)
    return to_do_view(page, todo, label, answered)


def _since(headings: Headings) -> dt.date | None:
    """The day on which the last week was closed, or ended where that came first."""
    closed = [one for one in headings.all if one.kind == "week"]
    ends = [
        min(one.taken_at.date(), monday_of(week_after(week)))
        for one in closed
        if (week := week_named(one.label)) is not None
    ]
    return max(ends, default=None)


def _late(page: PageContext, headings: Headings, last_week: IsoWeek) -> Link | None:
    """The last week where it is still to be closed and the build had begun by then."""
    first = first_day(page.build)
    if headings.closed(label_of(last_week)) or first is None or week_of(first) > last_week:
        return None
    return _link(page, last_week)


def _link(page: PageContext, week: IsoWeek) -> Link:
    return Link(name=f"Week {week[1]}", address=addresses.week(page.slug, label_of(week)))


def _state(
    page: PageContext, week: IsoWeek, closed: SnapshotHeading | None, *, is_frozen: bool
) -> str:
    this_week = week_of(page.today)
    if is_frozen and closed is not None:
        return f"As it was closed {words.moment(closed.taken_at, today=page.today)}."
    if closed is not None:
        return "With what was written down since it was closed; hours left are those of today."
    if week == this_week:
        return "This week, up to now."
    if week > this_week:
        return "This week has not begun yet."
    if page.build.starts_on is not None and week < week_of(page.build.starts_on):
        return "The build had not begun then."
    return "It was not closed: hours left are those of today."


# --- the sheet, kept as long as what it is made from ----------------------------------------


def _sheet(
    services: Services,
    page: PageContext,
    week: IsoWeek,
    frozen: FrozenBuild | None,
    baseline: SnapshotHeading | None,
) -> SheetView:
    source: object = frozen or page.planned
    build = frozen.build if frozen is not None and frozen.build is not None else page.planned.linked
    key = (source, week, baseline)
    sheet = services.sheets.get(key)
    if sheet is None:
        held_against = frozen_build(services, page.slug, baseline) if baseline else None
        sheet = week_sheet(
            build,
            week,
            baseline=sound_build(held_against),
            baseline_plan=held_against.plan if held_against else None,
            lived=page.planned.as_lived if build is page.planned.linked else None,
        )
        services.sheets.keep(key, sheet)
    return sheet_view(page.slug, sheet)


# --- the bridge -----------------------------------------------------------------------------


def _bridge(
    services: Services,
    page: PageContext,
    headings: Headings,
    week: IsoWeek,
    since: str,
    closed: SnapshotHeading | None,
) -> tuple[BridgeView | None, str]:
    """The bridge to this week, or a sentence why there is none."""
    last_week = week_after(week_of(page.today), -1)
    if closed is None and week < last_week:
        return None, (
            f"This week was not closed, so nothing tells what {the_end()} was at its end. "
            "Any two of the weeks that were closed can be compared."
        )
    if closed is None and week > week_of(page.today):
        return None, ""
    picked = headings.by_id(since) if since else headings.before(label_of(week), closed)
    if picked is None:
        return None, (
            "There is nothing yet to hold this week against: no earlier week is closed, and "
            "there is no baseline. Close this week, or freeze the baseline below."
        )
    later = side_of(services, page, headings, TODAY)
    if closed is not None:
        later = side_of_snapshot(services, page, closed)
    assert later is not None
    earlier = side_of_snapshot(services, page, picked)
    baseline = headings.baseline_at(closed)
    start = None
    if not since and baseline not in (None, picked) and baseline.taken_at <= picked.taken_at:
        start = side_of_snapshot(services, page, baseline)
    return bridge_that_moved(page, earlier, later, start), ""


def _choices(
    page: PageContext,
    headings: Headings,
    closed: SnapshotHeading | None,
    since: str,
    week: IsoWeek,
) -> tuple[Choice, ...]:
    """Snapshots that the bridge may begin at, the last first."""
    picked = headings.by_id(since) if since else headings.before(label_of(week), closed)
    return tuple(
        Choice(
            value=str(one.id),
            words=heading_words(one, today=page.today),
            chosen=one == picked,
        )
        for one in reversed(headings.all)
        if one != closed
    )


def all_choices(page: PageContext, headings: Headings, chosen: str) -> tuple[Choice, ...]:
    """Every snapshot and today, for the comparison of any two."""
    today = Choice(value=TODAY, words="today", chosen=chosen == TODAY)
    return (
        today,
        *(
            Choice(
                value=str(one.id),
                words=heading_words(one, today=page.today),
                chosen=chosen == str(one.id),
            )
            for one in reversed(headings.all)
        ),
    )


# --- closing --------------------------------------------------------------------------------


def may_close(week: IsoWeek, today: dt.date) -> bool:
    """This week and the last one: what is kept is the build as it is."""
    this_week = week_of(today)
    return week in (this_week, week_after(this_week, -1))


def _closing(page: PageContext, week: IsoWeek, closed: SnapshotHeading | None) -> Closing | None:
    if closed is not None or not may_close(week, page.today):
        return None
    hint = "Keeps the build, the plan and the forecast as they are now."
    if page.clock is not None and page.frame.bench is not None:
        hint = (
            f"{page.frame.bench.task_name} is on the bench: stop it first, so that its hours "
            "count in this week."
        )
    elif page.faults:
        hint = "The build has faults: it is kept without a plan, and no bridge can begin here."
    elif week == week_of(page.today) and page.today.weekday() < 5:
        hint += " The week is not over yet; it can be closed only once."
    return Closing(address=addresses.close_week(page.slug, label_of(week)), hint=hint)


def _other(
    page: PageContext, label: str, closed: SnapshotHeading | None, *, is_frozen: bool
) -> Link | None:
    """The other way of looking at a closed week."""
    if closed is None:
        return None
    if is_frozen:
        return Link(
            name="With what was written down since",
            address=addresses.week_since_closed(page.slug, label),
        )
    return Link(name="As it was closed", address=addresses.week(page.slug, label))


def _closed_links(page: PageContext, headings: Headings) -> tuple[Link, ...]:
    closed = sorted(
        (one for one in headings.all if one.kind == "week"), key=lambda one: one.label, reverse=True
    )
    return tuple(
        Link(
            name=words.sentence(heading_words(one, today=page.today)),
            address=addresses.week(page.slug, one.label),
        )
        for one in closed[:CLOSED_SHOWN]
    )
