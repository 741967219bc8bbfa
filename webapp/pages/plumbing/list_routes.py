"""The lists of plumbing over HTTP: what to buy, every joint, what lies on the shelf."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.plumbing import NOTHING_PLUMBED
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing.drawn_page import PAGE, not_to_be_drawn, pressed
from webapp.pages.plumbing.list_views import buy_view, joints_view, shelf_lines, shelf_view
from webapp.pages.plumbing.seen import seen_of
from webapp.pages.plumbing.to_parts import lead_shown, put_list_into_parts, put_on_the_shelf
from webapp.services.changes import Refused

router = APIRouter(include_in_schema=False)
SHELF = "shelf.html"
_VIEWS = {"buy_list.html": buy_view, "joints.html": joints_view, SHELF: shelf_view}


@router.get("/builds/{slug}/buy-list")
def to_buy(slug: str, services: ServicesOf, since: str = "") -> Response:
    """What is drawn and lacks."""
    page = page_of(services, slug, PAGE)
    notice = notice_of(services, page, since, addresses.buy_list(slug))
    return _buy_list(page, TypedForm.opened(lead_shown(page.build)), notice)


@router.post("/builds/{slug}/buy-list")
def into_parts(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """One press: what lacks becomes parts, or the parts follow it."""
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, put_list_into_parts)
    if isinstance(done, Refused):
        return _buy_list(page_of(services, slug, PAGE), form, NO_NOTICE, status=422)
    return RedirectResponse(told(addresses.buy_list(slug), done), status_code=303)


@router.get("/builds/{slug}/joints")
def joints(slug: str, services: ServicesOf) -> Response:
    """Every joint, to be printed."""
    return _list(page_of(services, slug, PAGE), "joints.html", "Joints")


@router.get("/builds/{slug}/shelf")
def shelf(slug: str, services: ServicesOf, since: str = "") -> Response:
    """What lies unused."""
    page = page_of(services, slug, PAGE)
    notice = notice_of(services, page, since, addresses.shelf(slug))
    return _list(page, SHELF, "Shelf", notice)


@router.post("/builds/{slug}/onto-shelf")
def onto_shelf(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """One press: what a part brings lies on the shelf."""
    form = TypedForm.of(posted)
    return pressed(slug, services, form, put_on_the_shelf, addresses.shelf(slug))


def _buy_list(page: PageContext, form: TypedForm, notice: Notice, *, status: int = 200) -> Response:
    return _list(page, "buy_list.html", "Buy list", notice, form=form, status=status)


def _list(
    page: PageContext,
    template: str,
    title: str,
    notice: Notice = NO_NOTICE,
    *,
    form: TypedForm | None = None,
    status: int = 200,
) -> Response:
    seen = seen_of(page)
    if seen is None or page.build.plumbing == NOTHING_PLUMBED:
        return not_to_be_drawn(page)
    kept = page.planned.circuits
    view = kept.get_or_keep((template, page.today), lambda: _VIEWS[template](seen))
    return render(
        f"plumbing/{template}",
        status=status,
        title=title,
        page=page,
        view=view,
        each=shelf_lines(seen) if template == SHELF else (),
        form=form or TypedForm(),
        notice=notice,
    )
