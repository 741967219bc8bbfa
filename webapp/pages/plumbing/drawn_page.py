"""What every page has on which plumbing is drawn: why it can not be drawn yet, and its presses."""

from typing import Any

from fastapi.responses import RedirectResponse, Response

from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, page_of
from webapp.pages.frame.form_change import FormEdit, change_by_form, told
from webapp.pages.frame.rendering import render
from webapp.services.changes import Refused
from webapp.services.program import Services

PAGE = "Plumbing"
NOT_STORED = "That was not stored"


def not_to_be_drawn(page: PageContext, title: str = PAGE) -> Response:
    """The page of a build in which nothing is plumbed yet, or whose faults stand in the way."""
    return render("plumbing/nothing.html", title=title, page=page)


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
