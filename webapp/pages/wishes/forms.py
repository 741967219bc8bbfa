"""The forms about wishes: logging one, sizing one, the quick sizes, the wanted-by date."""

import datetime as dt
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.limits import LEAST_CONFIDENCE, MOST_CONFIDENCE, MOST_DAYS_AWAY
from webapp.build.three_point import ThreePoint
from webapp.build.wish import Wish, WishPart, WishSize
from webapp.pages.forms.asking import GoesWith, is_as_asked
from webapp.pages.forms.picking import PickList, new_key
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import number_text
from webapp.pages.frame.form_change import FormEdit, Place
from webapp.pages.wishes.attachment import attachment_faults
from webapp.pages.words.amounts import day
from webapp.pages.words.quoted import shown
from webapp.services.just_logged import JustLogged

WISH_LENGTH = 400
BLANK_PARTS = 2
BLANK_SIZES = 1
LEAST_PERCENT, MOST_PERCENT = 100 * LEAST_CONFIDENCE, 100 * MOST_CONFIDENCE
POINTS = (("well", "if all goes well"), ("likely", "likely"), ("fights", "if it fights you"))


# logging ------------------------------------------------------------------------------------
@dataclass(frozen=True, slots=True, kw_only=True)
class Logged:
    """A wish that was logged; `again`: it was there already, sent a moment ago."""

    key: str
    again: bool = False


def log_wish(lately: JustLogged, slug: str) -> FormEdit[Logged]:
    """The edit that logs one more wish. The line typed is all it needs.

    The same words within a minute are the same wish. What a browser kept while nobody answered
    comes with "kept": it may have been taken though the answer was lost, so the same words among
    the undecided are the same wish, however long ago.
    """

    def edit(form: TypedForm, build: BuildInput) -> Edited[Logged]:
        text = form.text("wish", "The wish", needed=True, limit=WISH_LENGTH)
        last = find_by_key(build.wishes, lately.key_of(slug, text))
        if last is None and form.ticked("kept"):
            undecided = (wish for wish in build.wishes if wish.decision is None)
            last = next((wish for wish in undecided if wish.text == text), None)
        if last is not None and last.text == text:
            return Edited(build=build, made=Logged(key=last.key, again=True))
        taken = {wish.key for wish in build.wishes} | {task.key for task in build.tasks}
        key = new_key(text or "wish", taken)
        wish = Wish(key=key, text=text or "wish", logged_on=build.now.date())
        lately.note(slug, text, key)
        return Edited(build=replace(build, wishes=(*build.wishes, wish)), made=Logged(key=key))

    return edit


def place_of_line(_made: Logged, fault: Fault) -> str:
    """Which field a fault of the build belongs to where a wish is logged."""
    return "wish" if fault.kind == "wish" else ""


# sizing -------------------------------------------------------------------------------------
ROWS = (Rows(stems=("part", "part_days", "part_cost"), identity="part"),)


def wish_shown(build: BuildInput, wish: Wish) -> Shown:
    """The form of a wish as it is opened."""
    tasks = PickList.of("task", build.tasks)
    sizes = {size.key: size.name for size in build.wish_sizes}
    subsystems = PickList.of("subsystem", build.subsystems)
    setups = PickList.of("setup", build.shop.setups)
    fields = (
        Shown()
        .text("text", wish.text)
        .choice("size", wish.size, lambda key: sizes.get(key, key))
        .points(("well", "likely", "fights"), wish.hours)
        .points(("rough_well", "rough_likely", "rough_fights"), wish.rough_in_hours)
        .number("later_extra", wish.later_extra_hours)
        .choice("subsystem", wish.subsystem, subsystems.label)
        .choice("setup", wish.setup, setups.label)
        .pick("after", wish.after, tasks.label(wish.after) if wish.after else "")
        .pick("before", wish.before, tasks.label(wish.before) if wish.before else "")
        .number("cost", wish.cost)
        .number("paid", wish.paid)
    )
    for row, part in enumerate(wish.parts):
        fields.text(f"part-{row}", part.name)
        fields.number(f"part_days-{row}", part.lead_days)
        fields.number(f"part_cost-{row}", part.cost)
    return fields.blank(*(f"part-{len(wish.parts) + row}" for row in range(BLANK_PARTS)))


