"""The forms of the shop page about time: the shop week and the day exceptions."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.edited import Edited
from webapp.build.shop import DayException, DayHours, WeekSession
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import day_minute_text
from webapp.pages.words import amounts as words

BLANK_SESSIONS = 1
DAY_SESSIONS = 3
"""So many sessions of one date the form of a day exception has rows for, if it has not more."""
WEEKDAY_KEYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
SATURDAY, SUNDAY = 5, 6
_EVENING = DayHours(opens_minute=18 * 60 + 30, closes_minute=21 * 60 + 30)
_SATURDAY = DayHours(opens_minute=9 * 60, closes_minute=17 * 60)
OFFERED_WEEK = (
    WeekSession(weekday=1, hours=_EVENING),
    WeekSession(weekday=3, hours=_EVENING),
    WeekSession(weekday=SATURDAY, hours=_SATURDAY),
)
"""A shop week to begin with: two evenings and the Saturday. A guess, to be changed."""


WEEK_ROWS = tuple(
    Rows(stems=(f"opens-{day}", f"closes-{day}", f"helper-{day}"), identity=f"opens-{day}")
    for day in range(7)
)
"""The sessions of each day; no two of them open at the same time."""


def week_shown(build: BuildInput) -> Shown:
    """The form of the shop week as it is opened: rows D-N, D the weekday."""
    return show_week(Shown(), build.shop.week)


def show_week(fields: Shown, week: Sequence[WeekSession]) -> Shown:
    """The fields with the sessions of each day of a week, and room for one more."""
    for weekday in range(7):
        sessions = [each.hours for each in week if each.weekday == weekday]
        sessions.sort(key=lambda hours: hours.opens_minute)
        _show_sessions(fields, f"-{weekday}", sessions, len(sessions) + BLANK_SESSIONS)
    return fields


def _show_sessions(fields: Shown, suffix: str, sessions: Sequence[DayHours], rows: int) -> None:
    for number in range(rows):
        hours = sessions[number] if number < len(sessions) else None
        if hours is None:
            fields.blank(f"opens{suffix}-{number}", f"closes{suffix}-{number}")
        else:
            for stem, minute in (("opens", hours.opens_minute), ("closes", hours.closes_minute)):
                fields.add(f"{stem}{suffix}-{number}", day_minute_text(minute), minute)
        fields.tick(f"helper{suffix}-{number}", hours is not None and hours.helper)


def edit_week(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with its shop week as the form says; a row without times is no session."""
    week = read_week(form)
    if form.faults and not week:
        return build  # what can not be read is not taken for a closed shop
    return replace(build, shop=replace(build.shop, week=week))


def read_week(form: TypedForm) -> tuple[WeekSession, ...]:
    """The sessions of a week as typed; what can not be read is a fault beside its field."""
    return tuple(
        WeekSession(weekday=weekday, hours=hours)
        for weekday in range(7)
        for hours in _read_sessions(form, f"-{weekday}", words.WEEKDAY_NAMES[weekday])
    )


def _read_sessions(form: TypedForm, suffix: str, day: str) -> tuple[DayHours, ...]:
    sessions = []
    for number in form.row_numbers(f"opens{suffix}"):
        opens_field, closes_field = f"opens{suffix}-{number}", f"closes{suffix}-{number}"
        if not form.typed(opens_field).strip() and not form.typed(closes_field).strip():
            continue
        opens = form.day_minute(opens_field, f"{day}, opens")
        closes = form.day_minute(closes_field, f"{day}, closes")
        if opens is not None and closes is not None:
            helper = form.ticked(f"helper{suffix}-{number}")
            sessions.append(DayHours(opens_minute=opens, closes_minute=closes, helper=helper))
    return tuple(sorted(sessions, key=lambda hours: hours.opens_minute))


def place_of_week_fault(_form: TypedForm, fault: Fault) -> str:
    """Which field of the shop week a fault of the build belongs to."""
    if fault.kind == "shop" and fault.key in WEEKDAY_KEYS:
        return f"opens-{WEEKDAY_KEYS.index(fault.key)}-0"
    return "opens-0-0" if fault.kind == "shop" and fault.field == "week" else ""


# day exceptions -----------------------------------------------------------------------------
DAY_ROWS = (Rows(stems=("opens", "closes", "helper")),)


def day_shown(build: BuildInput, date: dt.date | None = None) -> Shown:
    """The form of a day exception as it is opened."""
    stored = next((day for day in build.shop.days if day.date == date), None)
    sessions = stored.sessions if stored else ()
    fields = Shown().date("date", date)
    fields.tick("closed", stored is not None and not stored.sessions)
    _show_sessions(fields, "", sessions, max(DAY_SESSIONS, len(sessions) + 1))
    return fields


def edit_day(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with one date closed or open at other hours; it replaces what that date had."""
    date = form.date("date", "The date", needed=True)
    day = date.isoformat() if date else "That day"
    sessions = _read_sessions(form, "", day)
    if form.ticked("closed"):
        if sessions:
            form.fault(
                "closed",
                f"{day} is ticked as closed, and hours are typed for it."
                " Untick it, or empty the hours.",
            )
        sessions = ()
    elif not sessions and not any(
        fault.field.startswith(("opens", "closes")) for fault in form.faults
    ):
        form.fault("closed", f"{day}: tick “closed”, or type when the shop opens and closes.")
    if date is None:
        return build
    return with_day(build, DayException(date=date, sessions=sessions))


def with_day(build: BuildInput, day: DayException) -> BuildInput:
    """The build with this day exception in place of the one that date had."""
    others = [other for other in build.shop.days if other.date != day.date]
    days = tuple(sorted((*others, day), key=lambda each: each.date))
    return replace(build, shop=replace(build.shop, days=days))


def without_day(build: BuildInput, date: dt.date) -> BuildInput:
    """The build with the shop week's own hours on that date again."""
    days = tuple(day for day in build.shop.days if day.date != date)
    return replace(build, shop=replace(build.shop, days=days))


def coming_weekend(today: dt.date) -> tuple[dt.date, ...]:
    """The coming Saturday and Sunday, today included; on a Sunday today alone."""
    if today.weekday() == SUNDAY:
        return (today,)
    saturday = today + dt.timedelta(days=SATURDAY - today.weekday())
    return saturday, saturday + dt.timedelta(days=1)


def close_weekend(build: BuildInput, today: dt.date) -> BuildInput:
    """The build with the shop closed over the coming weekend."""
    for date in coming_weekend(today):
        build = with_day(build, DayException(date=date))
    return build


def turn_weekend(form: TypedForm, build: BuildInput) -> Edited[None]:
    """Close the coming Saturday and Sunday, or (`open` in the form) open them again."""
    today = build.now.date()
    if not form.typed("open"):
        return Edited(build=close_weekend(build, today), made=None)
    for date in coming_weekend(today):
        build = without_day(build, date)
    return Edited(build=build, made=None)


def take_day_out(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The date in the form has the shop week's hours again."""
    date = form.date("date", "The date", needed=True)
    return Edited(build=build if date is None else without_day(build, date), made=None)


def place_of_day_fault(form: TypedForm, fault: Fault) -> str:
    """Which field of the form of a day exception a fault of the build belongs to."""
    is_here = fault.kind == "shop" and fault.key == form.typed("date")
    return "opens-0" if is_here else ""
