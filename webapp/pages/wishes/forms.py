"""The forms about wishes: logging one, sizing one, the quick sizes, the wanted-by date."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from webapp.build.build_input import (
    BuildInput,
    Fault,
    ThreePoint,
    Wish,
    WishPart,
    WishSize,
)
from webapp.pages.forms.picking import PickList, new_key
from webapp.pages.forms.typed_form import TypedForm, shown
from webapp.pages.forms.typed_values import date_text, number_text
from webapp.pages.wishes.attachment import attachment_faults

WISH_LENGTH = 400
BLANK_PARTS = 2
MOST_PARTS = 50
BLANK_SIZES = 1
MOST_SIZES = 50
LEAD_AT_MOST = 3_650
LEAST_PERCENT, MOST_PERCENT = 50, 99
POINTS = (("well", "if all goes well"), ("likely", "likely"), ("fights", "if it fights you"))
Values = Mapping[str, Sequence[str]]


# logging ------------------------------------------------------------------------------------
def log_wish(form: TypedForm, build: BuildInput) -> tuple[BuildInput, str]:
    """The build with one more wish, and its key: the line typed is all it needs."""
    text = form.text("wish", "The wish", needed=True, limit=WISH_LENGTH)
    taken = {wish.key for wish in build.wishes} | {task.key for task in build.tasks}
    key = new_key(text or "wish", taken)
    wish = Wish(key=key, text=text or "wish", logged_on=build.now.date())
    return replace(build, wishes=(*build.wishes, wish)), key


# sizing -------------------------------------------------------------------------------------
def wish_values(build: BuildInput, wish: Wish) -> Values:
    """What the form of a wish shows when it is opened."""
    picks = PickList.of("task", build.tasks)
    values = {
        "text": wish.text,
        "size": wish.size or "",
        **_hours_values("", wish.hours),
        **_hours_values("rough_", wish.rough_in_hours),
        "later_extra": number_text(wish.later_extra_hours),
        "subsystem": wish.subsystem or "",
        "setup": wish.setup or "",
        "after": picks.label(wish.after) if wish.after else "",
        "before": picks.label(wish.before) if wish.before else "",
        "cost": number_text(wish.cost),
    }
    for row, part in enumerate(wish.parts):
        values[f"part-{row}"] = part.name
        values[f"part_days-{row}"] = number_text(part.lead_days)
        values[f"part_cost-{row}"] = number_text(part.cost)
    for row in range(len(wish.parts), len(wish.parts) + BLANK_PARTS):
        values[f"part-{row}"] = ""
    return {name: (value,) for name, value in values.items()}


def _hours_values(stem: str, hours: ThreePoint | None) -> dict[str, str]:
    if hours is None:
        return {}
    return {
        f"{stem}well": number_text(hours.optimistic),
        f"{stem}likely": number_text(hours.most_likely),
        f"{stem}fights": number_text(hours.pessimistic),
    }


def size_wish(form: TypedForm, build: BuildInput, wish: Wish) -> BuildInput:
    """The build with a wish as its form says; where it can not stand is noted in the form."""
    text = form.text("text", "The wish", needed=True, limit=WISH_LENGTH) or wish.text
    sized = replace(
        wish,
        text=text,
        size=form.one_of("size", "Quick size", (size.key for size in build.wish_sizes)),
        hours=read_hours(form, "", "Fitting it"),
        rough_in_hours=read_hours(form, "rough_", "Roughing in"),
        later_extra_hours=form.hours("later_extra", "Extra hours if it is fitted later"),
        subsystem=form.one_of("subsystem", "Subsystem", (one.key for one in build.subsystems)),
        setup=form.one_of("setup", "Setup", (one.key for one in build.shop.setups)),
        after=_read_task(form, build, "after", "Comes after"),
        before=_read_task(form, build, "before", "Comes before"),
        parts=_read_parts(form),
        cost=form.decimal("cost", "Other money"),
    )
    if not form.faults:
        for fault in attachment_faults(build, sized):
            form.fault(fault.field, fault.text)
    wishes = tuple(sized if each.key == wish.key else each for each in build.wishes)
    return replace(build, wishes=wishes)


def read_hours(form: TypedForm, stem: str, label: str, suffix: str = "") -> ThreePoint | None:
    """Three hours, of which the likely ones alone will do; None where none are typed.

    Out of order, the first field that is too large for the next is named.
    """
    typed = [form.hours(f"{stem}{point}{suffix}", f"{label}, {words}") for point, words in POINTS]
    names = [f"{stem}{point}{suffix}" for point, _ in POINTS]
    well, likely, fights = typed
    if likely is None:
        if (well is not None or fights is not None) and not form.faults_at(names[1]):
            form.fault(names[1], f"{label}: the likely hours are missing. Type them in.")
        return None
    well = likely if well is None else well
    fights = likely if fights is None else fights
    if well > likely:
        form.fault(
            names[0],
            f"{label}: “if all goes well” is {number_text(well)} h, more than the likely"
            f" {number_text(likely)} h. Type hours that rise from field to field.",
        )
    if likely > fights:
        form.fault(
            names[2],
            f"{label}: “if it fights you” is {number_text(fights)} h, less than the likely"
            f" {number_text(likely)} h. Type hours that rise from field to field.",
        )
    low, middle, high = sorted((well, likely, fights))
    return ThreePoint(optimistic=low, most_likely=middle, pessimistic=high)


def _read_task(form: TypedForm, build: BuildInput, field: str, label: str) -> str | None:
    text = form.typed(field).strip()
    if not text:
        return None
    key, why_not = PickList.of("task", build.tasks).find(text)
    if key is None:
        form.fault(field, f"{label}: {why_not}")
    return key


def _read_parts(form: TypedForm) -> tuple[WishPart, ...]:
    parts = []
    for row in form.row_numbers("part", at_most=MOST_PARTS):
        name = form.text(f"part-{row}", f"Part {row + 1}")
        label = shown(name) or f"Part {row + 1}"
        days = form.decimal(f"part_days-{row}", f"{label}, lead time", at_most=LEAD_AT_MOST)
        cost = form.decimal(f"part_cost-{row}", f"{label}, cost")
        if name:
            parts.append(WishPart(name=name, lead_days=days or 0.0, cost=cost or 0.0))
        elif days is not None or cost is not None:
            form.fault(f"part-{row}", f"{label}: its name is missing. Type it in.")
    return tuple(parts)


def with_more_parts(form: TypedForm) -> TypedForm:
    """The same form, as typed, with room for one more part."""
    row = max(form.row_numbers("part"), default=-1) + 1
    return TypedForm({**form.values, f"part-{row}": ("",)}, scope=form.scope)


def place_of_wish_fault(key: str) -> Callable[[Fault], str]:
    """Which field of the form of a wish a fault of the build belongs to."""

    def place(fault: Fault) -> str:
        if fault.kind != "wish" or fault.key != key:
            return ""
        return {"hours": "likely", "rough_in_hours": "rough_likely"}.get(fault.field, fault.field)

    return place


# quick sizes --------------------------------------------------------------------------------
def sizes_values(build: BuildInput) -> Values:
    """What the list of quick sizes shows when it is opened."""
    values: dict[str, str] = {}
    for row, size in enumerate(build.wish_sizes):
        values |= {
            f"key-{row}": size.key,
            f"name-{row}": size.name,
            f"well-{row}": number_text(size.hours.optimistic),
            f"likely-{row}": number_text(size.hours.most_likely),
            f"fights-{row}": number_text(size.hours.pessimistic),
        }
    for row in range(len(build.wish_sizes), len(build.wish_sizes) + BLANK_SIZES):
        values[f"name-{row}"] = ""
    return {name: (value,) for name, value in values.items()}


def edit_sizes(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with its quick sizes as the form says; one at least stays."""
    known = {size.key: size for size in build.wish_sizes}
    taken, sizes = set(known), []
    for row in form.row_numbers("name", at_most=MOST_SIZES):
        name = form.text(f"name-{row}", f"Quick size {row + 1}")
        stored = known.pop(form.typed(f"key-{row}"), None)
        if form.ticked(f"remove-{row}") or (not name and stored is None and not _typed(form, row)):
            continue
        if not name:
            form.fault(f"name-{row}", f"Quick size {row + 1}: its name is missing. Type it in.")
        label = shown(name) or f"Quick size {row + 1}"
        hours = read_hours(form, "", label, suffix=f"-{row}")
        if hours is None:
            if not form.faults_at(f"likely-{row}"):
                form.fault(f"likely-{row}", f"{label}: the likely hours are missing.")
            continue
        key = stored.key if stored else new_key(name, taken)
        taken.add(key)
        sizes.append(WishSize(key=key, name=name or label, hours=hours))
    if not sizes and not form.faults:
        form.fault("", "One quick size at least must stay: a wish without hours needs it.")
    return replace(build, wish_sizes=tuple(sizes) or build.wish_sizes)


