"""Faults of the shop: its people, week, day exceptions, setups and stations."""

from collections import Counter
from collections.abc import Iterator

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.fault_words import Thing, shown
from webapp.build.checks.session_checks import (
    WEEKDAY_NAMES,
    WEEKDAYS,
    by_weekday,
    day_span_faults,
    session_faults,
)
from webapp.build.limits import MOST_HOURS, MOST_OF_A_STATION, MOST_PEOPLE
from webapp.build.shop import Shop

THE_SHOP = Thing(kind="shop", key="")


def shop_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of the shop and of what can be got out in it."""
    shop = build.shop
    yield from THE_SHOP.number_faults(
        "people", "the number of people", shop.people, least=1, most=MOST_PEOPLE
    )
    yield from _setups_out_faults(shop)
    yield from _week_faults(shop)
    yield from _day_exception_faults(shop)
    yield from day_span_faults(shop)
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


def _setups_out_faults(shop: Shop) -> Iterator[Fault]:
    known = {setup.key for setup in shop.setups}
    for key in shop.setups_out:
        if key not in known:
            yield THE_SHOP.fault(
                "setup_out",
                f"the setup that is out, {shown(key)}, is not among the setups. "
                "Add it there, or say that nothing is out.",
            )
    for key, times in Counter(shop.setups_out).items():
        if times > 1:
            yield THE_SHOP.fault(
                "setup_out",
                f"the setup {shown(key)} is out {times} times, and there is one of it. "
                "Name it once.",
            )
    if 1 <= shop.people < len(shop.setups_out):
        people = "1 person" if shop.people == 1 else f"{shop.people} people"
        yield THE_SHOP.fault(
            "setup_out",
            f"{len(shop.setups_out)} setups are out, and the shop has {people}: as many can be "
            "out at once as there are people. Leave those out that were put away, or enter more "
            "people.",
        )


def _week_faults(shop: Shop) -> Iterator[Fault]:
    if not shop.week:
        yield THE_SHOP.fault(
            "week",
            "the shop week has no hours, so no work can be planned. "
            "Enter at least one session: a day, when it opens and when it closes.",
        )
    for weekday, sessions in by_weekday(shop.week):
        thing = Thing(kind="shop", key=WEEKDAYS[weekday], name=WEEKDAY_NAMES[weekday])
        yield from session_faults(thing, "week", sessions)


def _day_exception_faults(shop: Shop) -> Iterator[Fault]:
    times_listed = Counter(day.date for day in shop.days)
    closed = {day.date for day in shop.days if not day.sessions}
    told: set[object] = set()
    for day in shop.days:
        date = day.date.isoformat()
        thing = Thing(kind="shop", key=date, name=date)
        yield from thing.day_faults("days", "the day", day.date)
        yield from session_faults(thing, "days", day.sessions)
        if times_listed[day.date] == 1 or day.date in told:
            continue
        told.add(day.date)
        if day.date in closed:
            yield thing.fault("days", "the day is both closed and open. Keep one of the two.")
        else:
            yield thing.fault("days", "the day has two exceptions. Put its sessions into one.")
