"""The tables of a build over HTTP: a page of links, and a CSV file each."""

from fastapi import APIRouter
from fastapi.responses import Response

from webapp.exchange.csv_cells import MEDIA_TYPE
from webapp.exchange.tables_out import TABLES_OUT
from webapp.pages import addresses
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.errors import Missing, missing_build
from webapp.pages.frame.kept_files import to_keep
from webapp.pages.frame.rendering import render
from webapp.pages.tables.views import table_lines
from webapp.pages.words import tables as words
from webapp.storage.build_loader import load_build

router = APIRouter(include_in_schema=False)
BYTE_ORDER_MARK = "\ufeff"
"""What spreadsheets tell UTF-8 by."""


@router.get("/builds/{slug}/tables")
def tables(slug: str, services: ServicesOf) -> Response:
    """What can be taken out, and what comes in again."""
    page = page_of(services, slug, "Shop")
    return render("tables/tables.html", title="Tables", page=page, lines=table_lines(page))


@router.get("/builds/{slug}/tables/{name}.csv")
def table(slug: str, name: str, services: ServicesOf) -> Response:
    """One table as a file (RFC 4180)."""
    found = next((one for one in TABLES_OUT if one.name == name), None)
    if found is None:
        raise Missing(words.NO_TABLE, back_to=addresses.tables(slug), go_on="All tables")
    with services.database.reading() as session:
        build = load_build(session, slug, now=services.settings.now())
    if build is None:
        raise missing_build(slug)
    content = (BYTE_ORDER_MARK + found.csv(build)).encode("utf-8", "replace")
    return Response(content, media_type=MEDIA_TYPE, headers=to_keep(slug, f"-{name}.csv"))