def size_wish(key: str) -> FormEdit[None]:
    """The edit that gives the wish `key` what its form says; a decided one is left alone."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        wish = find_by_key(build.wishes, key)
        if wish is None:
            return Edited(build=build, made=None, lost=Lost(kind="wish", key=key))
        if wish.decision is not None:
            since = day(wish.decision.decided_on, today=build.now.date())
            form.fault(
                "",
                f"“{wish.text}” is decided since {since}: {wish.decision.way}. Nothing of what you"
                " typed is stored. To size it anew, press “Take the decision back” on its card"
                " first; what you typed stays here until you leave this page.",
            )
            return Edited(build=build, made=None)
        if not form.settle(wish_shown(build, wish), ROWS):
            return Edited(build=build, made=None)
        return Edited(build=_as_typed(form, build, wish), made=None)

    return edit


def entered(form: TypedForm, build: BuildInput, tasks: PickList, logged_on: dt.date) -> BuildInput:
    """The build with one more wish, as the form of its size says it."""
    taken = {wish.key for wish in build.wishes} | {task.key for task in build.tasks}
    text = " ".join(form.typed("text").split()) or "wish"
    wish = Wish(key=new_key(text, taken), text=text[:WISH_LENGTH], logged_on=logged_on)
    return _as_typed(form, replace(build, wishes=(*build.wishes, wish)), wish, tasks)


def _as_typed(
    form: TypedForm, build: BuildInput, wish: Wish, tasks: PickList | None = None
) -> BuildInput:
    tasks = tasks or PickList.of("task", build.tasks)
    sized = replace(
        wish,
        text=form.text("text", "The wish", needed=True, limit=WISH_LENGTH) or wish.text,
        size=form.one_of("size", "Quick size", (size.key for size in build.wish_sizes)),
        hours=read_hours(form, "", "Fitting it"),
        rough_in_hours=read_hours(form, "rough_", "Roughing in"),
        later_extra_hours=form.hours("later_extra", "Extra hours if it is fitted later"),
        subsystem=form.one_of("subsystem", "Subsystem", (one.key for one in build.subsystems)),
        setup=form.one_of("setup", "Setup", (one.key for one in build.shop.setups)),
        after=form.picked("after", "Comes after", tasks),
        before=form.picked("before", "Comes before", tasks),
        parts=_read_parts(form),
        cost=form.decimal("cost", "Other money"),
        paid=form.paid("paid", "Other money, paid"),
    )
    if not form.faults:
        for fault in attachment_faults(build, sized):
            form.fault(fault.field, fault.text)
    wishes = replaced_by_key(build.wishes, sized)
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


def _read_parts(form: TypedForm) -> tuple[WishPart, ...]:
    parts = []
    for row in form.row_numbers("part"):
        name = form.text(f"part-{row}", f"Part {row + 1}")
        label = shown(name) or f"Part {row + 1}"
        days = form.decimal(f"part_days-{row}", f"{label}, lead time", at_most=MOST_DAYS_AWAY)
        cost = form.decimal(f"part_cost-{row}", f"{label}, cost")
        if name:
            parts.append(WishPart(name=name, lead_days=days or 0.0, cost=cost or 0.0))
        elif days is not None or cost is not None:
            form.fault(f"part-{row}", f"{label}: its name is missing. Type it in.")
    return tuple(parts)


def with_more_parts(form: TypedForm) -> TypedForm:
    """The same form, as typed, with room for one more part."""
    return form.with_blanks(f"part-{max(form.row_numbers('part'), default=-1) + 1}")


def place_of_wish_fault(key: str) -> Place[None]:
    """Which field of the form of a wish a fault of the build belongs to."""

    def place(_made: None, fault: Fault) -> str:
        if fault.kind != "wish" or fault.key != key:
            return ""
        return {"hours": "likely", "rough_in_hours": "rough_likely"}.get(fault.field, fault.field)

    return place


# quick sizes --------------------------------------------------------------------------------
SIZE_ROWS = (Rows(stems=("name", "key", "well", "likely", "fights", "remove"), identity="key"),)


def sizes_shown(build: BuildInput) -> Shown:
    """The list of quick sizes as it is opened."""
    fields = Shown()
    for row, size in enumerate(build.wish_sizes):
        fields.text(f"name-{row}", size.name).choice(f"key-{row}", size.key)
        fields.points((f"well-{row}", f"likely-{row}", f"fights-{row}"), size.hours)
    start = len(build.wish_sizes)
    return fields.blank(*(f"name-{start + row}" for row in range(BLANK_SIZES)))


def edit_sizes(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The build with its quick sizes as the form says; one at least stays."""
    if not form.settle(sizes_shown(build), SIZE_ROWS):
        return Edited(build=build, made=None)
    known = {size.key: size for size in build.wish_sizes}
    taken, sizes = set(known), []
    for row in form.row_numbers("name"):
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
    return Edited(build=replace(build, wish_sizes=tuple(sizes) or build.wish_sizes), made=None)


