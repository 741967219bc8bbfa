"""Finding over HTTP: a question in the address, so that what was found can be come back to."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from webapp.pages.find.views import find_view
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.rendering import render

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/find")
def find(slug: str, services: ServicesOf, words: str = "", kind: str = "") -> HTMLResponse:
    """What holds all the words; nothing is looked for without any."""
    page = page_of(services, slug, "Find")
    return render("find/find.html", title="Find", page=page, view=find_view(page, words, kind))
