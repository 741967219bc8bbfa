"""Fill day over HTTP: one list, to be printed."""

from fastapi import APIRouter
from fastapi.responses import Response

from webapp.pages.fill_day.views import LEDE, NOT_DRAWN, fill_day_view
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing.drawn_page import not_to_be_drawn
from webapp.pages.plumbing.seen import seen_of

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/fill-day")
def fill_day(slug: str, services: ServicesOf) -> Response:
    """What is poured in, how much of it, and what it waits for."""
    page = page_of(services, slug, "Plumbing")
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page, "Fill day")
    return render(
        "fill_day/fill_day.html",
        title="Fill day",
        page=page,
        view=fill_day_view(page, seen),
        lede=LEDE,
        not_drawn=NOT_DRAWN,
    )
