"""The rooms of the shop: one address each, with the forms that stand in it."""

from collections.abc import Mapping
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_weeks import shop_week_on, week_hours
from webapp.pages import addresses
from webapp.pages.words import amounts as words
from webapp.pages.words.units import UNITS_WORDS


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """One room: its name in the address, the forms in it, the anchor it had on the old page.

    `exports`: the build is exported there; `devices`: it says who is let in.
    """

    name: str
    title: str
    forms: tuple[str, ...] = ()
    anchor: str = ""
    exports: bool = False
    devices: bool = False

    @property
    def template(self) -> str:
        return f"shop/{self.name}.html"


FIRST = Room(name="week", title="When am I in the shop?", forms=("week", "day"))
LATER = Room(name="later", title="Later hours and holidays", forms=("later", "range"))
SHARING = Room(name="sharing", title="Evenings between builds")
ROOMS = (
    FIRST,
    LATER,
    SHARING,
    Room(name="people", title="People and the helper", forms=("people",), anchor="t-hands"),
    Room(
        name="setups",
        title="Setups and stations",
        forms=("out", "setups", "stations"),
        anchor="t-setups",
    ),
    Room(name="subsystems", title="Subsystems", forms=("subsystems",), anchor="t-subsystems"),
    Room(name="units", title="Units", forms=("units",)),
    Room(name="build", title="The build", forms=("facts",), anchor="t-facts"),
    Room(name="copies", title="Export, import and the baseline", exports=True),
    Room(name="network", title="Phones and other devices", devices=True),
)
ROOM_OF_FORM: Mapping[str, Room] = {form: room for room in ROOMS for form in room.forms}


def room_called(name: str) -> Room | None:
    """The room with this name; where a form is named, the room that it stands in."""
    named = next((room for room in ROOMS if room.name == name), None)
    return named or ROOM_OF_FORM.get(name)


def address_of(slug: str, room: Room) -> str:
    return addresses.shop(slug, "" if room is FIRST else room.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomLink:
    """A room in the list of them, with what is in it."""

    title: str
    address: str
    note: str
    anchor: str
    is_here: bool


def room_links(build: BuildInput, slug: str, here: Room) -> tuple[RoomLink, ...]:
    """All rooms, each with what there is in it now."""
    return tuple(
        RoomLink(
            title="Shop week" if room is FIRST else room.title,
            address=address_of(slug, room),
            note=_note(build, room),
            # On the first room an old link to a section leads to the room that it became.
            anchor=room.anchor if here is FIRST else "",
            is_here=room is here,
        )
        for room in ROOMS
    )


def _note(build: BuildInput, room: Room) -> str:
    shop = build.shop
    if room is FIRST:
        hours = words.hours(week_hours(shop_week_on(shop, build.now.date())))
        return f"{hours} a week, and the days that are different"
    if room.name == "later":
        weeks = words.count(len(shop.later_weeks), "shop week")
        return f"{weeks} from a day on, {words.count(len(shop.ranges), 'range')} of days"
    if room.name == "people":
        week = shop_week_on(shop, build.now.date())
        helper = any(session.hours.helper for session in week)
        who = words.count(shop.people, "person", "people")
        return f"{who}, {'with' if helper else 'no'} helper sessions"
    if room.name == "setups":
        out = [setup.name for setup in shop.setups if setup.key in shop.setups_out]
        parts = [words.count(len(shop.setups), "setup"), words.count(len(shop.stations), "station")]
        return ", ".join([*parts, *([f"{words.listed(out)} now"] if out else [])])
    if room.name == "subsystems":
        return f"{words.count(len(build.subsystems), 'subsystem')} in working order"
    if room.name == "units":
        return UNITS_WORDS[build.units]
    if room.name == "build":
        return "name, vehicle, dates, what the end is"
    if room is SHARING:
        return "whose each session is, where several builds have the same hours"
    if room.devices:
        return "the same builds on a phone at the bench"
    return "the build document, a list from a spreadsheet"
