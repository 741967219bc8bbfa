"""Path over HTTP: the path to first start, tightening the order, keeping what was found."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.forms.posted import Typed, text_of
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_build
from webapp.pages.frame.form_change import told, why_refused
from webapp.pages.frame.rendering import render
from webapp.pages.order.kept import follow, searched_again_view
from webapp.pages.path.tightening import SECONDS, tighten_view
from webapp.pages.path.views import path_view
from webapp.pages.words.the_end import the_end
from webapp.planning.order.order_that_holds import KeptOrder
from webapp.services.changes import Refused, change
from webapp.services.program import Services

router = APIRouter()

NOT_THERE = "What was found is not at hand any more: tighten again, it takes the time you give it."
WRONG_SECONDS = "Pick how many seconds to spend: 10, 30 or 120."


@router.get("/builds/{slug}/path")
def path(slug: str, services: ServicesOf) -> HTMLResponse:
    """The path to first start, drawn and listed."""
    return _path(services, page_of(services, slug, "Path"))


def _path(
    services: Services, page: PageContext, *, status: int = 200, wrong: str = ""
) -> HTMLResponse:
    return render(
        "path/path.html",
        status=status,
        title=f"Path to {the_end()}",
        page=page,
        view=path_view(page),
        tighten=tighten_view(page, services.tightenings.of(page.slug), wrong),
        searched=searched_again_view(page),
    )


# tightening ---------------------------------------------------------------------------------
@router.get("/builds/{slug}/tightening", include_in_schema=False)
def tightening(slug: str, services: ServicesOf) -> HTMLResponse:
    """How far tightening has come, or what it found."""
    page = page_of(services, slug, "Path")
    run = services.tightenings.of(slug)
    tighten = tighten_view(page, run)
    return render(
        "path/_tighten.html", page=page, tighten=tighten, searched=searched_again_view(page)
    )


@router.get("/builds/{slug}/tighten")
@router.get("/builds/{slug}/keep-order", include_in_schema=False)
def back_to_tightening(slug: str) -> Response:
    """Where a reload leads after a press that was refused."""
    return RedirectResponse(addresses.tightening_on_path(slug), status_code=303)


@router.post("/builds/{slug}/tighten")
def tighten(slug: str, services: ServicesOf, form: Typed) -> Response:
    """Begin to look for an earlier order, beside the pages."""
    page = page_of(services, slug, "Path")
    seconds = text_of(form, "seconds")
    if seconds not in map(str, SECONDS):
        return _path(services, page, status=422, wrong=WRONG_SECONDS)
    if tighten_view(page, None).offered:
        planned = page.planned
        measured = planned.searched_again().value
        services.tightenings.begin(
            slug,
            planned.planned_input,
            planned.version,
            int(seconds),
            starts=() if measured is None else (measured.order,),
        )
    return RedirectResponse(addresses.tightening_on_path(slug), status_code=303)


@router.post("/builds/{slug}/stop-tightening")
def stop(slug: str, services: ServicesOf, form: Typed) -> Response:
    """End the run: with what it has, or (`cancel`) without a word."""
    page_of(services, slug, "Path")
    services.tightenings.stop(slug, cancel=text_of(form, "cancel") == "1")
    return RedirectResponse(addresses.tightening_on_path(slug), status_code=303)


@router.post("/builds/{slug}/keep-order")
def keep(slug: str, services: ServicesOf, form: Typed) -> Response:
    """Follow an order that was found from now on, or put what was found away.

    `keep` is "found" for the best order for the likely hours, "drawn" for the best over the draws.

    Where it is not stored the page says why, and what tightening found stays at hand.
    """
    page = page_of(services, slug, "Path")
    run = services.tightenings.of(slug)
    which = text_of(form, "keep")
    if which not in ("found", "drawn"):
        services.tightenings.put_away(slug)
        return RedirectResponse(addresses.tightening_on_path(slug), status_code=303)
    found = run.found if run is not None and text_of(form, "run") == str(run.number) else None
    if found is None or (which == "drawn" and found.orders is None):
        return _path(services, page, status=409, wrong=NOT_THERE)
    order = KeptOrder(keys=found.tightened.order)
    if which == "drawn" and found.orders is not None:
        order = found.orders.drawn.order
    done = change(services, slug, follow(order))
    if done is None:
        raise missing_build(slug)
    if isinstance(done, Refused):
        return _path(services, page_of(services, slug, "Path"), status=422, wrong=why_refused(done))
    services.tightenings.put_away(slug)
    return RedirectResponse(told(addresses.order(slug), done), status_code=303)
