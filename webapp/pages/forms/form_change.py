"""A change made by a form: all its faults and the build's in one answer, else stored.

After a change the page says what it did to first start. The address carries the number of the
revision before the change and nothing else; the sentence is worked out from what was kept.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.input_checks import faults_of
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, Services, page_of
from webapp.pages.frame.errors import missing_build
from webapp.services.changes import change_build
from webapp.services.first_starts import move_words
from webapp.storage.builds import revision_of

if TYPE_CHECKING:
    from sqlmodel import Session

Edit = Callable[[BuildInput], BuildInput]
Place = Callable[[Fault], str]


def nowhere() -> Place:
    """The places of faults where there are no fields: a press, a question."""
    return lambda _fault: ""


class _FormRefused(Exception):  # noqa: N818  ends the transaction, nothing went wrong
    """The form has faults: nothing may be stored."""


def change_by_form(
    services: Services,
    slug: str,
    form: TypedForm,
    edit: Edit,
    place: Callable[[], Place],
    *,
    also: "Callable[[Session], None] | None" = None,
) -> int | None:
    """Store what `edit` makes of the build, unless the form or the build then has faults.

    `edit` notes what it can not read in the form and stands in for it, so that the build's own
    checks still run; `place` (asked for afterwards) says which field a fault of the build
    belongs to. A field that is faulty already gets no second fault.

    Returns
    -------
    The revision before the change, for `told`; None when nothing was stored.
    """

    def checked(before: BuildInput) -> BuildInput:
        after = edit(before)
        if form.faults:
            known = set(faults_of(before))
            _note(form, tuple(f for f in faults_of(after) if f not in known), place())
            raise _FormRefused
        return after

    since = first_start_before(services, slug)
    try:
        faults = change_build(services, slug, checked, also=also)
    except _FormRefused:
        return None
    _note(form, faults, place())
    return None if faults else since


def _note(form: TypedForm, faults: tuple[Fault, ...], place: Place) -> None:
    faulty = {fault.field for fault in form.faults}
    for fault in faults:
        field = place(fault)
        if not field or field not in faulty:
            form.fault(field, fault.text)


def first_start_before(services: Services, slug: str) -> int:
    """Keep first start as planned now, before a change; the revision it belongs to."""
    page = page_of(services, slug, "")
    with services.database.reading() as session:
        revision = revision_of(session, slug)
    if revision is None:
        raise missing_build(slug)
    services.first_starts.keep(slug, revision, page.plan.first_start_at if page.plan else None)
    return revision


def told(address: str, since: int) -> str:
    """The address to go to after a change; the page there says how first start moved."""
    path, mark, fragment = address.partition("#")
    return f"{path}{'&' if '?' in path else '?'}since={since}{mark}{fragment}"


def notice_of(services: Services, page: PageContext, since: str) -> str:
    """The sentence about the change since revision `since`; "" where there is none to tell."""
    if not since.isascii() or not since.isdecimal() or len(since) > 12:
        return ""
    kept, before = services.first_starts.recall(page.slug, int(since))
    if not kept:
        return ""
    after = page.plan.first_start_at if page.plan else None
    return f"Saved. {move_words(before, after, today=page.today)}"
