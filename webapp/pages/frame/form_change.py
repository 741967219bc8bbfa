"""A change made by a form: all its faults and the build's in one answer, else stored.

After a change the page says what it did to first start (`notice`). The address carries the numbers
of the revisions before and after the change (`since`) and nothing else.
"""

from collections.abc import Callable
from typing import Any, TypeVar

from webapp.build.build_input import BuildInput, Fault
from webapp.build.edited import Edited, Lost
from webapp.pages import addresses
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.errors import Missing, missing_build, missing_thing
from webapp.pages.frame.gone import KINDS, gone, line_gone
from webapp.pages.frame.since import Since
from webapp.pages.words.faults import said
from webapp.pages.words.money import write_money_in
from webapp.pages.words.sizes import called, write_in
from webapp.services.changes import Refused, Stored, change
from webapp.services.program import Services

Made = TypeVar("Made")
FormEdit = Callable[[TypedForm, BuildInput], Edited[Made]]
Place = Callable[[Made, Fault], str]
"""Which field a fault of the build belongs to, by what the edit made; "" for none."""


def nowhere(_made: object, _fault: Fault) -> str:
    """The places of faults where there are no fields: a press, a question."""
    return ""


def change_by_form(
    services: Services,
    slug: str,
    form: TypedForm,
    edit: FormEdit[Made],
    place: Place[Made] = nowhere,
) -> Stored[Made] | Refused[Made]:
    """Store what `edit` makes of the build, unless the form or the build then has faults.

    `edit` notes what it can not read in the form and stands in for it, so that the build's own
    checks still run. A field that is faulty already gets no second fault. What is refused stands
    in the form, each fault beside its field.

    Raises
    ------
    Missing
        When there is no such build, or not the thing that the edit is about.
    """

    def edited(build: BuildInput) -> Edited[Made]:
        write_in(build.units)
        write_money_in(build.currency)
        return _with_faults(form, edit(form, build))

    done = change(services, slug, edited)
    if done is None:
        raise missing_build(slug)
    if isinstance(done, Refused):
        if done.edited.lost is not None:
            raise _lost(services, slug, done.edited.lost, form)
        faulty = {fault.field for fault in form.faults}
        for fault in (*done.edited.faults, *done.new_faults):
            field = fault.field if fault.kind == FORM else place(done.edited.made, fault)
            if not field or field not in faulty:
                form.fault(field, said(fault, done.edited.build))
    return done


def why_refused(done: Refused[Made]) -> str:
    """Why a press was not stored, where there are no fields to say it at."""
    build = done.edited.build
    return " ".join(said(fault, build) for fault in (*done.edited.faults, *done.new_faults))


FORM = "form"
"""The kind of a fault that was found in a form: its field is the form's own."""


def _with_faults(form: TypedForm, edited: Edited[Made]) -> Edited[Made]:
    found = tuple(
        Fault(kind=FORM, key="", field=fault.field, text=fault.text) for fault in form.faults
    )
    return Edited(
        build=edited.build,
        made=edited.made,
        faults=(*edited.faults, *found),
        lost=edited.lost,
        is_refused=edited.is_refused,
    )


def _lost(services: Services, slug: str, lost: Lost, form: TypedForm) -> Missing:
    """The answer where a thing is not there; what is plumbed is told with what was typed of it."""
    if lost.kind == "line of the shelf":
        return line_gone(slug, called(lost.key), form)
    if lost.kind in KINDS:
        return gone(services, slug, lost.kind, lost.key, form)
    return missing(slug, lost)


def missing(slug: str, lost: Lost) -> Missing:
    """The answer where a thing is not there that was to be changed."""
    if lost.kind == "wish":
        return Missing(
            f"There is no wish “{lost.key[:60]}” in this build. It may have been removed; the"
            " wishes there are stand on their page.",
            back_to=addresses.wishes(slug),
        )
    if lost.kind == "log":
        return Missing(
            "This entry of the log was corrected or taken out since. What there is stands in "
            "the time log.",
            back_to=addresses.log(slug),
        )
    return missing_thing(slug, lost.kind, lost.key[:60])


def told(
    address: str, done: Stored[Any], *, since: int | None = None, is_undo: bool = False
) -> str:
    """The address to go to after a change; the page there says how first start moved.

    `since` is the revision before all that one press did, where that was more than this change.
    """
    before = done.since if since is None else since
    which = Since(before=before, after=done.revision, is_undo=is_undo)
    path, mark, fragment = address.partition("#")
    return f"{path}{'&' if '?' in path else '?'}since={which}{mark}{fragment}"
