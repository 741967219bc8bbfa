"""The report over HTTP: a page that asks what is to be in it, and the file."""

from fastapi import APIRouter
from fastapi.responses import Response

from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.kept_files import streamed, to_keep
from webapp.pages.frame.rendering import render
from webapp.pages.report.choice import ReportChoice
from webapp.pages.report.writer import report_pieces
from webapp.services.seed_builds import check_list_of

router = APIRouter(include_in_schema=False)
PAGE = "Shop"


@router.get("/builds/{slug}/report")
def ask(slug: str, services: ServicesOf) -> Response:
    """What is to be in the report."""
    page = page_of(services, slug, PAGE)
    lost = services.database.photographs.lost(page.build.photographs)
    return render(
        "report/ask.html",
        title="Report of the build",
        page=page,
        photographs=len(page.build.photographs) - lost,
    )


@router.get("/builds/{slug}/report/file")
def file(
    slug: str,
    services: ServicesOf,
    names: str = "",
    costs: str = "",
    hours: str = "",
    photographs: str = "",
) -> Response:
    """The report, as one file to keep."""
    page = page_of(services, slug, PAGE)
    if page.faults:
        return ask(slug, services)
    choice = ReportChoice(
        names=bool(names), costs=bool(costs), hours=bool(hours), photographs=bool(photographs)
    )
    files = services.database.photographs
    pieces = report_pieces(
        page.build,
        check_list_of(page.build),
        choice,
        at=services.settings.moment(),
        read=lambda photograph: files.read(photograph.digest),
    )
    return streamed(pieces, "text/html; charset=utf-8", to_keep(slug, "-report.html"))
