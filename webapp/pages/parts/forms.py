"""Adding and editing a part: what was typed into the part form, read into the build."""

from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault, Part
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.limits import MOST_DAYS_AWAY
from webapp.build.moments import date_of
from webapp.pages.forms.asking import GoesWith, is_as_asked
from webapp.pages.forms.picking import PickList, new_key
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.words.amounts import day
from webapp.pages.words.plumbing_gone import that_need_part
from webapp.pages.words.quoted import shown
from webapp.plumbing.arrivals import brought_to_shelf

BLANK_TASKS = 2
ROWS = (Rows(stems=("serves",), identity="serves"),)
_OWN_FIELDS = (
    "name",
    "ordered_on",
    "promised_on",
    "arrives_on",
    "arrived",
    "lead_days",
    "cost",
    "paid",
    "supplier",
)
NEW = Part(key="", name="")


def shown_of(build: BuildInput, part: Part) -> Shown:
    """The form of a part as it is opened; of `NEW` for a new one."""
    return (
        Shown()
        .text("name", part.name)
        .date("ordered_on", part.ordered_on)
        .date("promised_on", part.promised_on)
        .date("arrives_on", part.arrives_on)
        .number("lead_days", part.lead_days)
        .tick("arrived", part.arrived)
        .text("supplier", part.supplier)
        .number("cost", part.cost)
        .number("paid", part.paid)
        .pick_rows("serves", part.serves, PickList.of("task", build.tasks), BLANK_TASKS)
    )


def edit_part(key: str | None) -> FormEdit[str]:
    """The edit that gives the part `key` (None: a new one) what the form says; its key is made."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        if key is None:
            fresh = _as_typed(form, build, NEW)
            _look_at_arrival(form, build, fresh)
            named = new_key(fresh.name, {part.key for part in build.parts})
            return Edited(
                build=replace(build, parts=(*build.parts, replace(fresh, key=named))), made=named
            )
        stored = find_by_key(build.parts, key)
        if stored is None:
            return Edited(build=build, made=key, lost=Lost(kind="part", key=key))
        if not form.settle(shown_of(build, stored), ROWS):
            return Edited(build=build, made=key)
        changed = _as_typed(form, build, stored)
        _look_at_arrival(form, build, changed)
        parts = replaced_by_key(build.parts, changed)
        return Edited(build=replace(build, parts=parts), made=key)

    return edit


def entered(form: TypedForm, build: BuildInput, stored: Part, picks: PickList) -> Part:
    """A part as a form says it, that one of which nothing but its name was known or `NEW`."""
    part = _as_typed(form, build, stored, picks)
    _look_at_arrival(form, build, part)
    return part


def _look_at_arrival(form: TypedForm, build: BuildInput, part: Part) -> None:
    """Refuse a part that is here and comes on a day to come, unless neither was touched."""
    on = part.arrives_on and date_of(part.arrives_on)
    untouched = form.is_as_stored("arrived") and form.is_as_stored("arrives_on")
    if not part.arrived or on is None or on <= build.now.date() or untouched:
        return
    form.fault_instead(
        "arrives_on",
        f"{shown(part.name)} is here, and {day(on, today=build.now.date())} is still to come."
        " Type the day it came, or empty the date; if it is not here, untick “It is here”.",
    )


def _as_typed(
    form: TypedForm, build: BuildInput, stored: Part, picks: PickList | None = None
) -> Part:
    name = form.text("name", "The name of the part", needed=True) or stored.name or "Part"
    label = shown(name)
    return replace(
        stored,
        name=name,
        serves=_read_serves(form, label, picks or PickList.of("task", build.tasks)),
        ordered_on=form.date("ordered_on", f"{label}, ordered on"),
        promised_on=form.date("promised_on", f"{label}, promised for"),
        arrives_on=form.moment("arrives_on", f"{label}, arrives on"),
        arrived=form.ticked("arrived"),
        lead_days=form.decimal("lead_days", f"{label}, lead time", at_most=MOST_DAYS_AWAY),
        cost=form.decimal("cost", f"{label}, cost"),
        paid=form.paid("paid", f"{label}, paid"),
        supplier=form.text("supplier", f"{label}, supplier"),
    )


def _read_serves(form: TypedForm, label: str, picks: PickList) -> tuple[str, ...]:
    label = f"{label}, task that needs it"
    keys = (form.picked(f"serves-{row}", label, picks) for row in form.row_numbers("serves"))
    return tuple(dict.fromkeys(key for key in keys if key is not None))


def place_of_fault(key: str, fault: Fault) -> str:
    """Which form field a fault of the build belongs to."""
    if fault.kind != "part" or fault.key != key:
        return ""
    if fault.field in ("for", "serves"):
        return "serves-0"
    return fault.field if fault.field in _OWN_FIELDS else "name"


def arrived(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The edit that says that a part came today; one that is here already stays as it is.

    What it brings for the plumbing lies on the shelf with it. Where it can not lie there, for
    nothing is called so, the shelf and the buy list say so.
    """
    part = find_by_key(build.parts, form.typed("key"))
    if part is None:
        return Edited(build=build, made=None, lost=Lost(kind="part", key=form.typed("key")))
    if part.arrived:
        return Edited(build=build, made=None)
    here = replace(part, arrived=True, arrives_on=build.now.date())
    after = replace(build, parts=replaced_by_key(build.parts, here))
    brought = brought_to_shelf(after, part.key)
    return Edited(build=after if brought.faults else brought.build, made=None)


def ordered_today(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The edit that says that a part was ordered today; a day entered before stays."""
    part = find_by_key(build.parts, form.typed("key"))
    if part is None:
        return Edited(build=build, made=None, lost=Lost(kind="part", key=form.typed("key")))
    if part.ordered_on is not None or part.arrived:
        return Edited(build=build, made=None)
    ordered = replace(part, ordered_on=build.now.date())
    return Edited(build=replace(build, parts=replaced_by_key(build.parts, ordered)), made=None)


def remove_part(key: str) -> FormEdit[None]:
    """The edit that takes a part out, unless it is not what was asked about."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        part = find_by_key(build.parts, key)
        if part is None:
            return Edited(build=build, made=None, lost=Lost(kind="part", key=key))
        is_as_asked(form, goes_with_part(build, part))
        left = tuple(each for each in build.parts if each.key != key)
        return Edited(build=replace(build, parts=left), made=None)

    return edit


def goes_with_part(build: BuildInput, part: Part) -> tuple[GoesWith, ...]:
    """What is lost with a part: whether it is here or ordered, what it serves, what it says."""
    today = build.now.date()
    here = "it is here now" if part.arrived else "it is not here any more"
    ordered = "it is not ordered any more"
    if part.ordered_on is not None:
        ordered = f"it was ordered {day(part.ordered_on, today=today)}"
    text = replace(part, arrived=False, ordered_on=None, serves=())
    return (
        GoesWith(name="arrived", state=part.arrived, now=here),
        GoesWith(name="ordered", state=part.ordered_on, now=ordered),
        GoesWith(name="serves", state=part.serves, now="the tasks it serves were changed"),
        GoesWith(name="text", state=text, now="what its page says was changed"),
        GoesWith(
            name="plumbing",
            state=that_need_part(build, part.key),
            now="what it is for the plumbing was changed",
        ),
    )
