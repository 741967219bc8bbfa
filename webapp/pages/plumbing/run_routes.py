"""Runs drawn over HTTP: ports joined, pieces put in one after the other, changed, taken out."""

from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import RedirectResponse, Response

from webapp.build.verbs.runs import turned_piece
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed, whole_number
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.gone import gone, piece_gone
from webapp.pages.frame.notice import NO_NOTICE, Notice
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing import next_piece_form, piece_forms, run_forms
from webapp.pages.plumbing.drawn_page import PAGE, not_to_be_drawn
from webapp.pages.plumbing.next_piece_form import next_piece, opened_next, put_next_piece
from webapp.pages.plumbing.piece_fields import shown_piece
from webapp.pages.plumbing.piece_forms import digest_of, edit_piece, piece_at, work_on_piece
from webapp.pages.plumbing.run_forms import edit_run, join, port_choices
from webapp.pages.plumbing.run_view import run_view
from webapp.pages.plumbing.seen import Seen, seen_of
from webapp.pages.words import plumbing_drawn as offered
from webapp.pages.words import sizes
from webapp.plumbing.names import piece_name
from webapp.services.changes import Refused
from webapp.services.program import Services

router = APIRouter(include_in_schema=False)


def show_run(
    services: Services,
    page: PageContext,
    seen: Seen,
    key: str,
    *,
    form: TypedForm | None = None,
    status: int = 200,
    notice: Notice = NO_NOTICE,
    is_typing: bool = False,
    before: int = 0,
) -> Response:
    """The page of a run, with the form of its next piece: at its end, or `before` a piece."""
    if key not in seen.runs:
        raise gone(services, page.slug, "run", key, form)
    view = run_view(seen, key)
    form = form or opened_next(seen, key, before)
    return render(
        "plumbing/run.html",
        status=status,
        title=view.name,
        page=page,
        view=view,
        key=key,
        notice=notice,
        form=form,
        next=next_piece(seen, key, whole_number(form.typed("before"))),
        is_typing=is_typing,
        kinds=offered.PIECES,
        ends=offered.ENDS_OR_USUAL,
        numbers=offered.NUMBER_WORDS,
        pads=offered.number_keypads(),
    )


@router.get("/builds/{slug}/new-run")
def new_run(
    slug: str,
    services: ServicesOf,
    circuit: str = "",
    begins: Annotated[str, Query(alias="from")] = "",
) -> Response:
    return _show_new_run(slug, services, circuit, None, begins)


@router.post("/builds/{slug}/new-run")
def enter_run(slug: str, services: ServicesOf, posted: Typed, circuit: str = "") -> Response:
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, join, run_forms.place_of_fault)
    if isinstance(done, Refused):
        return _show_new_run(slug, services, circuit, form)
    return RedirectResponse(told(addresses.run_with_focus(slug, done.made), done), status_code=303)


def _show_new_run(
    slug: str, services: ServicesOf, circuit: str, form: TypedForm | None, begins: str = ""
) -> Response:
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page)
    if circuit not in seen.circuits:
        raise gone(services, slug, "circuit", circuit, form)
    shown = form or TypedForm({"from_port": (begins,), "to_port": ("",), "name": ("",)})
    return render(
        "plumbing/run_form.html",
        status=422 if form else 200,
        title="Join two ports",
        page=page,
        heading="Join two ports",
        circuit=seen.circuits[circuit].circuit,
        form=shown,
        ports=port_choices(seen, circuit),
        run=None,
        action=addresses.new_run(slug, circuit),
        back=addresses.circuit(slug, circuit),
    )


@router.get("/builds/{slug}/run-form")
def run_form(slug: str, services: ServicesOf, key: str = "") -> Response:
    return _show_run_form(slug, services, key, None)


@router.post("/builds/{slug}/run-form")
def change_run(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, edit_run(key), run_forms.place_of_fault)
    if isinstance(done, Refused):
        return _show_run_form(slug, services, key, form)
    return RedirectResponse(told(addresses.run(slug, key), done), status_code=303)


def _show_run_form(slug: str, services: ServicesOf, key: str, form: TypedForm | None) -> Response:
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page)
    if key not in seen.runs:
        raise gone(services, slug, "run", key, form)
    found = seen.runs[key]
    return render(
        "plumbing/run_form.html",
        status=422 if form else 200,
        title=seen.run_name(key),
        page=page,
        heading=seen.run_name(key),
        circuit=seen.circuits[found.circuit].circuit,
        form=form or TypedForm.opened(run_forms.shown_run(found.run)),
        ports=port_choices(seen, found.circuit, found.run.ports),
        run=key,
        action=addresses.run_form(slug, key),
        back=addresses.run(slug, key),
    )


# --- pieces -----------------------------------------------------------------------------------


@router.post("/builds/{slug}/next-piece")
def enter_next_piece(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """One piece more in a run; the number of the one after it is ready to be typed."""
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, put_next_piece, next_piece_form.place_of_fault)
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        seen = seen_of(page)
        if seen is None:
            return not_to_be_drawn(page)
        return show_run(
            services, page, seen, form.typed("run"), form=form, status=422, is_typing=True
        )
    before = whole_number(form.typed("before"))
    back = addresses.run_with_focus(slug, form.typed("run"), before and before + 1)
    return RedirectResponse(told(back, done), status_code=303)


@router.get("/builds/{slug}/piece")
def one_piece(slug: str, services: ServicesOf, run: str = "", at: str = "") -> Response:
    return _show_piece(slug, services, run, whole_number(at), None)


@router.post("/builds/{slug}/piece")
def change_piece(slug: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, edit_piece, piece_forms.place_of_fault)
    key = form.typed("run")
    if isinstance(done, Refused):
        return _show_piece(slug, services, key, whole_number(form.typed("at")), form)
    return RedirectResponse(told(addresses.run(slug, key), done), status_code=303)


@router.post("/builds/{slug}/piece-work")
def piece_work(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """A piece moved, turned round, taken out, or a T put in before it."""
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, work_on_piece)
    key, at = form.typed("run"), whole_number(form.typed("at"))
    if isinstance(done, Refused):
        return _show_piece(slug, services, key, at, form, is_work=True)
    back = addresses.run(slug, key)
    if form.typed("does") == "branch":
        back = addresses.component(slug, done.made)
    return RedirectResponse(told(back, done), status_code=303)


def _show_piece(
    slug: str,
    services: ServicesOf,
    key: str,
    at: int,
    form: TypedForm | None,
    *,
    is_work: bool = False,
) -> Response:
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page)
    if key not in seen.runs:
        raise gone(services, slug, "run", key, form)
    run = seen.runs[key].run
    piece = piece_at(run, at)
    if piece is None:
        raise piece_gone(slug, key, seen.run_name(key), at, form)
    name = sizes.called(piece_name(piece, seen.drawing.circuit_of(run)))
    texts = tuple(dict.fromkeys(fault.text for fault in form.faults)) if form and is_work else ()
    shown = form if form is not None and not is_work else None
    if shown is None:
        shown = TypedForm.opened(shown_piece(piece))
        shown.put("piece_seen", digest_of(piece))
    return render(
        "plumbing/piece.html",
        status=422 if form else 200,
        title=f"Piece {at}: {name}",
        page=page,
        name=name,
        run_name=seen.run_name(key),
        run=key,
        at=at,
        count=len(run.pieces),
        digest=digest_of(piece),
        may_turn=turned_piece(piece) != piece,
        put_in=addresses.run_with_focus(slug, key, at),
        texts=texts,
        form=shown,
        offered=offered,
    )
