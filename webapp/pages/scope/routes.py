"""The scope ledger over HTTP, and freezing a baseline by hand."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.rendering import render
from webapp.pages.scope.views import scope_view
from webapp.services.baseline import freeze_baseline
from webapp.storage.scope_history import scope_history
from webapp.storage.snapshots import snapshots_of

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/scope")
def scope(slug: str, services: ServicesOf) -> Response:
    """The ledger against the last baseline."""
    page = page_of(services, slug, "Wishes")
    with services.database.reading() as session:
        baselines = snapshots_of(session, slug, "baseline")
        history = scope_history(session, slug)
    view = scope_view(page, baselines, history)
    return render("scope/scope.html", title="Scope ledger", page=page, view=view)


@router.post("/builds/{slug}/scope")
def freeze(slug: str, services: ServicesOf) -> Response:
    """Freeze the build as it is as the next baseline."""
    page = page_of(services, slug, "Wishes")
    with services.database.writing() as session:
        freeze_baseline(session, slug, page.build, page.figures)
    return RedirectResponse(addresses.scope(slug), status_code=303)
