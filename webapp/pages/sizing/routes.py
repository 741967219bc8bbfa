"""Sizing over HTTP: the checks, and the forms that what they hang on is typed into."""

from fastapi import APIRouter
from fastapi.responses import Response

from webapp.pages import addresses
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.notice import notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing.drawn_page import not_to_be_drawn
from webapp.pages.plumbing.seen import seen_of
from webapp.pages.sizing import belt_routes, limit_routes, sheet_routes, wire_routes
from webapp.pages.sizing.views import sizing_view
from webapp.pages.words.sizing import STEADY_FLOW

router = APIRouter(include_in_schema=False)
for _of in (sheet_routes, wire_routes, belt_routes, limit_routes):
    router.include_router(_of.router)


@router.get("/builds/{slug}/sizing")
def sizing(slug: str, services: ServicesOf, since: str = "") -> Response:
    """Does it carry enough: every check, with its limit and where that comes from."""
    page = page_of(services, slug, "Plumbing")
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page, "Sizing")
    return render(
        "sizing/sizing.html",
        title="Sizing",
        page=page,
        view=page.planned.circuits.get_or_keep("sizing", lambda: sizing_view(seen)),
        flow=STEADY_FLOW,
        notice=notice_of(services, page, since, addresses.sizing(slug)),
    )
