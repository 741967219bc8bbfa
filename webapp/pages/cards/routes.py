"""Tonight's job cards over HTTP: a page to be printed."""

from fastapi import APIRouter, Request
from fastapi.responses import Response

from webapp.pages.bench.not_tonight import passed_over
from webapp.pages.cards.views import cards_view
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.rendering import render

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/bench/cards")
def cards(slug: str, services: ServicesOf, request: Request) -> Response:
    """The task on the bench and those of the coming session, on two sheets at most."""
    page = page_of(services, slug, "Bench")
    view = cards_view(page, passed_over(request.cookies, page.now))
    return render("cards/cards.html", title="Job cards", page=page, view=view)
