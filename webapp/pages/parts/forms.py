"""Adding and editing a part: what was typed into the part form, read into the build."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault, Part
from webapp.pages.forms.picking import PickList, new_key
from webapp.pages.forms.typed_form import TypedForm, keep_time, shown
from webapp.pages.forms.typed_values import date_text, number_text

MOST_TASKS = 200
BLANK_TASKS = 2
LEAD_AT_MOST = 3_650
_OWN_FIELDS = (
    "name",
    "ordered_on",
    "promised_on",
    "arrives_on",
    "arrived",
    "lead_days",
    "cost",
    "supplier",
)


def values_of(build: BuildInput, part: Part | None) -> Mapping[str, Sequence[str]]:
    """The values the form of a part shows when it is opened; empty for a new one."""
    served = part.serves if part else ()
    picks = PickList.of("task", build.tasks)
    values = {f"serves-{row}": (picks.label(key),) for row, key in enumerate(served)}
    for row in range(len(served), len(served) + BLANK_TASKS):
        values[f"serves-{row}"] = ("",)
    if part is not None:
        values |= {
            "name": (part.name,),
            "ordered_on": (date_text(part.ordered_on),),
            "promised_on": (date_text(part.promised_on),),
            "arrives_on": (date_text(part.arrives_on),),
            "arrived": ("on" if part.arrived else "",),
            "lead_days": (number_text(part.lead_days),),
            "cost": (number_text(part.cost),),
            "supplier": (part.supplier,),
        }
    return values


def edit_part(form: TypedForm, build: BuildInput, key: str | None) -> tuple[BuildInput, str]:
    """The build with the part `key` (None: a new one) as the form says, and the part's key."""
    stored = next((part for part in build.parts if part.key == key), None)
    name = form.text("name", "The name of the part", needed=True)
    name = name or (stored.name if stored else "Part")
    own_key = stored.key if stored else new_key(name, {part.key for part in build.parts})
    label = shown(name)
    part = Part(
        key=own_key,
        name=name,
        serves=_read_serves(form, build, label),
        ordered_on=form.date("ordered_on", f"{label}, ordered on"),
        promised_on=form.date("promised_on", f"{label}, promised for"),
        arrives_on=keep_time(
            form.date("arrives_on", f"{label}, arrives on"),
            stored.arrives_on if stored else None,
        ),
        arrived=form.ticked("arrived"),
        lead_days=form.decimal("lead_days", f"{label}, lead time", at_most=LEAD_AT_MOST),
        cost=form.decimal("cost", f"{label}, cost"),
        supplier=form.text("supplier", f"{label}, supplier"),
    )
    if stored is None:
        return replace(build, parts=(*build.parts, part)), own_key
    parts = tuple(part if other.key == own_key else other for other in build.parts)
    return replace(build, parts=parts), own_key


def _read_serves(form: TypedForm, build: BuildInput, label: str) -> tuple[str, ...]:
    picks, keys = PickList.of("task", build.tasks), []
    for row in form.row_numbers("serves", at_most=MOST_TASKS):
        text = form.typed(f"serves-{row}").strip()
        if not text:
            continue
        key, why_not = picks.find(text)
        if key is None:
            form.fault(f"serves-{row}", f"{label}, task that needs it: {why_not}")
        else:
            keys.append(key)
    return tuple(dict.fromkeys(keys))


def place_of_fault(key: str) -> Callable[[Fault], str]:
    """Which form field a fault of the build belongs to."""

    def place(fault: Fault) -> str:
        if fault.kind != "part" or fault.key != key:
            return ""
        if fault.field in ("for", "serves"):
            return "serves-0"
        return fault.field if fault.field in _OWN_FIELDS else "name"

    return place


def remove_part(build: BuildInput, key: str) -> BuildInput:
    """The build without a part."""
    return replace(build, parts=tuple(part for part in build.parts if part.key != key))
