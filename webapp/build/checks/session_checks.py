"""Faults of sessions, whichever days they are of, of ranges of days, later shop weeks and what is
given away."""

from collections import defaultdict
from collections.abc import Iterable, Iterator

from webapp.build.build_input import Fault
from webapp.build.checks.fault_words import Thing
from webapp.build.limits import MOST_RANGE_DAYS
from webapp.build.shop import DayHours, DayRange, Shop, WeekSession
from webapp.build.time_units import DAY_MINUTES

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
WEEKDAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def by_weekday(week: Iterable[WeekSession]) -> list[tuple[int, list[DayHours]]]:
    """The sessions of each weekday that has any, Monday first."""
    found: defaultdict[int, list[DayHours]] = defaultdict(list)
    for session in week:
        found[session.weekday].append(session.hours)
    return sorted(found.items())


def day_span_faults(shop: Shop) -> Iterator[Fault]:
    """Every fault of the ranges of days and of the shop weeks with a first day."""
    told: set[object] = set()
    for later in shop.later_weeks:
        first = later.from_on.isoformat()
        thing = Thing(kind="shop", key=first, name=f"week from {first}")
        yield from thing.day_faults("later_weeks", "its first day", later.from_on)
        if later.from_on in told:
            yield thing.fault(
                "later_weeks", "another shop week has the same first day. Keep one of the two."
            )
        told.add(later.from_on)
        if not later.week:
            yield thing.fault(
                "later_weeks",
                "it has no hours. Enter at least one session; days on which the shop is closed "
                "are a range of days.",
            )
        for weekday, sessions in by_weekday(later.week):
            yield from session_faults(_weekday_of(thing, weekday), "later_weeks", sessions)
    yield from _range_faults(shop)
    yield from _given_faults(shop)


def _range_faults(shop: Shop) -> Iterator[Fault]:
    latest: DayRange | None = None
    for days in sorted(shop.ranges, key=lambda one: (one.first_on, one.last_on)):
        thing = _range_thing(days)
        yield from thing.text_faults("name", days.name)
        yield from thing.day_faults("ranges", "its first day", days.first_on)
        yield from thing.day_faults("ranges", "its last day", days.last_on)
        length = (days.last_on - days.first_on).days + 1
        if length < 1:
            yield thing.fault("ranges", "it ends before it begins. Correct one of the two days.")
            continue
        if length > MOST_RANGE_DAYS:
            yield thing.fault(
                "ranges",
                f"it is {length:,} days long, and {MOST_RANGE_DAYS} is the most. Correct a day; "
                "hours that last longer are a shop week with a first day.",
            )
        if latest is not None and days.first_on <= latest.last_on:
            yield thing.fault(
                "ranges",
                f"it overlaps the {_range_name(latest)}. Let one end before the other begins.",
            )
        if latest is None or days.last_on > latest.last_on:
            latest = days
        for weekday, sessions in by_weekday(days.week):
            yield from session_faults(_weekday_of(thing, weekday), "ranges", sessions)


def _given_faults(shop: Shop) -> Iterator[Fault]:
    for one in shop.given:
        first = one.first_on.isoformat()
        thing = Thing(kind="shop", key=first, name=f"session of another build on {first}")
        yield from thing.text_faults("given", one.belongs_to)
        yield from thing.day_faults("given", "its first day", one.first_on)
        if one.last_on is not None:
            yield from thing.day_faults("given", "its last day", one.last_on)
            if one.last_on < one.first_on:
                yield thing.fault("given", "it ends before it begins. Correct one of the two days.")
        hours = DayHours(opens_minute=one.opens_minute, closes_minute=one.closes_minute)
        yield from session_faults(thing, "given", [hours])


def _range_thing(days: DayRange) -> Thing:
    return Thing(kind="shop", key=days.first_on.isoformat(), name=_range_name(days))


def _range_name(days: DayRange) -> str:
    return f"range of days {days.first_on.isoformat()} to {days.last_on.isoformat()}"


def _weekday_of(thing: Thing, weekday: int) -> Thing:
    name = f"{thing.name}, {WEEKDAY_NAMES[weekday]}"
    return Thing(kind="shop", key=f"{thing.key} {WEEKDAYS[weekday]}", name=name)


def session_faults(thing: Thing, field: str, sessions: Iterable[DayHours]) -> Iterator[Fault]:
    latest: DayHours | None = None
    for hours in sorted(sessions, key=lambda hours: (hours.opens_minute, hours.closes_minute)):
        opens, closes = clock_words(hours.opens_minute), clock_words(hours.closes_minute)
        if not (0 <= hours.opens_minute <= DAY_MINUTES and 0 <= hours.closes_minute <= DAY_MINUTES):
            yield thing.fault(field, f"{opens} to {closes} is not within one day. Correct it.")
            continue
        if hours.closes_minute <= hours.opens_minute:
            yield thing.fault(field, _no_stretch(opens, closes))
            continue
        if latest is not None and hours.opens_minute < latest.closes_minute:
            yield thing.fault(
                field,
                f"the session {opens} to {closes} overlaps the session "
                f"{clock_words(latest.opens_minute)} to {clock_words(latest.closes_minute)}. "
                "Let one end before the other begins.",
            )
        if latest is None or hours.closes_minute > latest.closes_minute:
            latest = hours


def _no_stretch(opens: str, closes: str) -> str:
    if closes == "00:00":
        return f"it opens at {opens} and closes at 00:00. Write midnight at the end as 24:00."
    if closes == opens:
        return f"it opens and closes at {opens}. Correct one of the two, or take it out."
    return (
        f"it closes at {closes}, before it opens at {opens}. Correct the times. "
        "A session past midnight is entered as two: one to 24:00, one from 00:00 on the next day."
    )


def clock_words(minute: int) -> str:
    """Minutes after midnight as HH:MM; 1440 is 24:00."""
    return f"{minute // 60:02d}:{minute % 60:02d}"
