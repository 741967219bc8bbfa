"""Order over HTTP: the job order, and going back from a kept one to the house rules."""

from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_build
from webapp.pages.frame.form_change import told, why_refused
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.order.kept import follow, kept_view
from webapp.pages.order.rules import rules_off
from webapp.pages.order.views import order_view
from webapp.services.changes import Refused, change

router = APIRouter()


@router.get("/builds/{slug}/order")
def order(
    slug: str,
    services: ServicesOf,
    without: Annotated[list[str], Query(default_factory=list)],
    since: str = "",
    every: str = "",
) -> HTMLResponse:
    """The job order; `without` names house rules to try it without, `every` opens every week."""
    page = page_of(services, slug, "Order")
    notice = notice_of(services, page, since, addresses.order(slug))
    return _order(page, rules_off(without), every=bool(every), notice=notice)


def _order(
    page: PageContext,
    off: tuple[str, ...] = (),
    *,
    every: bool = False,
    status: int = 200,
    wrong: str = "",
    notice: Notice = NO_NOTICE,
) -> HTMLResponse:
    return render(
        "order/order.html",
        status=status,
        title="Job order",
        page=page,
        view=order_view(page, off, every_week=every),
        kept=kept_view(page),
        wrong=wrong,
        notice=notice,
    )


@router.post("/builds/{slug}/let-go-order")
def let_go(slug: str, services: ServicesOf) -> Response:
    """Back to the house rules."""
    done = change(services, slug, follow(()))
    if done is None:
        raise missing_build(slug)
    if isinstance(done, Refused):
        return _order(page_of(services, slug, "Order"), status=422, wrong=why_refused(done))
    services.tightenings.put_away(slug)
    return RedirectResponse(told(addresses.order(slug), done), status_code=303)
