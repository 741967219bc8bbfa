"""The forms of the shop: what each shows, what it does, and where its faults go."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from webapp.build.build_input import BuildInput, Fault
from webapp.build.edited import Edited
from webapp.build.shop import DayRange, LaterWeek
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import parse_date
from webapp.pages.shop import forms, hours_forms, later_forms


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopForm:
    """One form of the page: what it shows when opened, its lists, what it does, where faults go."""

    shown: Callable[[BuildInput], Shown]
    read: Callable[[TypedForm, BuildInput], BuildInput]
    place: Callable[[TypedForm, Fault], str]
    rows: tuple[Rows, ...] = ()

    def edit(self, form: TypedForm, build: BuildInput) -> Edited[TypedForm]:
        """The build as the form says; an untouched form changes nothing."""
        if not form.settle(self.shown(build), self.rows):
            return Edited(build=build, made=form)
        return Edited(build=self.read(form, build), made=form)


def _place_of_facts(form: TypedForm, fault: Fault) -> str:
    return fault.field if fault.kind == "build" and fault.field in form.values else ""


def _place_of_hands(form: TypedForm, fault: Fault) -> str:
    return fault.field if fault.kind == "shop" and fault.field in form.values else ""


def _place_in_list(kind: str, *fields: str) -> Callable[[TypedForm, Fault], str]:
    named = {field: field for field in fields}
    return lambda form, fault: forms.place_of_fault(form, kind, named, fault)


class DayForm(ShopForm):
    """The form of one date: what it is held against depends on the date that is typed."""

    def edit(self, form: TypedForm, build: BuildInput) -> Edited[TypedForm]:
        date = parse_date(form.typed("date").strip())
        form.settle(hours_forms.day_shown(build, date), self.rows)
        return Edited(build=self.read(form, build), made=form)


@dataclass(frozen=True, slots=True, kw_only=True)
class BeginningForm(ShopForm):
    """The form of what begins on a day, a later shop week or a range, or of a new one: `stored_of`
    finds the one that the field `of` says, `shown_of` shows it."""

    stored_of: Callable[[BuildInput, TypedForm], LaterWeek | DayRange | None]
    shown_of: Callable[[BuildInput, Any], Shown]

    def edit(self, form: TypedForm, build: BuildInput) -> Edited[TypedForm]:
        stored = self.stored_of(build, form)
        if stored is None and form.typed("of"):
            form.fault("", later_forms.GONE)
        form.settle(self.shown_of(build, stored), self.rows)
        return Edited(build=self.read(form, build), made=form)


FORMS: Mapping[str, ShopForm] = {
    "facts": ShopForm(shown=forms.facts_shown, read=forms.edit_facts, place=_place_of_facts),
    "units": ShopForm(shown=forms.units_shown, read=forms.edit_units, place=_place_of_facts),
    "week": ShopForm(
        shown=hours_forms.week_shown,
        read=hours_forms.edit_week,
        place=hours_forms.place_of_week_fault,
        rows=hours_forms.WEEK_ROWS,
    ),
    "day": DayForm(
        shown=hours_forms.day_shown,
        read=hours_forms.edit_day,
        place=hours_forms.place_of_day_fault,
        rows=hours_forms.DAY_ROWS,
    ),
    "later": BeginningForm(
        stored_of=later_forms.later_of,
        shown_of=later_forms.later_shown,
        shown=later_forms.later_shown,
        read=later_forms.edit_later,
        place=later_forms.place_of_later_fault,
        rows=hours_forms.WEEK_ROWS,
    ),
    "range": BeginningForm(
        stored_of=later_forms.range_of,
        shown_of=later_forms.range_shown,
        shown=later_forms.range_shown,
        read=later_forms.edit_range,
        place=later_forms.place_of_range_fault,
        rows=hours_forms.WEEK_ROWS,
    ),
    "people": ShopForm(shown=forms.people_shown, read=forms.edit_people, place=_place_of_hands),
    "out": ShopForm(shown=forms.out_shown, read=forms.edit_out, place=_place_of_hands),
    "setups": ShopForm(
        shown=forms.setups_shown,
        read=forms.edit_setups,
        place=_place_in_list("setup", "hours"),
        rows=forms.SETUP_ROWS,
    ),
    "stations": ShopForm(
        shown=forms.stations_shown,
        read=forms.edit_stations,
        place=_place_in_list("station", "count"),
        rows=forms.STATION_ROWS,
    ),
    "subsystems": ShopForm(
        shown=forms.subsystems_shown,
        read=forms.edit_subsystems,
        place=_place_in_list("subsystem", "order", "medium"),
        rows=forms.SUBSYSTEM_ROWS,
    ),
}
