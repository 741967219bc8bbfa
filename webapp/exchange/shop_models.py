"""What a build document says of the shop: open hours, setups, stations."""

from typing import Any

from pydantic import ConfigDict, Field

from webapp.exchange.document_entry import Entry
from webapp.exchange.document_entry import said as _said
from webapp.exchange.document_values import (
    ClockTime,
    Day,
    Hours,
    Key,
    KeyOrKeys,
    Name,
    PeopleThere,
    ShortText,
    StationCount,
    Weekday,
    YesNo,
)


class WeekEntry(Entry):
    """Open hours that come back every week, within one day."""

    day: Weekday
    opens: ClockTime
    closes: ClockTime
    helper: YesNo | None = _said("Whether the second pair of hands is there.", False)


def _closed_or_open(schema: dict[str, Any]) -> None:
    schema["oneOf"] = [
        {
            "required": ["closed"],
            "properties": {
                "closed": {"const": True},
                "opens": {"type": "null"},
                "closes": {"type": "null"},
            },
        },
        {
            "required": ["opens", "closes"],
            "properties": {
                "closed": {"enum": [False, None]},
                "opens": {"type": "string"},
                "closes": {"type": "string"},
            },
        },
    ]


class DayEntry(Entry):
    """Replaces the sessions of one date: closed, or one session. Several entries, several."""

    model_config = ConfigDict(json_schema_extra=_closed_or_open)

    date: Day
    closed: YesNo | None = _said("True where the shop is closed all day.", False)
    opens: ClockTime | None = None
    closes: ClockTime | None = None
    helper: YesNo | None = _said("Whether the second pair of hands is there.", False)


class LaterWeekEntry(Entry):
    """The shop week from a day on, in place of the one before it."""

    from_on: Day
    week: list[WeekEntry] | None = _said("Its sessions; at least one.", ())


class DayRangeEntry(Entry):
    """Replaces the shop week on the days from one to another, both included."""

    first_on: Day
    last_on: Day
    name: ShortText | None = _said("What it is called: holidays.", "")
    week: list[WeekEntry] | None = _said("Its weekly sessions; none: closed all the while.", ())


class GivenAwayEntry(Entry):
    """Sessions that belong to another build of the shop: those that overlap the stretch, weekly."""

    first_on: Day
    last_on: Day | None = _said("The last day that it may fall on; none: for ever.")
    opens: ClockTime
    closes: ClockTime
    belongs_to: Name
    after_first_start: YesNo | None = _said(
        "Only what is done after first start gives way to it.", False
    )


class SetupEntry(Entry):
    """A tool or station got ready for a kind of work."""

    key: Key
    name: Name
    hours: Hours = Field(description="Shop hours to get it out.")


class StationEntry(Entry):
    """Something there is a countable number of."""

    key: Key
    name: Name
    count: StationCount | None = _said("How many there are.", 1)


class ShopEntry(Entry):
    """When the shop is open, who works in it and what can be got out."""

    people: PeopleThere | None = _said("Builders who work in parallel.", 1)
    setup_out: KeyOrKeys | None = _said(
        "Key of the setup that is out at `now`, or a list of them, the one last used last: as many "
        "can be out as there are people."
    )
    week: list[WeekEntry] | None = _said("The shop week.", ())
    days: list[DayEntry] | None = _said("Day exceptions.", ())
    later_weeks: list[LaterWeekEntry] | None = _said("Shop weeks with a first day.", ())
    ranges: list[DayRangeEntry] | None = _said("Ranges of days: holidays, winter hours.", ())
    given: list[GivenAwayEntry] | None = _said("Sessions of other builds in the same shop.", ())
    setups: list[SetupEntry] | None = _said("What can be got out.", ())
    stations: list[StationEntry] | None = _said("What there is a countable number of.", ())
