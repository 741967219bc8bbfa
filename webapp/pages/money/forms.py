"""The forms of the money page: the currency and the limit, and that something is paid."""

from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault, Part, Task
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.limits import MOST_CURRENCY_CHARACTERS
from webapp.build.wish import Wish
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.words.quoted import shown


def settings_shown(build: BuildInput) -> Shown:
    """The currency and the limit as the form is opened."""
    return Shown().text("currency", build.currency).number("money_limit", build.money_limit)


def edit_settings(form: TypedForm, build: BuildInput) -> Edited[TypedForm]:
    """The build with the currency and the limit as typed."""
    if not form.settle(settings_shown(build)):
        return Edited(build=build, made=form)
    changed = replace(
        build,
        currency=form.text("currency", "The currency", limit=MOST_CURRENCY_CHARACTERS),
        money_limit=form.decimal("money_limit", "The limit"),
    )
    return Edited(build=changed, made=form)


def place_of_settings_fault(form: TypedForm, fault: Fault) -> str:
    """Which field a fault of the build belongs to."""
    return fault.field if fault.kind == "build" and fault.field in form.values else ""


def paid_as_estimated(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The thing in the form was paid as it was estimated; one that is paid already stays."""
    kind, key = form.typed("kind"), form.typed("key")
    things: dict[str, tuple[str, tuple[Part | Task | Wish, ...]]] = {
        "part": ("parts", build.parts),
        "task": ("tasks", build.tasks),
        "wish": ("wishes", build.wishes),
    }
    if kind not in things:
        form.fault("", "It is not said what was paid. Press the button beside it.")
        return Edited(build=build, made=None)
    field, there = things[kind]
    thing = find_by_key(there, key)
    if thing is None:
        return Edited(build=build, made=None, lost=Lost(kind=kind, key=key))
    if thing.paid is not None:
        return Edited(build=build, made=None)
    if thing.cost is None:
        name = thing.text if isinstance(thing, Wish) else thing.name
        form.fault("", f"{shown(name)}: nothing is estimated for it. Type there what was paid.")
        return Edited(build=build, made=None)
    paid = replaced_by_key(there, replace(thing, paid=thing.cost))
    changed: dict[str, object] = {field: paid}
    return Edited(build=replace(build, **changed), made=None)  # type: ignore[arg-type]
