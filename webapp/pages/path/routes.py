"""Path over HTTP."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.rendering import render
from webapp.pages.path.views import path_view
from webapp.pages.words.the_end import the_end

router = APIRouter()


@router.get("/builds/{slug}/path")
def path(slug: str, services: ServicesOf) -> HTMLResponse:
    """The path to first start, drawn and listed."""
    page = page_of(services, slug, "Path")
    return render("path/path.html", title=f"Path to {the_end()}", page=page, view=path_view(page))
