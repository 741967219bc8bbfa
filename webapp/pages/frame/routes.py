"""The parts of the frame that are asked for alone, while they are worked out."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from webapp.pages import addresses
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.notice import notice_of
from webapp.pages.frame.rendering import render

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/gauges")
def gauges(slug: str, services: ServicesOf) -> HTMLResponse:
    """First start and headroom, with the forecast's figures once they are worked out."""
    return render("frame/_gauges.html", page=page_of(services, slug, ""))


@router.get("/builds/{slug}/notice")
def notice(slug: str, services: ServicesOf, since: str, back: str = "") -> HTMLResponse:
    """What the last change did to first start, once more draws say it."""
    page = page_of(services, slug, "")
    told = notice_of(services, page, since, addresses.page_of_build(slug, back))
    return render("forms/_notice.html", page=page, notice=told)
