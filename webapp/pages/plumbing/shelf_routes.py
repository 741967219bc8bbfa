"""The shelf over HTTP: things put there, changed, taken away."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.forms.posted import Typed, whole_number
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.gone import line_gone
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing import shelf_forms
from webapp.pages.plumbing.drawn_page import PAGE, pressed
from webapp.pages.plumbing.list_views import shelf_address
from webapp.pages.plumbing.piece_forms import digest_of
from webapp.pages.words import plumbing_drawn as offered
from webapp.pages.words import sizes
from webapp.plumbing.names import piece_name
from webapp.services.changes import Refused
from webapp.services.program import Services

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/new-on-shelf")
def new_on_shelf(slug: str, services: ServicesOf) -> Response:
    return _show_new(slug, services, None)


@router.post("/builds/{slug}/new-on-shelf")
def enter_on_shelf(slug: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, shelf_forms.enter_thing, shelf_forms.place_of_fault)
    if isinstance(done, Refused):
        return _show_new(slug, services, form)
    return RedirectResponse(told(addresses.shelf(slug), done), status_code=303)


def _show_new(slug: str, services: Services, form: TypedForm | None) -> Response:
    page = page_of(services, slug, PAGE)
    return render(
        "plumbing/shelf_thing.html",
        status=422 if form else 200,
        title="Put on the shelf",
        page=page,
        heading="Put on the shelf",
        form=form or TypedForm.opened(shelf_forms.shown_thing(shelf_forms.NEW)),
        action=addresses.new_on_shelf(slug),
        about=None,
        things=offered.THINGS,
        offered=offered,
    )


@router.get("/builds/{slug}/shelf-thing")
def one_thing(
    slug: str, services: ServicesOf, at: str = "", key: str = "", name: str = ""
) -> Response:
    return _show(slug, services, whole_number(at), key, name, None)


@router.post("/builds/{slug}/shelf-thing")
def change_thing(
    slug: str, services: ServicesOf, posted: Typed, at: str = "", key: str = "", name: str = ""
) -> Response:
    form, place = TypedForm.of(posted), whole_number(at)
    edit = shelf_forms.edit_thing(place, key, name)
    done = change_by_form(services, slug, form, edit, shelf_forms.place_of_fault)
    if isinstance(done, Refused):
        return _show(slug, services, place, key, name, form)
    return RedirectResponse(told(addresses.shelf(slug), done), status_code=303)


def _show(
    slug: str, services: Services, place: int, key: str, name: str, form: TypedForm | None
) -> Response:
    page = page_of(services, slug, PAGE)
    at = shelf_forms.line_or_like(page.build, place, key, name)
    if at is None:
        raise line_gone(slug, sizes.called(name), form)
    thing = page.build.plumbing.shelf[at]
    called = sizes.called(piece_name(thing))
    return render(
        "plumbing/shelf_thing.html",
        status=422 if form else 200,
        title=called,
        page=page,
        heading=called,
        form=form or TypedForm.opened(shelf_forms.shown_thing(thing)),
        action=shelf_address(slug, at, thing),
        about=(at, digest_of(thing)),
        things=offered.THINGS,
        offered=offered,
    )


@router.post("/builds/{slug}/take-from-shelf")
def take_from_shelf(slug: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted)
    return pressed(slug, services, form, shelf_forms.take_away, addresses.shelf(slug))


@router.get("/builds/{slug}/take-from-shelf")
@router.get("/builds/{slug}/onto-shelf")
def after_a_refusal(slug: str) -> Response:
    """A reload of an address that only takes changes leads to the shelf."""
    return RedirectResponse(addresses.shelf(slug), status_code=303)
