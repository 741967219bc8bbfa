"""What would win a week: changes that are open to the person, each with what it does.

Each lever is a changed build (or a changed attendance), run through the same draws as the build
as it is. Worked out, never asked for.
"""

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from webapp.build.build_input import BuildInput, Part
from webapp.build.due_days import due_of
from webapp.build.moments import date_of
from webapp.build.money import had_done, offers_of
from webapp.build.precedence import needed_for
from webapp.build.shop import DayHours, WeekSession
from webapp.build.time.shop_weeks import Week, shop_week_on, week_hours, with_week_changed
from webapp.build.time_units import DAY_MINUTES
from webapp.planning.chances.factors import Attendance, Factors
from webapp.planning.chances.forecast import Forecast, forecast_of, forecasts_of
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.moves import Move, move_between
from webapp.planning.chances.wish_prices import without_tasks
from webapp.planning.order.order_that_holds import KeptOrder
from webapp.planning.simulator.simulate import slices

LEVER_DRAWS = 500
TRIED_AT_ONCE = 16
"""So many changes are drawn and run at once."""
WEEK_DAYS = 7
USUAL_EVENING = DayHours(opens_minute=18 * 60, closes_minute=21 * 60)
"""One more evening where the shop week has none to go by."""
HOUR_MINUTES = 60
WINS_DAYS = 0.05
"""What wins less than a tenth of a day when rounded wins nothing."""

