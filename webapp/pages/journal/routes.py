"""The journal over HTTP: the changes of a build, and taking some back."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.forms.posted import Typed, page_number, text_of, whole_number
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_build
from webapp.pages.frame.form_change import told
from webapp.pages.frame.notice import notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.journal.views import LINES, JournalView, journal_view, refusal_words
from webapp.services.program import Services
from webapp.services.undo import NotTaken, take_back
from webapp.storage.past_changes import past_of

router = APIRouter(include_in_schema=False)
PAGE = "Journal"


@router.get("/builds/{slug}/journal")
def journal(slug: str, services: ServicesOf, page: str = "", since: str = "") -> Response:
    """Changes, the newest first; `page` counts from 1."""
    context = page_of(services, slug, PAGE)
    return _show(services, context, number=page_number(page), since=since)


def _show(
    services: Services,
    page: PageContext,
    *,
    number: int = 1,
    since: str = "",
    refused: NotTaken | None = None,
) -> Response:
    view = page.planned.past.get_or_keep(
        ("journal", number, page.planned.revision, page.today),
        lambda: _view_of(services, page, number),
    )
    return render(
        "journal/journal.html",
        status=200 if refused is None else 409,
        title="Journal",
        page=page,
        view=view,
        notice=notice_of(services, page, since, addresses.journal(page.slug)),
        refused=() if refused is None else refusal_words(page, refused),
    )


def _view_of(services: Services, page: PageContext, number: int) -> JournalView:
    with services.database.reading() as session:
        past = past_of(session, page.slug, now=page.now, skip=(number - 1) * LINES, most=LINES)
    if past is None:
        raise missing_build(page.slug)
    return journal_view(page, past, number)


@router.get("/builds/{slug}/journal/take-back")
def after_a_refusal(slug: str) -> Response:
    """A reload of an address that only takes changes leads back to the journal."""
    return RedirectResponse(addresses.journal(slug), status_code=303)


@router.post("/builds/{slug}/journal/take-back")
def undo(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Take the changes from the revision `first` to `last` back, and show the page `back`."""
    first = whole_number(text_of(posted, "first"))
    last = whole_number(text_of(posted, "last")) or first
    done = take_back(services, slug, first=first, last=last)
    if done is None:
        raise missing_build(slug)
    if isinstance(done, NotTaken):
        return _show(services, page_of(services, slug, PAGE), refused=done)
    address = addresses.page_of_build(slug, text_of(posted, "back"))
    return RedirectResponse(told(address, done, is_undo=True), status_code=303)