def _typed(form: TypedForm, row: int) -> bool:
    return any(form.typed(f"{point}-{row}").strip() for point, _ in POINTS)


# wanted by, and how safe is safe ------------------------------------------------------------
def headroom_values(build: BuildInput) -> Values:
    """What the form of the wanted-by date and of the confidence shows when it is opened."""
    return {
        "wanted_by": (date_text(build.wanted_by),),
        "confidence": (number_text(build.confidence * 100),),
    }


def edit_headroom(form: TypedForm, build: BuildInput) -> BuildInput:
    """The build with its wanted-by date and its confidence as the form says."""
    wanted_by = form.date("wanted_by", "Wanted by")
    if wanted_by is not None and wanted_by < build.now.date() and wanted_by != build.wanted_by:
        form.fault("wanted_by", "Wanted by: that day is past. Pick one that is to come.")
    share = form.decimal("confidence", "Safe means", needed=True)
    if share is not None and not LEAST_PERCENT <= share <= MOST_PERCENT:
        form.fault(
            "confidence",
            f"Safe means: “{shown(form.typed('confidence'))}” of 100 times will not do."
            f" Type a number from {LEAST_PERCENT} to {MOST_PERCENT}.",
        )
        share = None
    confidence = build.confidence if share is None else round(share / 100, 4)
    return replace(build, wanted_by=wanted_by, confidence=confidence)
