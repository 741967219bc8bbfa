"""What every page has on which plumbing is drawn: the plumbing, or why it can not be drawn yet."""

from typing import Any

from fastapi.responses import RedirectResponse, Response

from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, page_of
from webapp.pages.frame.form_change import FormEdit, change_by_form, told
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing.seen import Seen, seen_of
from webapp.services.changes import Refused
from webapp.services.program import Services

PAGE = "Plumbing"
NOT_STORED = "That was not stored"


def seen_or_none(page: PageContext) -> Seen | None:
    """The plumbing of the build; None while its faults stand in the way."""
    return seen_of(page)


def not_to_be_drawn(page: PageContext) -> Response:
    """The page that says what stands in the way."""
    return render("plumbing/nothing.html", title="Plumbing", page=page)


def not_yet(
    page: PageContext, heading: str, texts: tuple[str, ...], back: str, status: int
) -> Response:
    """Why something can not be done yet, and the way back."""
    return render(
        "plumbing/refused.html",
        status=status,
        title=heading,
        page=page,
        texts=texts,
        back=back,
    )


def pressed(
    slug: str, services: Services, form: TypedForm, edit: FormEdit[Any], back: str
) -> Response:
    """Store a press and go back to where it was made, or say why it was not stored."""
    done = change_by_form(services, slug, form, edit)
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        texts = tuple(dict.fromkeys(fault.text for fault in form.faults))
        return not_yet(page, NOT_STORED, texts, back, 422)
    return RedirectResponse(told(back, done), status_code=303)
