"""Any input gets an answer below 500, and what was typed is kept."""

import random
from collections.abc import Iterable, Iterator
from urllib.parse import quote

import pytest
from fastapi import APIRouter
from fastapi.routing import APIRoute

from tests.pages.conftest import Shop
from webapp.pages import routers

RUBBISH = (
    *("", " ", "\x00", "a\x00b", "-1", "1e400", "nan", "inf", "99999999999999999999", "0x10"),
    *("2026-02-30", "0001-01-01", "9999-12-31", "24:01", "--", "½", "1,5,5", "🚚" * 50),
    *("../../etc/passwd", "<b>", "' OR 1=1 --", "%00", "\u202e", "x" * 100_000, "rad_bracket"),
)
FIELDS = (
    *("name", "name-0", "likely-0", "well-0", "fights-0", "before-0", "after-0", "wait-0"),
    *("task", "worked", "left", "outcome", "then", "key", "date", "opens-0", "closes-0"),
    *("opens-0-0", "closes-0-0", "people", "setup_out", "document", "serves-0", "arrives_on"),
    *("cost", "lead_days", "subsystem", "likely", "well", "fights", "wanted_by", "starts_on"),
    *("begun_on", "finished_on", "hours_left", "stations", "order", "medium", "count", "hours"),
    *("wish", "shown", "after", "before", "rough_likely", "later_extra", "part-0", "part_days-0"),
    *("about", "answer", "evenings", "on", "left", "of", "lines"),
    *("text", "way", "why", "revision", "confidence", "size", "logged_on", "week", "day"),
)


LONG = ("/builds/demo", "/report/file")
"""The demo is lived, and a report written, whole each time."""


def plain_routes(routers: Iterable[APIRouter]) -> Iterator[APIRoute]:
    """The routes of routers and of the routers within them."""
    for router in routers:
        for route in router.routes:
            if isinstance(route, APIRoute):
                yield route
            else:
                yield from plain_routes([route.original_router])  # type: ignore[attr-defined]


def routes() -> list[tuple[str, str]]:
    """Every address with every method, its parts filled in."""
    found = []
    for route in plain_routes(routers()):
        path = route.path.replace("{slug}", "the-heron")
        for name in route.param_convertors:
            path = path.replace(f"{{{name}}}", "rad_bracket")
            path = path.replace(f"{{{name}:path}}", "rad_bracket")
        found += [(method, path) for method in sorted(route.methods or ())]
    return sorted(set(found))


@pytest.mark.parametrize("path", [path for method, path in routes() if method == "GET"])
def test_rubbish_in_an_address_gets_an_answer_below_500(still_shop: Shop, path: str) -> None:
    chance = random.Random(path)
    # An address holds fewer words than a form.
    for _ in range(1 if path.endswith(LONG) else 2):
        fields = {name: chance.choice(RUBBISH) for name in chance.sample(FIELDS, 12)}
        query = "&".join(f"{n}={quote(v[:2000])}" for n, v in fields.items())
        answer = still_shop.client.get(f"{path}?{query}", follow_redirects=False)
        assert answer.status_code < 500, fields


@pytest.mark.parametrize(("method", "path"), [each for each in routes() if each[0] != "GET"])
def test_rubbish_in_a_form_gets_an_answer_below_500(shop: Shop, method: str, path: str) -> None:
    chance = random.Random(f"{method} {path}")
    for _ in range(1 if path.endswith(LONG) else 2):
        fields = {name: chance.choice(RUBBISH) for name in chance.sample(FIELDS, 50)}
        answer = shop.client.request(method, path, data=fields, follow_redirects=False)
        assert answer.status_code < 500, fields


@pytest.mark.parametrize(
    "body",
    [
        b"name=%ff%fe&likely-0=%00",
        b"name-0=a&name-0=b&likely-0=1&likely-0=x",
        b"&&&===",
        b"name-0=" + b"%F0%9F" * 100,
        "name-0=\ud83d".encode("utf-16-le", "surrogatepass"),
    ],
)
def test_broken_encodings_and_repeated_fields_are_no_accident(shop: Shop, body: bytes) -> None:
    for kind in ("application/x-www-form-urlencoded", "multipart/form-data", "text/plain", ""):
        for name in ("tasks/new", "bench/begin", "parts/new"):
            answer = shop.client.post(
                f"/builds/the-heron/{name}", content=body, headers={"content-type": kind}
            )
            assert answer.status_code < 500


@pytest.mark.parametrize(
    "slug", ["none", "%00", "..", "%2e%2e", "the-heron%0a", "x" * 5000, "%ff", "the heron"]
)
def test_a_build_that_is_not_there_is_named_in_a_404(still_shop: Shop, slug: str) -> None:
    for name in ("bench", "order", "path", "parts", "week", "tasks"):
        assert still_shop.client.get(f"/builds/{slug}/{name}").status_code in (400, 404)


def test_every_fault_of_every_row_comes_at_once_and_what_was_typed_stays(shop: Shop) -> None:
    before = shop.stored()
    status, text = shop.post(
        "tasks/new",
        **{
            "name-0": "Weld the tray",
            "likely-0": "two",
            "name-1": "Paint the tray",
            "well-1": "5",
            "likely-1": "3",
            "fights-1": "4",
            "name-2": "Hang the tray",
            "likely-2": "1",
            "before-2": "No such task",
        },
    )
    assert status == 422
    for typed in ("Weld the tray", "two", "Paint the tray", "No such task"):
        assert typed in text
    assert text.count('class="error') >= 3 or text.count("aria-invalid") >= 3
    assert shop.stored() == before


def test_a_loop_is_named_by_its_tasks(shop: Shop) -> None:
    # The bracket comes before the shared bracket: the other way round as well is a loop.
    fields = {
        "name-0": "Shim",
        "likely-0": "1",
        "before-0": "Shared bracket for condenser and intercooler",
        "after-0": "Radiator lower bracket",
    }
    status, text = shop.post("tasks/new", **fields)
    assert status == 422
    assert "Shim" in text
    assert "-&gt;" in text or "→" in text


def test_a_long_name_is_refused_with_the_limit(shop: Shop) -> None:
    status, text = shop.post("tasks/new", **{"name-0": "x" * 100_000, "likely-0": "1"})
    assert status == 422
    assert "500" in text


def test_a_faulty_document_is_listed_kept_and_not_stored(bare: Shop) -> None:
    typed = '{"format": "keyturn-build", "version": 1, "build": {"name": "Gull"}, "tasks": 3}'
    answer = bare.client.post("/builds/import", data={"document": typed})
    assert answer.status_code == 422
    assert "Gull" in answer.text
    assert bare.client.get("/builds/gull/bench").status_code == 404
