"""The forms of the shop about days to come: shop weeks with a first day, ranges of days."""

import datetime as dt
from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.edited import Edited
from webapp.build.shop import DayRange, LaterWeek, WeekSession
from webapp.build.time.shop_weeks import lasting_week
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import parse_date
from webapp.pages.shop.hours_forms import WEEKDAY_KEYS, read_week, show_week

GONE = "What this form was opened for was taken out meanwhile. Leave the page and open it anew."


def later_of(build: BuildInput, form: TypedForm) -> LaterWeek | None:
    """The shop week that a posted form is about; None: a new one."""
    return later_from(build, parse_date(form.typed("of")))


def later_from(build: BuildInput, first: dt.date | None) -> LaterWeek | None:
    return next((one for one in build.shop.later_weeks if one.from_on == first), None)


def later_shown(build: BuildInput, later: LaterWeek | None = None) -> Shown:
    """The form of a shop week with a first day; a new one begins with the hours that last."""
    fields = Shown().date("from_on", later.from_on if later else None)
    fields.text("of", later.from_on.isoformat() if later else "")
    return show_week(fields, later.week if later else lasting_week(build.shop))


def edit_later(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with these hours from a day on; weeks before it stay as they were."""
    stored = later_of(build, form)
    first = form.date("from_on", "The first day", needed=True)
    week = read_week(form)
    if first is None or form.faults:
        return build
    later = LaterWeek(from_on=first, week=_as_stored(stored.week if stored else (), week))
    if later == stored:
        return build
    others = (one for one in build.shop.later_weeks if one is not stored)
    weeks = sorted((*others, later), key=lambda one: one.from_on)
    return replace(build, shop=replace(build.shop, later_weeks=tuple(weeks)))


def place_of_later_fault(form: TypedForm, fault: Fault) -> str:
    """Which field of the form a fault of the build belongs to."""
    if fault.kind != "shop" or fault.field != "later_weeks":
        return ""
    return _place(form, fault, first="from_on", whole="from_on")


def take_later_out(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The shop week before it goes on in the place of the one in the form."""
    gone = later_of(build, form)
    later = tuple(one for one in build.shop.later_weeks if one is not gone)
    return Edited(build=replace(build, shop=replace(build.shop, later_weeks=later)), made=None)


def _as_stored(
    stored: tuple[WeekSession, ...], typed: tuple[WeekSession, ...]
) -> tuple[WeekSession, ...]:
    """The hours as typed; as stored, where they are the same in another order."""
    return stored if set(stored) == set(typed) and len(stored) == len(typed) else typed


# ranges of days -----------------------------------------------------------------------------
def range_of(build: BuildInput, form: TypedForm) -> DayRange | None:
    """The range of days that a posted form is about; None: a new one."""
    return range_from(build, parse_date(form.typed("of")))


def range_from(build: BuildInput, first: dt.date | None) -> DayRange | None:
    return next((one for one in build.shop.ranges if one.first_on == first), None)


def range_shown(_build: BuildInput, days: DayRange | None = None) -> Shown:
    """The form of a range of days; a new one is closed, for most are holidays."""
    fields = Shown().date("first_on", days.first_on if days else None)
    fields.date("last_on", days.last_on if days else None)
    fields.text("name", days.name if days else "")
    fields.text("of", days.first_on.isoformat() if days else "")
    fields.tick("closed", days is None or not days.week)
    return show_week(fields, days.week if days else ())


def edit_range(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with these days closed or at weekly hours of their own."""
    stored = range_of(build, form)
    first = form.date("first_on", "The first day", needed=True)
    last = form.date("last_on", "The last day", needed=True)
    name = form.text("name", "The name")
    week = read_week(form)
    if form.ticked("closed") and week:
        form.fault(
            "closed",
            "The days are ticked as closed, and hours are typed for them. Untick them, or empty "
            "the hours.",
        )
    elif not form.ticked("closed") and not week and not form.faults:
        form.fault("closed", "Tick “closed all the while”, or type the hours of these days.")
    if first is None or last is None or form.faults:
        return build
    week = _as_stored(stored.week if stored else (), week)
    days = DayRange(first_on=first, last_on=last, name=name, week=week)
    if days == stored:
        return build
    others = (one for one in build.shop.ranges if one is not stored)
    ranges = tuple(sorted((*others, days), key=lambda one: one.first_on))
    return replace(build, shop=replace(build.shop, ranges=ranges))


def place_of_range_fault(form: TypedForm, fault: Fault) -> str:
    """Which field of the form a fault of the build belongs to."""
    if fault.kind != "shop" or fault.field not in ("ranges", "name"):
        return ""
    whole = "name" if fault.field == "name" else "last_on"
    return _place(form, fault, first="first_on", whole=whole)


def take_range_out(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The days of the range in the form have the shop week's hours again."""
    gone = range_of(build, form)
    ranges = tuple(one for one in build.shop.ranges if one is not gone)
    return Edited(build=replace(build, shop=replace(build.shop, ranges=ranges)), made=None)


def _place(form: TypedForm, fault: Fault, *, first: str, whole: str) -> str:
    """The field of a fault of what begins on the typed first day: a weekday's, else `whole`."""
    date = parse_date(form.typed(first).strip())
    key, _, weekday = fault.key.partition(" ")
    if date is None or key != date.isoformat():
        return ""
    return f"opens-{WEEKDAY_KEYS.index(weekday)}-0" if weekday in WEEKDAY_KEYS else whole
