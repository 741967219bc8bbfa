"""The forms of the shop page that are about one build: its facts, hands, things and subsystems."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from webapp.build.build_input import FIRST_START, MEDIA, BuildInput, Fault, Medium, Subsystem
from webapp.build.limits import MOST_OF_A_STATION, MOST_PEOPLE, MOST_RANK
from webapp.build.setups_out import out_after
from webapp.build.shop import Setup, Station
from webapp.build.units import SHOP_UNITS
from webapp.pages.forms.picking import Named, PickList, new_key
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.words.quoted import shown
from webapp.pages.words.the_end import the_end
from webapp.pages.words.units import units_said

BLANK_ROWS = 2
NONE_OUT = "none"


Thing = TypeVar("Thing", bound=Named)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a list form: its number, the key it is about (a new one: of a new thing), its
    name."""

    number: int
    key: str
    name: str


# the build's own facts ----------------------------------------------------------------------
def facts_shown(build: BuildInput) -> Shown:
    """The form of the build's own facts as it is opened."""
    first = PickList.of("task", build.tasks).label(build.first_start) if build.first_start else ""
    return (
        Shown()
        .text("name", build.name)
        .text("vehicle", build.vehicle)
        .text("end_name", build.end_name)
        .date("starts_on", build.starts_on)
        .date("wanted_by", build.wanted_by)
        .pick("first_start", build.first_start, first)
    )


