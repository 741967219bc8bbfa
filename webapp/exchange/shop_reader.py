"""Reads the shop of a build document: its week, day exceptions, setups and stations."""

import datetime as dt
from collections.abc import Iterator, Mapping
from typing import TypeVar

from pydantic import BaseModel

from webapp.build.build_input import (
    DayException,
    DayHours,
    Fault,
    Setup,
    Shop,
    Station,
    WeekSession,
)
from webapp.build.checks.fault_words import Thing, shown
from webapp.build.checks.shop_checks import THE_SHOP
from webapp.build.limits import MOST_OF_A_STATION, MOST_PEOPLE
from webapp.exchange import document_models as models
from webapp.exchange.entry_reader import Fields, read_entry, read_list, thing_of

AnyEntry = TypeVar("AnyEntry", bound=BaseModel)


def read_shop(raw: Fields, faults: list[Fault], unread: set[str]) -> Shop:
    """The shop; `unread` gets the names of lists of which not all could be read."""
    return _ShopReader(raw, faults, unread).shop()


class _ShopReader:
    """Goes through one shop, adding to the reader's faults."""

    def __init__(self, raw: Fields, faults: list[Fault], unread: set[str]) -> None:
        self.raw = raw
        self.faults = faults
        self.unread = unread

    def shop(self) -> Shop:
        fields = {
            name: value
            for name, value in self.raw.items()
            if name in models.ShopHead.model_fields or name not in models.ShopEntry.model_fields
        }
        # Where the number is refused, enough people that no task seems to ask for too many.
        head = read_entry(
            models.ShopHead,
            fields,
            THE_SHOP,
            self.faults,
            stand_ins={"people": MOST_PEOPLE},
            known=models.ShopEntry,
        )
        people = None if head is None else head.people
        return Shop(
            people=1 if people is None else people,
            setup_out=None if head is None else head.setup_out,
            week=tuple(self._week()),
            days=self._days(),
            setups=tuple(
                Setup(key=entry.key, name=entry.name, hours=entry.hours)
                for _, entry in self._entries(
                    "setups", "setup", models.SetupEntry, {"key": "", "name": "", "hours": 0}
                )
            ),
            stations=tuple(
                Station(
                    key=entry.key,
                    name=entry.name,
                    count=1 if entry.count is None else entry.count,
                )
                for _, entry in self._entries(
                    "stations",
                    "station",
                    models.StationEntry,
                    {"key": "", "name": "", "count": MOST_OF_A_STATION},
                )
            ),
        )

    def _week(self) -> Iterator[WeekSession]:
        for _, entry in self._entries("week", "shop", models.WeekEntry, {}, "week, session"):
            yield WeekSession(
                weekday=entry.day,
                hours=DayHours(
                    opens_minute=entry.opens,
                    closes_minute=entry.closes,
                    helper=bool(entry.helper),
                ),
            )

    def _days(self) -> tuple[DayException, ...]:
        """One exception for each date; one more where a date is closed and open at once."""
        sessions: dict[tuple[dt.date, bool], list[DayHours]] = {}
        for thing, entry in self._entries("days", "shop", models.DayEntry, {}, "day exception"):
            if entry.closed:
                sessions.setdefault((entry.date, True), [])
            if entry.opens is not None and entry.closes is not None:
                hours = DayHours(
                    opens_minute=entry.opens,
                    closes_minute=entry.closes,
                    helper=bool(entry.helper),
                )
                sessions.setdefault((entry.date, False), []).append(hours)
            elif not entry.closed or entry.opens is not None or entry.closes is not None:
                self.faults.append(
                    thing.fault(
                        "days", 'it needs "opens" and "closes", or "closed": true. Add them.'
                    )
                )
                self.unread.add("days")
        return tuple(
            DayException(date=date, sessions=tuple(hours)) for (date, _), hours in sessions.items()
        )

    def _entries(
        self,
        field: str,
        kind: str,
        model: type[AnyEntry],
        stand_ins: Mapping[str, object],
        called: str = "",
    ) -> Iterator[tuple[Thing, AnyEntry]]:
        """The entries of one list; `called` names those that have neither name nor key."""
        for position, raw in read_list(self.raw, field, THE_SHOP, self.faults, self.unread):
            thing = thing_of(kind, raw, position)
            if called:
                thing = _unnamed(called, raw, position)
            entry = read_entry(
                model,
                raw,
                thing,
                self.faults,
                stand_ins=stand_ins,
                spot=field if called else None,
            )
            if entry is None:
                self.unread.add(field)
            else:
                yield thing, entry


def _unnamed(called: str, raw: Fields, position: int) -> Thing:
    """A session or day exception by its day, or by its place in the list."""
    day = raw.get("day", raw.get("date"))
    words = shown(day) if isinstance(day, str) else "without a day"
    return Thing(kind="shop", key="", name=f"{called} {position}, {words}")
