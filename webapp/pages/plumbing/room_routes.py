"""Rooms over HTTP: what is left of each measured space, and the form of one."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.by_key import find_by_key
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.gone import gone
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing.room_forms import edit_room, place_of_fault, room_shown, with_more_rows
from webapp.pages.plumbing.room_view import room_lines
from webapp.services.changes import Refused

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/room")
def room(slug: str, services: ServicesOf, key: str = "", since: str = "") -> Response:
    """Every room; with `key` the form of that one, else of a new one."""
    page = page_of(services, slug, "Plumbing")
    stored = find_by_key(page.build.rooms, key)
    if key and stored is None:
        raise gone(services, slug, "room", key)
    notice = notice_of(services, page, since, addresses.room(slug, key))
    return _show(page, key, TypedForm.opened(room_shown(stored)), notice=notice)


@router.post("/builds/{slug}/room")
def save_room(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    form = TypedForm.of(posted)
    if form.typed("more"):
        first = max(form.row_numbers("thing"), default=-1) + 1
        return _show(page_of(services, slug, "Plumbing"), key, with_more_rows(form, first))
    done = change_by_form(services, slug, form, edit_room(key), place_of_fault)
    if isinstance(done, Refused):
        return _show(page_of(services, slug, "Plumbing"), key, form, status=422)
    return RedirectResponse(told(addresses.room(slug), done), status_code=303)


def _show(
    page: PageContext, key: str, form: TypedForm, *, status: int = 200, notice: Notice = NO_NOTICE
) -> Response:
    return render(
        "plumbing/room.html",
        status=status,
        title="Room",
        page=page,
        lines=room_lines(page.build, page.slug),
        form=form,
        key=key,
        rows=form.row_numbers("thing"),
        kinds=(("piece", "piece"), ("gap", "gap")),
        notice=notice,
    )
