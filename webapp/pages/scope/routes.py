"""The scope ledger over HTTP, and freezing a baseline by hand."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.errors import missing_build
from webapp.pages.frame.rendering import render
from webapp.pages.scope.views import scope_view
from webapp.pages.words.snapshots import MOVING
from webapp.services.baseline import freeze
from webapp.services.program import Services
from webapp.services.snapshots import frozen_build, headings_of
from webapp.storage.scope_history import ScopeChange, scope_history

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/scope")
def scope(slug: str, services: ServicesOf) -> Response:
    """The ledger against the last baseline."""
    return _show(services, slug)


def _show(services: Services, slug: str, *, status: int = 200, said: str = "") -> Response:
    """The ledger; `said` is a sentence on why something was not done."""
    page = page_of(services, slug, "Wishes")
    baselines = headings_of(services, slug).baselines
    latest = frozen_build(services, slug, baselines[-1]) if baselines else None
    history = page.planned.past.get_or_keep(
        ("scope", page.planned.revision), lambda: _history_of(services, slug)
    )
    view = scope_view(page, baselines, latest.build if latest else None, history)
    return render(
        "scope/scope.html", status=status, title="Scope ledger", page=page, view=view, said=said
    )


def _history_of(services: Services, slug: str) -> tuple[ScopeChange, ...]:
    with services.database.reading() as session:
        return scope_history(session, slug)


@router.post("/builds/{slug}/scope")
def freeze_baseline(slug: str, services: ServicesOf) -> Response:
    """Freeze the build as it is as the next baseline."""
    outcome = freeze(services, slug, "baseline")
    if outcome == "no build":
        raise missing_build(slug)
    if outcome != "frozen":
        return _show(services, slug, status=409, said=MOVING)
    return RedirectResponse(addresses.scope(slug), status_code=303)
