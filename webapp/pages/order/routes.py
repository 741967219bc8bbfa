"""Order over HTTP: the job order, tightening it, and keeping an order or the house rules."""

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed, text_of
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_build
from webapp.pages.frame.form_change import told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.order.rules import rules_off
from webapp.pages.order.tightening import SECONDS, kept_view, tighten_view
from webapp.pages.order.views import order_view
from webapp.pages.words.faults import said
from webapp.services.changes import Refused, change
from webapp.services.program import Services

router = APIRouter()

NOT_THERE = "What was found is not at hand any more: tighten again, it takes the time you give it."
WRONG_SECONDS = "Pick how many seconds to spend: 10, 30 or 120."


@router.get("/builds/{slug}/order")
def order(
    slug: str,
    services: ServicesOf,
    without: Annotated[list[str], Query(default_factory=list)],
    since: str = "",
) -> HTMLResponse:
    """The job order; `without` names house rules to try it without."""
    page = page_of(services, slug, "Order")
    notice = notice_of(services, page, since)
    return _order(services, page, rules_off(without), notice=notice)


def _order(
    services: Services,
    page: PageContext,
    off: tuple[str, ...] = (),
    *,
    status: int = 200,
    wrong: str = "",
    notice: Notice = NO_NOTICE,
) -> HTMLResponse:
    return render(
        "order/order.html",
        status=status,
        title="Job order",
        page=page,
        view=order_view(page, off),
        kept=kept_view(page),
        notice=notice,
        tighten=tighten_view(page, services.tightenings.of(page.slug), wrong),
    )


@router.get("/builds/{slug}/tightening", include_in_schema=False)
def tightening(slug: str, services: ServicesOf) -> HTMLResponse:
    """How far tightening has come, or what it found."""
    page = page_of(services, slug, "Order")
    run = services.tightenings.of(slug)
    return render("order/_tighten.html", page=page, tighten=tighten_view(page, run))


@router.get("/builds/{slug}/tighten")
def back_to_order(slug: str) -> Response:
    """Where a reload leads after a press that was refused."""
    return RedirectResponse(addresses.tightening_on_order(slug), status_code=303)


@router.post("/builds/{slug}/tighten")
def tighten(slug: str, services: ServicesOf, form: Typed) -> Response:
    """Begin to look for an earlier order, beside the pages."""
    page = page_of(services, slug, "Order")
    seconds = text_of(form, "seconds")
    if seconds not in map(str, SECONDS):
        return _order(services, page, status=422, wrong=WRONG_SECONDS)
    if tighten_view(page, None).offered:
        planned = page.planned
        services.tightenings.begin(slug, planned.planned_input, planned.version, int(seconds))
    return RedirectResponse(addresses.tightening_on_order(slug), status_code=303)


@router.post("/builds/{slug}/stop-tightening")
def stop(slug: str, services: ServicesOf, form: Typed) -> Response:
    """End the run: with what it has, or (`cancel`) without a word."""
    page_of(services, slug, "Order")
    services.tightenings.stop(slug, cancel=text_of(form, "cancel") == "1")
    return RedirectResponse(addresses.tightening_on_order(slug), status_code=303)


@router.post("/builds/{slug}/keep-order")
def keep(slug: str, services: ServicesOf, form: Typed) -> Response:
    """Follow the order that was found from now on, or (`keep` is not "found") put it away."""
    page = page_of(services, slug, "Order")
    run = services.tightenings.of(slug)
    if text_of(form, "keep") == "found":
        if run is None or run.found is None or text_of(form, "run") != str(run.number):
            return _order(services, page, status=409, wrong=NOT_THERE)
        return _follow(services, slug, run.found.tightened.order)
    services.tightenings.put_away(slug)
    return RedirectResponse(addresses.order(slug), status_code=303)


def _follow(services: Services, slug: str, order: tuple[str, ...]) -> Response:
    """Keep an order from now on; () for the house rules.

    Where it is not stored the page says why, and what tightening found stays at hand.
    """

    def edit(build: BuildInput) -> Edited[None]:
        keys = {task.key for task in build.tasks}
        kept = tuple(key for key in order if key in keys)
        kept_on = build.now.date() if kept else None
        return Edited(build=replace(build, kept_order=kept, kept_on=kept_on), made=None)

    done = change(services, slug, edit)
    if done is None:
        raise missing_build(slug)
    if isinstance(done, Refused):
        wrong = " ".join(said(fault) for fault in (*done.edited.faults, *done.new_faults))
        return _order(services, page_of(services, slug, "Order"), status=422, wrong=wrong)
    services.tightenings.put_away(slug)
    return RedirectResponse(told(addresses.order(slug), done), status_code=303)


@router.get("/builds/{slug}/keep-order", include_in_schema=False)
def back_from_keeping(slug: str) -> Response:
    """Where a reload leads after a press that was refused."""
    return RedirectResponse(addresses.tightening_on_order(slug), status_code=303)


@router.post("/builds/{slug}/let-go-order")
def let_go(slug: str, services: ServicesOf) -> Response:
    """Back to the house rules."""
    return _follow(services, slug, ())
