"""The bridge between two frozen builds, or one and today: worked out beside the pages, kept."""

import datetime as dt
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput, LogEntry
from webapp.build.time_units import DAY_MINUTES
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.bridge import (
    CAUSE_NAMES,
    days_late_words,
    item_name,
    no_answer_words,
    order_words,
    sentence_of,
)
from webapp.pages.words.how import How, bridge_how
from webapp.pages.words.snapshots import heading_words, unreadable_words
from webapp.pages.words.the_end import the_end
from webapp.pictures.bridge import BridgePicture, BridgeStep, bridge_picture
from webapp.planning.bridge.bridge import (
    Bridge,
    CauseShare,
    bridge,
)
from webapp.planning.bridge.items import BridgeItem
from webapp.services.background import PRESSING, Answer
from webapp.services.forecast_figures import pace_shown
from webapp.services.frozen import Headings
from webapp.services.program import Services
from webapp.services.snapshots import frozen_build
from webapp.storage.snapshots import SnapshotHeading

TODAY = "today"
"""Stands for the build as it is, where a snapshot is named by its number."""
CAUSE_ADVICE = {
    "scope": "work that was added to the plan, less what was dropped",
    "estimates": "work that took longer than thought, or is thought to",
    "shop_time": "hours that the shop was promised and not worked, and changes of the shop week",
    "parts": "parts and outside work that come later",
    "order": "what the other causes do not explain",
    "record": (
        "the pace your own record gives now, against that of then; it reckons with hours that are"
        " lost now and then, so what of a loss it had reckoned with comes back here"
    ),
}
SHOWN_ITEMS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One end of the bridge: how it is named in an address and in words, and its build."""

    name: str
    words: str
    build: BuildInput | None
    version: object
    obstacle: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemLine:
    name: str
    address: str
    hours: str
    amount: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseLine:
    name: str
    advice: str
    amount: str
    items: tuple[ItemLine, ...]
    more: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgeView:
    """A bridge in strings, or (`said`) why there is none, or (`working`) that it is coming.

    `unmoved` says since when nothing has moved, where the bridge is told from before that. Below
    its sentence how it splits is `folded` away, or shown.
    """

    earlier: str
    later: str
    address: str
    compare_address: str
    working: bool = False
    said: str = ""
    unmoved: str = ""
    folded: bool = False
    sentence: str = ""
    total: str = ""
    causes: tuple[CauseLine, ...] = ()
    pictures: tuple[BridgePicture, ...] = ()
    how: How | None = None


def side_of(services: Services, page: PageContext, headings: Headings, name: str) -> Side | None:
    """The end of a bridge that a name stands for; None where there is no such snapshot."""
    if name == TODAY:
        obstacle = "The build has faults; mend them first." if page.faults else ""
        return Side(
            name=TODAY,
            words="today",
            build=_with_clock_logged(page),
            version=page.planned.version,
            obstacle=obstacle,
        )
    heading = headings.by_id(name)
    return None if heading is None else side_of_snapshot(services, page, heading)


def side_of_snapshot(services: Services, page: PageContext, heading: SnapshotHeading) -> Side:
    frozen = frozen_build(services, page.slug, heading)
    obstacle = ""
    if frozen is None or frozen.build is None:
        obstacle = (
            unreadable_words(heading, frozen.first_fault, today=page.today)
            if frozen
            else "It is gone."
        )
    elif not frozen.is_sound:
        obstacle = (
            f"{words.sentence(heading_words(heading, today=page.today))}, has faults, so that "
            f"nothing can be replayed from it: {frozen.first_fault}"
        )
    return Side(
        name=str(heading.id),
        words=heading_words(heading, today=page.today),
        build=frozen.build if frozen else None,
        version=(heading.id, heading.taken_at),
        obstacle=obstacle,
    )


def _with_clock_logged(page: PageContext) -> BuildInput:
    """The build as it is planned, with what the running clock says in its log as well."""
    build, clock = page.planned.planned_input, page.clock
    if clock is None or clock.since >= page.now:
        return build
    task = next((t for t in build.tasks if t.key == clock.task and t.is_open), None)
    if task is None:
        return build
    worked = (page.now - clock.since).total_seconds() / 3600
    entry = LogEntry(task=task.key, on=clock.since.date(), hours=worked, left=task.hours_left)
    return replace(build, log=(*build.log, entry))


def bridge_that_moved(
    page: PageContext, earlier: Side, later: Side, start: Side | None, *, folded: bool = True
) -> BridgeView:
    """The bridge since `earlier`; where nothing moved first start since then, that since `start`.

    So the page tells where the time went also on the morning after a week was closed.
    """
    view = bridge_view(page, earlier, later, folded=folded)
    if start is None or view.pictures or view.said:
        return view
    if view.working:
        address = addresses.week_bridge(
            page.slug, earlier.name, later.name, start.name, folded=folded
        )
        return replace(view, address=address)
    unmoved = f"Nothing has moved {the_end()} since {earlier.words}. Since {start.words}:"
    return replace(bridge_view(page, start, later, folded=folded), unmoved=unmoved)


def bridge_view(
    page: PageContext, earlier: Side, later: Side, *, folded: bool = False
) -> BridgeView:
    """The bridge between two ends if it is at hand, else it is begun."""
    view = BridgeView(
        earlier=earlier.words,
        later=later.words,
        address=addresses.week_bridge(page.slug, earlier.name, later.name, folded=folded),
        folded=folded,
        compare_address=addresses.compare(page.slug, earlier.name, later.name),
    )
    answer = bridge_answer(page, earlier, later)
    if answer is None:
        return replace(view, said=earlier.obstacle or later.obstacle)
    if not answer.ready:
        return replace(view, working=True)
    way = answer.value
    if way is None:
        return replace(view, said="The bridge could not be worked out. Nothing is lost by that.")
    if way.move_minutes is None:
        return replace(view, said=no_answer_words(way))
    return replace(
        view,
        sentence=sentence_of(way),
        total=_amount(way.move_minutes),
        causes=tuple(_cause_line(page, share) for share in way.shares),
        pictures=_pictures(way, today=page.today),
        how=bridge_how(
            [f"{CAUSE_NAMES[one.cause]} {_amount(one.minutes)}" for one in way.shares],
            _amount(way.move_minutes),
        ),
    )


def bridge_answer(page: PageContext, earlier: Side, later: Side) -> Answer[Bridge] | None:
    """The bridge itself if it is at hand, else it is begun; None where an end has no build."""
    begins, ends = earlier.build, later.build
    if begins is None or ends is None or earlier.obstacle or later.obstacle:
        return None
    return page.planned.background.ask(
        (page.slug, "bridge", earlier.name, later.name),
        (earlier.version, later.version),
        lambda: bridge(
            begins,
            ends,
            earlier_pace=pace_shown(begins, last=page.planned.factor),
            later_pace=pace_shown(ends, last=page.planned.factor),
        ),
        now=page.now,
        rank=PRESSING,
    )


def _pictures(way: Bridge, *, today: dt.date) -> tuple[BridgePicture, ...]:
    if way.from_at is None or way.to_at is None or not any(s.minutes for s in way.shares):
        return ()
    steps = [
        BridgeStep(
            name=words.sentence(CAUSE_NAMES[share.cause]),
            minutes=share.minutes,
            words=_amount(share.minutes),
        )
        for share in way.shares
    ]
    begins, ends = (words.day(at, today=today) for at in (way.from_at, way.to_at))
    return tuple(
        bridge_picture(steps, begins=begins, ends=ends, upright=upright)
        for upright in (False, True)
    )


def _amount(minutes: int) -> str:
    """A share in days, in hours where it is under half a day: "+2.5 days"."""
    if minutes == 0:
        return "nothing"
    if abs(minutes) >= DAY_MINUTES // 2:
        return words.days_move(minutes / DAY_MINUTES)
    sign = "+" if minutes > 0 else ""
    if abs(minutes) < 60:
        return f"{sign}{words.number(minutes)} min"
    return f"{sign}{words.tenth_hours(minutes / 60)}"


def _cause_line(page: PageContext, share: CauseShare) -> CauseLine:
    moved = [item for item in share.items if item.minutes]
    shown, rest = moved[:SHOWN_ITEMS], moved[SHOWN_ITEMS:]
    told = []
    if rest:
        told.append(f"… and {len(rest)} more, together {_amount(sum(i.minutes for i in rest))}.")
    if still := [_item_line(page, item) for item in share.items if not item.minutes]:
        told.append(f"Without moving it: {words.listed([_in_short(item) for item in still])}.")
    return CauseLine(
        name=words.sentence(CAUSE_NAMES[share.cause]),
        advice=CAUSE_ADVICE[share.cause],
        amount=_amount(share.minutes),
        items=tuple(_item_line(page, item) for item in shown),
        more=" ".join(told),
        words=order_words(share.order) if share.order is not None else "",
    )


def _item_line(page: PageContext, item: BridgeItem) -> ItemLine:
    name = item_name(item)
    if item.kind == "day":
        name = words.day(dt.date.fromisoformat(item.key), today=page.today)
    hours = f"{'+' if item.hours > 0 else ''}{words.tenth_hours(item.hours)}" if item.hours else ""
    if item.days_late:
        hours = days_late_words(item.days_late)
    return ItemLine(
        name=name,
        address=_item_address(page, item),
        hours=hours,
        amount=_amount(item.minutes),
    )


def _in_short(item: ItemLine) -> str:
    """ "Battery (5 days late)"."""
    return f"{item.name} ({item.hours})" if item.hours else item.name


def _item_address(page: PageContext, item: BridgeItem) -> str:
    """Where the thing behind an item can be looked at, "" where it is in the build no more."""
    build, slug = page.build, page.slug
    if item.kind == "task" and any(task.key == item.key for task in build.tasks):
        return addresses.task(slug, item.key)
    if item.kind == "wish" and any(wish.key == item.key for wish in build.wishes):
        return addresses.wish_at(slug, item.key)
    if item.kind == "part" and any(part.key == item.key for part in build.parts):
        return addresses.part(slug, item.key)
    return ""
