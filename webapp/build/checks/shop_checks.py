"""Faults of the shop: its people, week, day exceptions, setups and stations."""

from collections import Counter
from collections.abc import Iterable, Iterator

from webapp.build.build_input import BuildInput, DayHours, Fault, Shop
from webapp.build.checks.fault_words import Thing, shown
from webapp.build.limits import MOST_HOURS, MOST_OF_A_STATION, MOST_PEOPLE
from webapp.build.time_units import DAY_MINUTES

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
WEEKDAY_NAMES = (
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
)
THE_SHOP = Thing(kind="shop", key="")


def shop_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of the shop and of what can be got out in it."""
    shop = build.shop
    yield from THE_SHOP.number_faults(
        "people", "the number of people", shop.people, least=1, most=MOST_PEOPLE
    )
    if shop.setup_out is not None and shop.setup_out not in {s.key for s in shop.setups}:
        yield THE_SHOP.fault(
            "setup_out",
            f"the setup that is out, {shown(shop.setup_out)}, is not among the setups. "
            "Add it there, or say that nothing is out.",
        )
    yield from _week_faults(shop)
    yield from _day_exception_faults(shop)
    for number, setup in enumerate(shop.setups, start=1):
        thing = Thing(kind="setup", key=setup.key, name=setup.name, number=number)
        yield from thing.key_faults()
        yield from thing.text_faults("name", setup.name, required=True)
        yield from thing.number_faults(
            "hours", "the hours to set it up", setup.hours, most=MOST_HOURS
        )
    for number, station in enumerate(shop.stations, start=1):
        thing = Thing(kind="station", key=station.key, name=station.name, number=number)
        yield from thing.key_faults()
        yield from thing.text_faults("name", station.name, required=True)
        yield from thing.number_faults(
            "count", "how many there are", station.count, least=1, most=MOST_OF_A_STATION
        )


def _week_faults(shop: Shop) -> Iterator[Fault]:
    if not shop.week:
        yield THE_SHOP.fault(
            "week",
            "the shop week has no hours, so no work can be planned. "
            "Enter at least one session: a day, when it opens and when it closes.",
        )
    by_weekday: dict[int, list[DayHours]] = {}
    for session in shop.week:
        by_weekday.setdefault(session.weekday, []).append(session.hours)
    for weekday, sessions in sorted(by_weekday.items()):
        thing = Thing(kind="shop", key=WEEKDAYS[weekday], name=WEEKDAY_NAMES[weekday])
        yield from _session_faults(thing, "week", sessions)


def _day_exception_faults(shop: Shop) -> Iterator[Fault]:
    times_listed = Counter(day.date for day in shop.days)
    closed = {day.date for day in shop.days if not day.sessions}
    told: set[object] = set()
    for day in shop.days:
        date = day.date.isoformat()
        thing = Thing(kind="shop", key=date, name=date)
        yield from thing.day_faults("days", "the day", day.date)
        yield from _session_faults(thing, "days", day.sessions)
        if times_listed[day.date] == 1 or day.date in told:
            continue
        told.add(day.date)
        if day.date in closed:
            yield thing.fault("days", "the day is both closed and open. Keep one of the two.")
        else:
            yield thing.fault("days", "the day has two exceptions. Put its sessions into one.")


def _session_faults(thing: Thing, field: str, sessions: Iterable[DayHours]) -> Iterator[Fault]:
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
