"""Order over HTTP."""

from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse

from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.rendering import render
from webapp.pages.order.rules import rules_off
from webapp.pages.order.views import order_view

router = APIRouter()


@router.get("/builds/{slug}/order")
def order(
    slug: str, services: ServicesOf, without: Annotated[list[str], Query(default_factory=list)]
) -> HTMLResponse:
    """The job order; `without` names house rules to try it without."""
    page = page_of(services, slug, "Order")
    view = order_view(page, rules_off(without))
    return render("order/order.html", title="Job order", page=page, view=view)
