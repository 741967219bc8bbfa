"""The form of a belt over HTTP."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.by_key import find_by_key
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_thing
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.sizing.amounts import unit_here
from webapp.pages.sizing.belt_forms import DRIVES_WORDS, belt_shown, edit_belt, place_of_fault
from webapp.services.changes import Refused

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/belt")
def belt(slug: str, services: ServicesOf, key: str = "", since: str = "") -> Response:
    """The belt with that key, else a new one."""
    page = page_of(services, slug, "Plumbing")
    stored = find_by_key(page.build.data_sheet.belts, key)
    if key and stored is None:
        raise missing_thing(slug, "belt", key[:60])
    notice = notice_of(services, page, since, addresses.belt(slug, key))
    return _show(page, key, TypedForm.opened(belt_shown(stored)), notice=notice)


@router.post("/builds/{slug}/belt")
def save_belt(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    """Store it, and show what the checks say of it."""
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, edit_belt(key), place_of_fault)
    if isinstance(done, Refused):
        return _show(page_of(services, slug, "Plumbing"), key, form, status=422)
    return RedirectResponse(told(addresses.sizing(slug), done), status_code=303)


def _show(
    page: PageContext, key: str, form: TypedForm, *, status: int = 200, notice: Notice = NO_NOTICE
) -> Response:
    return render(
        "sizing/belt.html",
        status=status,
        title="Belt",
        page=page,
        form=form,
        key=key,
        rows=form.row_numbers("pulley"),
        drives=tuple(DRIVES_WORDS.items()),
        unit_here=unit_here,
        notice=notice,
    )
