"""Plumbing over HTTP: the bay, a circuit, a run, and the lists that follow from them."""

from fastapi import APIRouter
from fastapi.responses import Response

from webapp.pages import addresses
from webapp.pages.forms.posted import whole_number
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.gone import gone
from webapp.pages.frame.notice import notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing import (
    circuit_routes,
    component_routes,
    coolant_routes,
    cut_routes,
    list_routes,
    removing_routes,
    room_routes,
    run_routes,
    run_task_routes,
    shelf_routes,
    work_routes,
)
from webapp.pages.plumbing.bay_view import bay_view
from webapp.pages.plumbing.circuit_view import circuit_view
from webapp.pages.plumbing.drawn_page import PAGE, not_to_be_drawn
from webapp.pages.plumbing.run_routes import show_run
from webapp.pages.plumbing.seen import seen_of
from webapp.pages.words.plumbing_drawn import WITHOUT_CHOICES

router = APIRouter(include_in_schema=False)
router.include_router(work_routes.router)
router.include_router(list_routes.router)
router.include_router(cut_routes.router)
router.include_router(coolant_routes.router)
router.include_router(room_routes.router)
router.include_router(removing_routes.router)
router.include_router(run_routes.router)
router.include_router(run_task_routes.router)
router.include_router(component_routes.router)
router.include_router(circuit_routes.router)
router.include_router(shelf_routes.router)


@router.get("/builds/{slug}/plumbing")
def plumbing(slug: str, services: ServicesOf, key: str = "", since: str = "") -> Response:
    """The circuits; with `key` the page of that one (a key that no path can carry)."""
    if key:
        return one_circuit(slug, key, services, since)
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None or not page.build.plumbing.circuits:
        return not_to_be_drawn(page)
    kept = page.planned.circuits
    view = kept.get_or_keep(("bay", page.today), lambda: bay_view(seen))
    notice = notice_of(services, page, since, addresses.plumbing(slug))
    return render("plumbing/bay.html", title="Plumbing", page=page, view=view, notice=notice)


@router.get("/builds/{slug}/plumbing/{key:path}")
def one_circuit(slug: str, key: str, services: ServicesOf, since: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page)
    if key not in seen.circuits:
        raise gone(services, slug, "circuit", key)
    kept = page.planned.circuits
    view = kept.get_or_keep(("circuit", key, page.today), lambda: circuit_view(seen, key))
    notice = notice_of(services, page, since, addresses.circuit(slug, key))
    return render(
        "plumbing/circuit.html",
        title=view.name,
        page=page,
        view=view,
        key=key,
        notice=notice,
        without=WITHOUT_CHOICES,
    )


@router.get("/builds/{slug}/runs")
def run_by_key(
    slug: str,
    services: ServicesOf,
    key: str = "",
    since: str = "",
    typing: str = "",
    before: str = "",
) -> Response:
    """A run whose key no path can carry."""
    return one_run(slug, key, services, since, typing, before)


@router.get("/builds/{slug}/runs/{key:path}")
def one_run(
    slug: str,
    key: str,
    services: ServicesOf,
    since: str = "",
    typing: str = "",
    before: str = "",
) -> Response:
    """A run; with `typing` its next piece is ready to be typed, with `before` one in between."""
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page)
    notice = notice_of(services, page, since, addresses.run(slug, key))
    return show_run(
        services,
        page,
        seen,
        key,
        notice=notice,
        is_typing=bool(typing),
        before=whole_number(before),
    )