def edit_facts(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with its name, vehicle, dates and first start as the form says."""
    name = form.text("name", "The name of the build", needed=True) or build.name
    picks = PickList.of("task", build.tasks)
    found = form.picked("first_start", f"{shown(name)}, {the_end()}", picks)
    if not form.typed("first_start").strip() and build.first_start is not None:
        form.fault(
            "first_start",
            f"{shown(name)}: no task is named as {the_end()}. Pick the task that is {the_end()}.",
        )
    return replace(
        build,
        name=name,
        vehicle=form.text("vehicle", f"{shown(name)}, vehicle"),
        end_name=_end_name(form, build),
        starts_on=form.date("starts_on", f"{shown(name)}, starts on"),
        wanted_by=form.date("wanted_by", f"{shown(name)}, wanted by"),
        first_start=found or build.first_start,
    )


def _end_name(form: TypedForm, build: BuildInput) -> str:
    """What the end is called; "" for first start, which is also what it is called else."""
    typed = form.text("end_name", "What the end is called")
    if typed == build.end_name:
        return typed
    plain = typed[:1].lower() + typed[1:] if typed[1:2].islower() or len(typed) == 1 else typed
    return "" if plain == FIRST_START else plain


# people, and the setup that is out ------------------------------------------------------------
def people_shown(build: BuildInput) -> Shown:
    """The form of the people as it is opened."""
    return Shown().whole("people", build.shop.people)


def edit_people(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with as many people as the form says."""
    people = form.whole("people", "People in the shop", at_least=1, at_most=MOST_PEOPLE)
    there = people or build.shop.people
    out = out_after(build.shop.setups_out, (), there)
    return replace(build, shop=replace(build.shop, people=there, setups_out=out))


def out_fields(build: BuildInput) -> tuple[str, ...]:
    """A field for each setup that can be out at once: as many as there are people."""
    more = range(1, min(build.shop.people, len(build.shop.setups)))
    return ("setup_out", *(f"setup_out-{number}" for number in more))


def out_shown(build: BuildInput) -> Shown:
    """The form of the setups that are out as it is opened, the one last used first."""
    fields, setups = Shown(), PickList.of("setup", build.shop.setups)
    out = build.shop.setups_out[::-1]
    for number, name in enumerate(out_fields(build)):
        key = out[number] if number < len(out) else None
        fields.add(name, key or NONE_OUT, key, lambda key, _: _out_label(setups, key))
    return fields


def _out_label(setups: PickList, key: str) -> str:
    return setups.label("none" if key == NONE_OUT else key)


def edit_out(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with the setups that are out now, as the form says."""
    keys = [setup.key for setup in build.shop.setups]
    is_out, named = build.shop.setups_out[::-1], list[str]()
    for number, name in enumerate(out_fields(build)):
        if name not in form.values:
            # The form did not have this one yet: fewer people worked when it was opened.
            named += [key for key in is_out[number : number + 1] if key not in named]
            continue
        if form.typed(name) == NONE_OUT and NONE_OUT not in keys:
            continue
        out = form.one_of(name, "The setup that is out now", keys)
        if out in named:
            form.fault(name, "This setup is named above: there is one of it. Pick another or none.")
        elif out is not None:
            named.append(out)
    return replace(build, shop=replace(build.shop, setups_out=tuple(reversed(named))))


# units ----------------------------------------------------------------------------------------
def units_shown(build: BuildInput) -> Shown:
    """The form of the units as it is opened."""
    return Shown().choice("units", build.units, units_said)


def edit_units(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with the units that the form says; what is held stays as it is."""
    typed = form.one_of("units", "The units", SHOP_UNITS)
    units = next((each for each in SHOP_UNITS if each == typed), build.units)
    return replace(build, units=units)


# setups -------------------------------------------------------------------------------------
SETUP_ROWS = (Rows(stems=("name", "key", "hours", "remove"), identity="key"),)


def setups_shown(build: BuildInput) -> Shown:
    """The list of setups as it is opened."""
    fields = Shown()
    for number, setup in enumerate(build.shop.setups):
        _show_thing(fields, number, setup)
        fields.number(f"hours-{number}", setup.hours)
    return _with_blank_rows(fields, len(build.shop.setups))


def edit_setups(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with its setups as the form says; one that tasks still need can not go."""
    rows = _read_rows(form, build.shop.setups, "setup")
    setups = []
    for row in rows:
        hours = form.hours(f"hours-{row.number}", f"{shown(row.name)}, hours to set up") or 0.0
        setups.append(Setup(key=row.key, name=row.name, hours=hours))
    users = {task.setup: task.name for task in build.tasks if task.setup}
    _note_still_used(form, build.shop.setups, rows, users, "setup")
    kept = (*setups, *_not_sent(form, build.shop.setups))
    there = {each.key for each in kept}
    out = tuple(key for key in build.shop.setups_out if key in there)
    shop = replace(build.shop, setups=_in_order_of_entry(build.shop.setups, kept), setups_out=out)
    return replace(build, shop=shop)


# stations -----------------------------------------------------------------------------------
STATION_ROWS = (Rows(stems=("name", "key", "count", "remove"), identity="key"),)


def stations_shown(build: BuildInput) -> Shown:
    """The list of stations as it is opened."""
    fields = Shown()
    for number, station in enumerate(build.shop.stations):
        _show_thing(fields, number, station)
        fields.whole(f"count-{number}", station.count)
    return _with_blank_rows(fields, len(build.shop.stations))


def edit_stations(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with its stations as the form says; one that tasks still need can not go."""
    rows = _read_rows(form, build.shop.stations, "station")
    stations = []
    for row in rows:
        count = form.whole(
            f"count-{row.number}",
            f"{shown(row.name)}, how many",
            at_least=1,
            at_most=MOST_OF_A_STATION,
            default=1,
        )
        stations.append(Station(key=row.key, name=row.name, count=count or 1))
    users = {need.station: task.name for task in build.tasks for need in task.stations}
    _note_still_used(form, build.shop.stations, rows, users, "station")
    kept = (*stations, *_not_sent(form, build.shop.stations))
    shop = replace(build.shop, stations=_in_order_of_entry(build.shop.stations, kept))
    return replace(build, shop=shop)


# subsystems ---------------------------------------------------------------------------------
SUBSYSTEM_ROWS = (Rows(stems=("name", "key", "order", "medium", "remove"), identity="key"),)


def subsystems_shown(build: BuildInput) -> Shown:
    """The list of subsystems, in working order, as it is opened."""
    fields = Shown()
    ranked = sorted(build.subsystems, key=lambda each: each.order)
    for number, subsystem in enumerate(ranked):
        _show_thing(fields, number, subsystem)
        fields.whole(f"order-{number}", subsystem.order)
        fields.choice(f"medium-{number}", subsystem.medium)
    for blank in range(len(ranked), len(ranked) + BLANK_ROWS):
        fields.choice(f"medium-{blank}", "none")
    return _with_blank_rows(fields, len(ranked))


def edit_subsystems(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with its subsystems as the form says; one that tasks belong to can not go."""
    rows = _read_rows(form, build.subsystems, "subsystem")
    last = max((each.order for each in build.subsystems), default=0)
    changed = []
    for row in rows:
        label = shown(row.name)
        last += 1
        order = form.whole(
            f"order-{row.number}",
            f"{label}, place in the working order",
            at_least=-MOST_RANK,
            at_most=MOST_RANK,
            default=min(last, MOST_RANK),
        )
        typed = form.one_of(f"medium-{row.number}", f"{label}, medium", MEDIA)
        medium: Medium = next((each for each in MEDIA if each == typed), "none")
        changed.append(Subsystem(key=row.key, name=row.name, medium=medium, order=order or 0))
    users = {task.subsystem: task.name for task in build.tasks if task.subsystem}
    _note_still_used(form, build.subsystems, rows, users, "subsystem")
    kept = (*changed, *_not_sent(form, build.subsystems))
    return replace(build, subsystems=_in_order_of_entry(build.subsystems, kept))


# rows ---------------------------------------------------------------------------------------
def _show_thing(fields: Shown, number: int, thing: Named) -> None:
    fields.text(f"name-{number}", thing.name).choice(f"key-{number}", thing.key)


def _with_blank_rows(fields: Shown, start: int) -> Shown:
    for number in range(start, start + BLANK_ROWS):
        fields.blank(f"name-{number}", f"key-{number}")
    return fields


def _read_rows(form: TypedForm, things: Sequence[Named], what: str) -> tuple[Row, ...]:
    """The rows with a name, less those ticked to be removed; emptied names are faults."""
    names, rows, seen = {thing.key: thing.name for thing in things}, [], set()
    taken = set(names)
    for number in form.row_numbers("name"):
        key = form.typed(f"key-{number}")
        known = key in names and key not in seen
        name = form.text(f"name-{number}", f"The name of {what} {number + 1}")
        if known:
            seen.add(key)
        if form.ticked(f"remove-{number}"):
            continue
        if not name and known:
            form.fault(
                f"name-{number}",
                f"“{shown(names[key])}” has lost its name. Type one, or tick Remove.",
            )
            name = names[key]
        if name:
            key = key if known else new_key(name, taken)
            taken.add(key)
            rows.append(Row(number=number, key=key, name=name))
    return tuple(rows)


def _not_sent(form: TypedForm, things: Sequence[Thing]) -> tuple[Thing, ...]:
    """Things the form was not sent with (entered elsewhere meanwhile): they stay as they are."""
    sent = {form.typed(f"key-{number}") for number in form.row_numbers("name")}
    return tuple(thing for thing in things if thing.key not in sent)


def _in_order_of_entry(things: Sequence[Thing], changed: Sequence[Thing]) -> tuple[Thing, ...]:
    """What was changed, in the order in which it was first entered; what is new at the end."""
    place = {thing.key: number for number, thing in enumerate(things)}
    return tuple(sorted(changed, key=lambda thing: place.get(thing.key, len(place))))


def _note_still_used(
    form: TypedForm,
    things: Sequence[Named],
    rows: tuple[Row, ...],
    users: Mapping[str, str],
    what: str,
) -> None:
    """A thing that a task still names can not be removed: say which task."""
    staying = {row.key for row in rows} | {thing.key for thing in _not_sent(form, things)}
    numbers = {form.typed(f"key-{number}"): number for number in form.row_numbers("name")}
    for thing in things:
        if thing.key in users and thing.key not in staying:
            number = numbers.get(thing.key)
            form.fault(
                "" if number is None else f"name-{number}",
                f"The {what} “{shown(thing.name)}” is still needed by the task"
                f" “{shown(users[thing.key])}”. Change that task first, or keep the {what}.",
            )


def place_of_fault(form: TypedForm, kind: str, fields: Mapping[str, str], fault: Fault) -> str:
    """Which field of a list form a fault of the build belongs to."""
    if fault.kind != kind:
        return ""
    for number in form.row_numbers("name"):
        if form.typed(f"key-{number}") == fault.key:
            return f"{fields.get(fault.field, 'name')}-{number}"
    return ""