def _typed(form: TypedForm, row: int) -> bool:
    return any(form.typed(f"{point}-{row}").strip() for point, _ in POINTS)


# wanted by, and how firm is firm ------------------------------------------------------------
def headroom_shown(build: BuildInput) -> Shown:
    """The form of the wanted-by date and of the confidence as it is opened."""
    percent = number_text(build.confidence * 100)
    return Shown().date("wanted_by", build.wanted_by).add("confidence", percent, build.confidence)


def remove_wish(key: str) -> FormEdit[None]:
    """The edit that takes a wish out; a decided one stays."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        wish = find_by_key(build.wishes, key)
        if wish is None:
            return Edited(build=build, made=None, lost=Lost(kind="wish", key=key))
        if wish.decision is not None:
            form.fault("", STAYS.format(wish.text))
        else:
            is_as_asked(form, goes_with_wish(wish))
        left = tuple(each for each in build.wishes if each.key != key)
        return Edited(build=replace(build, wishes=left), made=None)

    return edit


def goes_with_wish(wish: Wish) -> tuple[GoesWith, ...]:
    """What is lost with a wish: what it says, and how it was decided."""
    text = replace(wish, decision=None)
    return (
        GoesWith(name="text", state=text, now="it was sized or written anew"),
        GoesWith(name="decision", state=wish.decision, now="its decision was taken back"),
    )


STAYS = "“{}” is decided, and a decision is kept. Take it back first if it is to be removed."


def edit_headroom(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The edit of the wanted-by date and of the confidence."""
    if not form.settle(headroom_shown(build)):
        return Edited(build=build, made=None)
    wanted_by = form.date("wanted_by", "Wanted by")
    if wanted_by is not None and wanted_by < build.now.date() and wanted_by != build.wanted_by:
        form.fault("wanted_by", "Wanted by: that day is past. Pick one that is to come.")
    changed = replace(build, wanted_by=wanted_by, confidence=_read_confidence(form, build))
    return Edited(build=changed, made=None)


def _read_confidence(form: TypedForm, build: BuildInput) -> float:
    if form.is_as_stored("confidence"):
        return build.confidence
    share = form.decimal("confidence", "Firm means", needed=True)
    if share is None:
        return build.confidence
    if not LEAST_PERCENT <= share <= MOST_PERCENT:
        form.fault(
            "confidence",
            f"Firm means: “{shown(form.typed('confidence'))}” of 100 times will not do."
            f" Type a number from {LEAST_PERCENT:.0f} to {MOST_PERCENT:.0f}.",
        )
        return build.confidence
    return round(share / 100, 4)


def place_of_headroom_fault(_made: None, fault: Fault) -> str:
    """Which field a fault of the build belongs to."""
    return fault.field if fault.field in ("wanted_by", "confidence") else ""
