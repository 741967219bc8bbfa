"""Money over HTTP: the sums, the currency and the limit, and that something is paid."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from webapp.build.build_input import BuildInput
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.money.forms import (
    edit_settings,
    paid_as_estimated,
    place_of_settings_fault,
    settings_shown,
)
from webapp.pages.money.views import SHOWN_AT_ONCE, money_view
from webapp.pages.words import amounts as words
from webapp.services.changes import Stored
from webapp.services.program import Services
from webapp.services.snapshots import frozen_build, headings_of

router = APIRouter(include_in_schema=False)
PAGE = "Parts"


@router.get("/builds/{slug}/money")
def money(slug: str, services: ServicesOf, since: str = "") -> HTMLResponse:
    """What was paid, what is ordered, what is to come."""
    page = page_of(services, slug, PAGE)
    notice = notice_of(services, page, since, addresses.money(slug))
    return _show(services, page, TypedForm.opened(settings_shown(page.build)), notice=notice)


@router.post("/builds/{slug}/money")
def settings(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """The currency and the limit."""
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, edit_settings, place_of_settings_fault)
    if isinstance(done, Stored):
        return RedirectResponse(told(addresses.money(slug), done), status_code=303)
    return _show(services, page_of(services, slug, PAGE), form, status=422)


@router.post("/builds/{slug}/money/paid")
def paid(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """One press: it was paid as it was estimated."""
    press = TypedForm.of(posted)
    done = change_by_form(services, slug, press, paid_as_estimated)
    if isinstance(done, Stored):
        return RedirectResponse(told(addresses.money(slug), done), status_code=303)
    page = page_of(services, slug, PAGE)
    refused = tuple(fault.text for fault in press.faults)
    return _show(
        services, page, TypedForm.opened(settings_shown(page.build)), status=422, refused=refused
    )


def _first_sum(services: Services, page: PageContext) -> tuple[BuildInput | None, str]:
    """The build as it was frozen last, and what that is called; None where none was."""
    latest = headings_of(services, page.slug).baseline
    baseline = frozen_build(services, page.slug, latest) if latest else None
    if latest is None or baseline is None:
        return None, ""
    day = words.day(latest.taken_at, today=page.today)
    return baseline.build, f"baseline {latest.label}, frozen {day}"


def _show(
    services: Services,
    page: PageContext,
    form: TypedForm,
    *,
    status: int = 200,
    notice: Notice = NO_NOTICE,
    refused: tuple[str, ...] = (),
) -> HTMLResponse:
    baseline, frozen = _first_sum(services, page)
    return render(
        "money/money.html",
        status=status,
        title="Money",
        page=page,
        view=money_view(page, baseline, frozen),
        form=form,
        notice=notice,
        refused=refused,
        at_once=SHOWN_AT_ONCE,
    )
