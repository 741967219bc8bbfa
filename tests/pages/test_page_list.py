"""No page is forgotten: every route that answers with one is looked at in the browser."""

from collections.abc import Iterable, Iterator
from typing import Any

from starlette.routing import BaseRoute, Route

from tests.browser.pages import LINKED, OUTSIDE, PAGES, STARTED
from tests.pages.conftest import Shop

PARTS_OF_PAGES = {
    "/builds/{slug}/notice",
    "/builds/{slug}/wish-ways",
    "/builds/{slug}/bridge",
    "/builds/{slug}/to-do-price",
    "/builds/{slug}/pictures/{name}",
}
"""What pages ask for themselves, which is no page; asked without a key they say what is missing."""
A_FILE = {"/builds/{slug}/report/file", "/builds/{slug}/tables/{name}.csv"}
"""What is kept as a file, or refused on a page; their own tests look at them."""
LEADS_ON = {"/builds/{slug}/runs"}


def _routes(routes: Iterable[BaseRoute | Any]) -> Iterator[Route]:
    for route in routes:
        within = getattr(route, "original_router", None)
        if within is not None:
            yield from _routes(within.routes)
        elif isinstance(route, Route) and "GET" in (route.methods or ()):
            yield route


def _visited() -> list[str]:
    heron = [*PAGES, *(f"{begins}x{ends}" for _, begins, ends in LINKED), *STARTED]
    named = [name if name.startswith("/") else f"/builds/the-heron/{name}" for name in heron]
    return [address.partition("?")[0] for address in (*named, *OUTSIDE)]


def _is_page(shop: Shop, route: Route) -> bool:
    """Whether the route answers with a page, or refuses with one for want of a key."""
    address = route.path.replace("{slug}", "the-heron").replace("{key:path}", "x")
    answer = shop.client.get(address, follow_redirects=False)
    return not answer.is_redirect and "<html" in answer.text


def test_every_route_with_a_page_is_among_those_the_browser_looks_at(shop: Shop) -> None:
    routes = list(_routes(shop.client.app.routes))
    assert len(routes) > 80
    visited = _visited()
    forgotten = [
        route.path
        for route in routes
        if route.path not in PARTS_OF_PAGES | LEADS_ON | A_FILE
        and not any(route.path_regex.match(address) for address in visited)
        and _is_page(shop, route)
    ]
    assert forgotten == []


def test_every_page_of_the_list_is_there(shop: Shop) -> None:
    shop.post("bench/wish", wish="A lamp behind the seat")
    there = {name: shop.client.get(f"/builds/the-heron/{name}").status_code for name in PAGES}
    assert {name: status for name, status in there.items() if status != 200} == {}