LeverKind = Literal[
    "wish", "part", "outside", "offer", "order", "evening", "longer", "helper", "attendance"
]
COSTS_HOURS: frozenset[LeverKind] = frozenset(("evening", "longer", "helper", "attendance"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    """One thing that would bring first start earlier.

    `what` is the key of the wish, part or task, "" else; `session` is the one added, made longer
    or given a helper. `move` is that of first start, negative: earlier. `hours_a_week` are the
    person's (or for "helper" the helper's) that it asks for.
    """

    kind: LeverKind
    move: Move
    firm_at: dt.datetime
    what: str = ""
    session: WeekSession | None = None
    hours_a_week: float = 0.0

    @property
    def days_won(self) -> float:
        """Days by which first start comes earlier, 0.0 where that is nothing to tell."""
        return max(0.0, -self.move.days)

    @property
    def costs_hours(self) -> bool:
        """Whether it asks for hours of the shop."""
        return self.kind in COSTS_HOURS


@dataclass(frozen=True, slots=True, kw_only=True)
class _Change:
    """A lever before it is tried: the build and the factors with it."""

    kind: LeverKind
    build: BuildInput
    factors: Factors
    what: str = ""
    session: WeekSession | None = None
    hours_a_week: float = 0.0


def levers_of(
    build: BuildInput,
    factors: Factors,
    *,
    order: tuple[str, ...] = (),
    draws: int = LEVER_DRAWS,
) -> tuple[Lever, ...]:
    """Every lever that wins something, what costs no hours first, the largest first in each group.

    `order` is one of the tasks that might be followed instead, () for none. Empty where first
    start has no date. The build is faultless.
    """
    luck = Luck(draws)
    present = forecast_of(build, luck, factors=factors)
    if present is None:
        return ()
    levers = []
    changes = tuple(_changes(build, factors, order))
    for some in slices(len(changes), TRIED_AT_ONCE):
        found = (_tried(change, present, ends) for change, ends in _with_ends(changes[some], luck))
        levers += [one for one in found if one is not None and one.days_won >= WINS_DAYS]
    return tuple(sorted(levers, key=lambda lever: (lever.costs_hours, -lever.days_won)))


def _with_ends(
    changes: tuple[_Change, ...], luck: Luck
) -> Iterator[tuple[_Change, Forecast | None]]:
    asked = ((change.build, change.factors) for change in changes)
    yield from zip(changes, forecasts_of(asked, luck), strict=True)


def _tried(change: _Change, present: Forecast, ends: Forecast | None) -> Lever | None:
    if ends is None:
        return None
    return Lever(
        kind=change.kind,
        move=move_between(present.draws.wall, ends.draws.wall),
        firm_at=ends.at(change.build.confidence),
        what=change.what,
        session=change.session,
        hours_a_week=change.hours_a_week,
    )


def _changes(build: BuildInput, factors: Factors, order: tuple[str, ...]) -> Iterator[_Change]:
    for changes in (_wishes, _parts, _outside, _offers, _evening, _longer, _helper):
        yield from changes(build, factors)
    if order:
        kept = KeptOrder(keys=order).kept_in(build)
        yield _Change(kind="order", build=kept, factors=factors)
    if factors.attendance.mean < 1:
        promised = week_hours(_week_now(build))
        yield _Change(
            kind="attendance",
            build=build,
            factors=replace(factors, attendance=Attendance(mean=1.0, sd=0.0)),
            hours_a_week=promised * (1 - factors.attendance.mean),
        )


def _wishes(build: BuildInput, factors: Factors) -> Iterator[_Change]:
    """Each accepted wish fitted after first start: none of its work is before it then."""
    needed = _needed(build)
    for wish in build.wishes:
        own = {
            task.key
            for task in build.tasks
            if task.wish == wish.key
            and task.key in needed
            and task.is_open
            and task.begun_on is None
        }
        if own:
            changed = without_tasks(build, own)
            yield _Change(kind="wish", build=changed, factors=factors, what=wish.key)


def _parts(build: BuildInput, factors: Factors) -> Iterator[_Change]:
    """Each part that is waited for a week earlier."""
    needed = _needed(build)
    for part in build.parts:
        due = _due(part, build.now.date())
        if due is None or due <= build.now.date() or not set(part.serves) & needed:
            continue
        sooner = max(build.now.date(), due - dt.timedelta(days=WEEK_DAYS))
        parts = tuple(
            replace(one, arrives_on=sooner) if one is part else one for one in build.parts
        )
        yield _Change(
            kind="part", build=replace(build, parts=parts), factors=factors, what=part.key
        )


def _outside(build: BuildInput, factors: Factors) -> Iterator[_Change]:
    """Each piece of outside work a week quicker."""
    needed = _needed(build)
    for task in build.tasks:
        if task.is_open and task.outside_days and task.key in needed:
            quicker = replace(task, outside_days=max(0.0, task.outside_days - WEEK_DAYS))
            tasks = tuple(quicker if one is task else one for one in build.tasks)
            yield _Change(
                kind="outside", build=replace(build, tasks=tasks), factors=factors, what=task.key
            )


def _offers(build: BuildInput, factors: Factors) -> Iterator[_Change]:
    """Each piece of work that somebody else would do, done by them: no hands, so many days."""
    needed = _needed(build)
    for offer in offers_of(build):
        if offer.task not in needed:
            continue
        tasks = tuple(had_done(one) if one.key == offer.task else one for one in build.tasks)
        yield _Change(
            kind="offer", build=replace(build, tasks=tasks), factors=factors, what=offer.task
        )


def _evening(build: BuildInput, factors: Factors) -> Iterator[_Change]:
    """One more evening, on the first day of the week without a session."""
    week = _week_now(build)
    free = sorted(set(range(WEEK_DAYS)) - {session.weekday for session in week})
    if not free:
        return
    evenings = [one.hours for one in week if one.weekday < 5] or [one.hours for one in week]
    usual = min(evenings, key=_minutes, default=USUAL_EVENING)
    session = WeekSession(weekday=free[0], hours=replace(usual, helper=False))
    yield _Change(
        kind="evening",
        build=_with_week(build, lambda week: _with_session(week, session)),
        factors=factors,
        session=session,
        hours_a_week=_minutes(usual) / 60,
    )


def _longer(build: BuildInput, factors: Factors) -> Iterator[_Change]:
    """An hour more at the end of the first session that has room for it."""
    week = _week_now(build)
    for place in range(len(week)):
        longer = with_minutes(week, place, HOUR_MINUTES)
        if longer is not None:
            changed = _with_week(build, _longer_in(week[place]))
            yield _Change(
                kind="longer", build=changed, factors=factors, session=longer, hours_a_week=1.0
            )
            return


def _helper(build: BuildInput, factors: Factors) -> Iterator[_Change]:
    """The helper on one more day, where work waits for one."""
    needed = _needed(build)
    if not any(task.helper and task.is_open and task.key in needed for task in build.tasks):
        return
    week = _week_now(build)
    helped = {session.weekday for session in week if session.hours.helper}
    for session in week:
        if session.weekday not in helped:
            with_helper = replace(session, hours=replace(session.hours, helper=True))
            yield _Change(
                kind="helper",
                build=_with_week(build, _exchanged(session, with_helper)),
                factors=factors,
                session=with_helper,
                hours_a_week=_minutes(session.hours) / 60,
            )
            return


def with_minutes(week: tuple[WeekSession, ...], place: int, minutes: int) -> WeekSession | None:
    """The session at a place, longer by so many minutes; None where the next thing begins before.

    A day ends at 24:00.
    """
    session = week[place]
    closes = session.hours.closes_minute + minutes
    later = [
        other.hours.opens_minute
        for other in week
        if other.weekday == session.weekday
        and other.hours.opens_minute >= session.hours.closes_minute
        and other is not session
    ]
    if closes > min(later, default=DAY_MINUTES):
        return None
    return replace(session, hours=replace(session.hours, closes_minute=closes))


def _week_now(build: BuildInput) -> Week:
    return shop_week_on(build.shop, build.now.date())


def _with_week(build: BuildInput, change: Callable[[Week], Week | None]) -> BuildInput:
    """The build with its shop week, and every later one, changed from today on."""
    shop = with_week_changed(build.shop, build.now.date(), change)
    return replace(build, shop=shop)


def _with_session(week: Week, session: WeekSession) -> Week | None:
    """The week with one session more; None where that day has one already."""
    is_free = all(other.weekday != session.weekday for other in week)
    return (*week, session) if is_free else None


def _longer_in(session: WeekSession) -> Callable[[Week], Week | None]:
    """Makes this session an hour longer in a week that has it and has room for that."""

    def change(week: Week) -> Week | None:
        if session not in week:
            return None
        longer = with_minutes(week, week.index(session), HOUR_MINUTES)
        return None if longer is None else _exchanged(session, longer)(week)

    return change


def _exchanged(session: WeekSession, other: WeekSession) -> Callable[[Week], Week | None]:
    """Puts another session in the place of this one in a week that has it."""

    def change(week: Week) -> Week | None:
        if session not in week:
            return None
        place = week.index(session)
        return (*week[:place], other, *week[place + 1 :])

    return change


def _minutes(hours: DayHours) -> int:
    return hours.closes_minute - hours.opens_minute


def _needed(build: BuildInput) -> frozenset[str]:
    return needed_for(build, build.first_start) if build.first_start else frozenset()


def _due(part: Part, today: dt.date) -> dt.date | None:
    """The day a part is reckoned to come on, None where it is here or has none."""
    due = None if part.arrived else due_of(part, today)
    return None if due is None else date_of(due.on)
