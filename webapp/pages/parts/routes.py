"""Parts over HTTP: the list with its order-by dates, and adding, editing, removing a part."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import BuildInput, Part
from webapp.build.by_key import find_by_key
from webapp.pages import addresses
from webapp.pages.forms.asking import seen_of
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_thing
from webapp.pages.frame.form_change import FormEdit, change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render, render_question
from webapp.pages.parts.brought import brought_by
from webapp.pages.parts.buying import parts_list
from webapp.pages.parts.forms import (
    NEW,
    arrived,
    edit_part,
    goes_with_part,
    ordered_today,
    place_of_fault,
    remove_part,
    shown_of,
)
from webapp.pages.parts.views import parts_view
from webapp.pages.words.plumbing_gone import gone_with_part
from webapp.services.changes import Refused
from webapp.services.program import Services

router = APIRouter(include_in_schema=False)
PAGE = "Parts"


def part_of(build: BuildInput, slug: str, key: str) -> Part:
    """The part with this key, or an answer that names it and says where to go on."""
    found = find_by_key(build.parts, key)
    if found is None:
        raise missing_thing(slug, "part", key[:60])
    return found


@router.get("/builds/{slug}/parts")
def parts(slug: str, services: ServicesOf, since: str = "", key: str = "") -> Response:
    """The parts; with `key` the form of that one (a key that no path can carry)."""
    if key:
        return one_part(slug, key, services)
    page = page_of(services, slug, PAGE)
    return _show_list(page, notice=notice_of(services, page, since, addresses.parts(slug)))


@router.get("/builds/{slug}/parts-list")
def list_to_print(slug: str, services: ServicesOf) -> Response:
    """What is to be ordered and what is under way, by supplier."""
    page = page_of(services, slug, PAGE)
    view = parts_list(page)
    return render("parts/parts_list.html", title="Parts list", page=page, view=view)


def _show_list(
    page: PageContext,
    *,
    status: int = 200,
    notice: Notice = NO_NOTICE,
    refused: tuple[str, ...] = (),
) -> Response:
    return render(
        "parts/parts.html",
        status=status,
        title="Parts",
        page=page,
        view=parts_view(page),
        notice=notice,
        refused=refused,
    )


@router.get("/builds/{slug}/parts/new")
def new_part(slug: str, services: ServicesOf) -> Response:
    page = page_of(services, slug, PAGE)
    return _show_part(page, None, TypedForm.opened(shown_of(page.build, NEW)))


@router.post("/builds/{slug}/parts/new")
def enter_part(slug: str, services: ServicesOf, posted: Typed) -> Response:
    return _store(slug, None, services, TypedForm.of(posted))


@router.post("/builds/{slug}/parts")
def edit_part_by_key(slug: str, key: str, services: ServicesOf, posted: Typed) -> Response:
    return _store(slug, key, services, TypedForm.of(posted))


@router.get("/builds/{slug}/parts/{key:path}")
def one_part(slug: str, key: str, services: ServicesOf) -> Response:
    page = page_of(services, slug, PAGE)
    part = part_of(page.build, slug, key)
    return _show_part(page, part, TypedForm.opened(shown_of(page.build, part)))


@router.post("/builds/{slug}/parts/{key:path}")
def change_part(slug: str, key: str, services: ServicesOf, posted: Typed) -> Response:
    return _store(slug, key, services, TypedForm.of(posted))


def _store(slug: str, key: str | None, services: Services, form: TypedForm) -> Response:
    if form.typed("more"):
        page = page_of(services, slug, PAGE)
        return _show_part(page, part_of(page.build, slug, key) if key else None, _more(form))
    done = change_by_form(services, slug, form, edit_part(key), place_of_fault)
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        part = None if key is None else part_of(page.build, slug, key)
        return _show_part(page, part, form, status=422)
    return RedirectResponse(told(addresses.parts(slug), done), status_code=303)


def _more(form: TypedForm) -> TypedForm:
    """The same form, as typed, with room for one more task."""
    return form.with_blanks(f"serves-{max(form.row_numbers('serves'), default=-1) + 1}")


def _show_part(
    page: PageContext, part: Part | None, form: TypedForm, *, status: int = 200
) -> Response:
    return render(
        "parts/part.html",
        status=status,
        title=part.name if part else "New part",
        page=page,
        part=part,
        action=addresses.part(page.slug, part.key) if part else addresses.new_part(page.slug),
        form=form,
        brought=brought_by(page, part) if part else None,
        rows=form.row_numbers("serves"),
        tasks=PickList.of("task", page.build.tasks).labels,
    )


@router.post("/builds/{slug}/part-here")
def part_here(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """One press: the part has arrived."""
    return _listed(slug, services, TypedForm.of(posted), arrived)


@router.post("/builds/{slug}/part-ordered")
def part_ordered(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """One press: the part was ordered today."""
    return _listed(slug, services, TypedForm.of(posted), ordered_today)


@router.get("/builds/{slug}/part-here")
@router.get("/builds/{slug}/part-ordered")
def after_a_press(slug: str) -> Response:
    """A reload of an address that only takes changes leads to Parts."""
    return RedirectResponse(addresses.parts(slug), status_code=303)


@router.get("/builds/{slug}/remove-part")
def ask_to_remove(slug: str, services: ServicesOf, key: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    return _ask(page, page.build, part_of(page.build, slug, key), TypedForm())


@router.post("/builds/{slug}/remove-part")
def remove(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, remove_part(key))
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        return _ask(page, done.before, part_of(done.before, slug, key), form, status=422)
    return RedirectResponse(told(addresses.parts(slug), done), status_code=303)


def _ask(
    page: PageContext, build: BuildInput, part: Part, form: TypedForm, *, status: int = 200
) -> Response:
    """The question, about the part as it is in `build`."""
    return render_question(
        f"Remove the part “{part.name}”?",
        status=status,
        title="Remove this part?",
        page=page,
        seen=seen_of(goes_with_part(build, part)),
        texts=(
            *(fault.text for fault in form.faults),
            "The tasks it serves then begin without it.",
            *filter(None, (gone_with_part(build, part.key),)),
        ),
        action=addresses.remove_part(page.slug, part.key),
        button="Remove the part",
        back=addresses.part(page.slug, part.key),
    )


def _listed(slug: str, services: Services, form: TypedForm, edit: FormEdit[None]) -> Response:
    """Store a change that has no form of its own and go back to the list."""
    done = change_by_form(services, slug, form, edit)
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        return _show_list(page, status=422, refused=tuple(fault.text for fault in form.faults))
    return RedirectResponse(told(addresses.parts(slug), done), status_code=303)
