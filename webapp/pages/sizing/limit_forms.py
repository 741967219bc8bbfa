"""The form of a limit: the person's own goes before the usual one, and is given back to it."""

from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.data_sheet import AT_LEAST, LIMIT_UNITS, ONE_PLACE, CheckName, OwnLimit
from webapp.build.edited import Edited
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.sizing.amounts import needed, reader_of, show_amount, unit_here

HERE, EVERYWHERE = "here", "everywhere"


def own_limit(build: BuildInput, check: CheckName, at: str) -> OwnLimit | None:
    """The limit that was typed for a place, else the one for everywhere."""
    found = {one.at: one for one in build.data_sheet.limits if one.check == check}
    return found.get(at) or found.get("")


def limit_unit(build: BuildInput, check: CheckName, at: str) -> str:
    """What the number of a check is in at a place."""
    wire = find_by_key(build.data_sheet.wires, at)
    if check in ONE_PLACE and wire is not None and wire.use == "starter":
        return "V"
    return LIMIT_UNITS[check]


def limit_shown(build: BuildInput, check: CheckName, at: str) -> Shown:
    """The form of a limit as it is opened."""
    stored, unit = own_limit(build, check, at), limit_unit(build, check, at)
    shown = Shown()
    show_amount(shown, "ok", None if stored is None else stored.ok, unit)
    show_amount(shown, "tight", None if stored is None else stored.tight, unit)
    shown.text("source", "" if stored is None else stored.source)
    is_everywhere = stored is not None and not stored.at
    shown.choice("where", EVERYWHERE if is_everywhere or not at else HERE)
    return shown


def edit_limit(check: CheckName, at: str) -> FormEdit[TypedForm]:
    """The edit that stores an own limit, or gives the check back to the usual one."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[TypedForm]:
        stored, shown = own_limit(build, check, at), limit_shown(build, check, at)
        if form.takes_out("usual", shown, what="The limit"):
            left = tuple(one for one in build.data_sheet.limits if one is not stored)
            return Edited(build=_with(build, left), made=form)
        if not form.settle(shown) and stored is not None:
            return Edited(build=build, made=form)
        limit = _read(form, build, check, at)
        left = tuple(
            one
            for one in build.data_sheet.limits
            if (one.check, one.at) != (check, limit.at) and (limit.at or one is not stored)
        )
        return Edited(build=_with(build, (*left, limit)), made=form)

    return edit


def _with(build: BuildInput, limits: tuple[OwnLimit, ...]) -> BuildInput:
    return replace(build, data_sheet=replace(build.data_sheet, limits=limits))


def _read(form: TypedForm, build: BuildInput, check: CheckName, at: str) -> OwnLimit:
    unit = limit_unit(build, check, at)
    ok = needed(form, "ok", "Ok to" if check not in AT_LEAST else "Ok from", reader_of(unit))
    tight = form.read("tight", "Tight", reader_of(unit))
    source = form.text("source", "Who says so", needed=True)
    is_here = bool(at) and (check in ONE_PLACE or form.typed("where") != EVERYWHERE)
    if tight is not None and not form.faults and (tight < ok) != (check in AT_LEAST):
        way = "below" if check in AT_LEAST else "above"
        if tight != ok:
            form.fault(
                "tight",
                f"Tight is what comes after ok: a number {way} {form.typed('ok').strip()}"
                f" {unit_here(unit)}, or nothing.",
            )
            tight = None
    return OwnLimit(check=check, at=at if is_here else "", ok=ok, tight=tight, source=source)


def place_of_fault(form: TypedForm, fault: Fault) -> str:
    """Which field of the form a fault of the build belongs to."""
    del form
    return fault.field if fault.kind == "limit" and fault.field in ("ok", "tight", "source") else ""
