"""Order over HTTP: the job order, and going back from a kept one to the house rules."""

from collections.abc import Sequence
from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData

from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_build
from webapp.pages.frame.form_change import change_by_form, told, why_refused
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.order.kept import kept_view, let_go, searched_again_view
from webapp.pages.order.rules import keep_rules, rules_of
from webapp.pages.order.views import order_view
from webapp.services.changes import Refused, change

router = APIRouter()


@router.get("/builds/{slug}/order")
def order(
    slug: str,
    services: ServicesOf,
    rule: Annotated[list[str], Query(default_factory=list)],
    since: str = "",
    every: str = "",
) -> HTMLResponse:
    """The job order; `rule` names the house rules to try it by, `every` opens every week."""
    page = page_of(services, slug, "Order")
    notice = notice_of(services, page, since, addresses.order(slug))
    return _order(page, rule, every=bool(every), notice=notice)


def _order(
    page: PageContext,
    asked: Sequence[str] = (),
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
        view=order_view(page, rules_of(asked, page.build.house_rules), every_week=every),
        kept=kept_view(page),
        searched=searched_again_view(page),
        wrong=wrong,
        notice=notice,
    )


@router.get("/builds/{slug}/searched-again", include_in_schema=False)
def searched_again(slug: str, services: ServicesOf) -> HTMLResponse:
    """What searching again would win against the kept order, for the page that waits for it."""
    page = page_of(services, slug, "Order")
    return render("order/_searched_again.html", page=page, searched=searched_again_view(page))


@router.post("/builds/{slug}/let-go-order")
def back_to_house_rules(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Let go of the kept order that was shown."""
    done = change_by_form(services, slug, TypedForm.of(posted), let_go)
    if isinstance(done, Refused):
        return _order(page_of(services, slug, "Order"), status=422, wrong=why_refused(done))
    services.tightenings.put_away(slug)
    return RedirectResponse(told(addresses.order(slug), done), status_code=303)


def _texts(posted: FormData, name: str) -> list[str]:
    return [value for value in posted.getlist(name) if isinstance(value, str)]


@router.post("/builds/{slug}/house-rules")
def save_rules(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Let the house rules that were tried hold, unless others hold than were shown."""
    asked = _texts(posted, "rule")
    done = change(services, slug, keep_rules(asked, _texts(posted, "held")))
    if done is None:
        raise missing_build(slug)
    if isinstance(done, Refused):
        wrong = done.edited.made or why_refused(done)
        return _order(page_of(services, slug, "Order"), asked, status=422, wrong=wrong)
    return RedirectResponse(told(addresses.order(slug), done), status_code=303)
