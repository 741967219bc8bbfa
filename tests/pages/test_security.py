"""The promises of every answer: our own origin, a strict policy, nothing from another host."""

import asyncio
import re
from collections.abc import Iterator
from typing import Any

import pytest

from tests.pages.conftest import Shop
from tests.pages.test_bad_requests import routes

PAGES = (
    *("", "builds/new", "builds/import", "builds/the-heron/bench", "builds/the-heron/order"),
    *("builds/the-heron/path", "builds/the-heron/parts", "builds/the-heron/shop"),
    *("builds/the-heron/tasks", "builds/the-heron/tasks/new"),
    *("builds/the-heron/tasks/rad_bracket", "no/such/page", "builds/none/bench"),
)


@pytest.mark.parametrize("page", PAGES)
def test_every_answer_carries_a_policy_without_exceptions(shop: Shop, page: str) -> None:
    answer = shop.client.get(f"/{page}")
    policy = answer.headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert answer.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize("page", PAGES)
def test_no_page_asks_for_what_the_policy_refuses(shop: Shop, page: str) -> None:
    text = shop.client.get(f"/{page}").text
    assert not re.search(r"<script(?![^>]*\bsrc=)", text), "no inline script"
    assert not re.search(r"<style|\sstyle=", text), "no inline style"
    assert not re.search(r"\son[a-z]+=", text), "no inline handler"
    loaded = re.findall(r"(?:src|href)=\"(https?:)?//", text)
    assert not loaded, "nothing from another host"


def test_the_style_sheets_load_nothing_from_another_host(shop: Shop) -> None:
    sheets = re.findall(r'href="(/static/[^"]+\.css)"', shop.page("bench"))
    assert sheets
    for sheet in sheets:
        answer = shop.client.get(sheet)
        assert answer.status_code == 200
        assert "//" not in re.sub(r"/\*.*?\*/", "", answer.text, flags=re.S)


@pytest.mark.parametrize(
    "host",
    [
        *("evil.example", "127.0.0.1.evil.example", "", "10.0.0.7"),
        # no host and port at all, though a part of each is one of our names
        *("127.0.0.1@evil.example", "127.0.0.1:8642@evil.example", "127.0.0.1:x@evil.example"),
        *("[::1]@evil.example", "[::1].evil.example", "127.0.0.1:", "127.0.0.1:123456"),
        *("127.0.0.1/", "127.0.0.1 evil.example", "localhost,evil.example", "::1"),
    ],
)
def test_another_host_name_is_refused(shop: Shop, host: str) -> None:
    answer = shop.client.get("/builds/the-heron/bench", headers={"host": host})
    assert answer.status_code == 400


@pytest.mark.parametrize(
    "host", ["127.0.0.1", "127.0.0.1:8642", "localhost:1", "LOCALHOST", "[::1]", "[::1]:8642"]
)
def test_our_own_names_are_answered_with_and_without_a_port(shop: Shop, host: str) -> None:
    answer = shop.client.get("/builds/the-heron/bench", headers={"host": host})
    assert answer.status_code == 200


def asked_with(shop: Shop, headers: list[tuple[bytes, bytes]]) -> int:
    """The status of the list of builds, asked for with exactly these headers."""
    scope = {
        "type": "http",
        "method": "GET",
        "path": "/",
        "raw_path": b"/",
        "query_string": b"",
        "http_version": "1.1",
        "scheme": "http",
        "root_path": "",
        "client": ("127.0.0.1", 50000),
        "headers": headers,
    }
    sent: list[dict[str, Any]] = []

    async def receive() -> dict[str, Any]:
        return {"type": "http.request", "body": b"", "more_body": False}

    async def send(message: dict[str, Any]) -> None:
        sent.append(message)

    asyncio.run(shop.client.app(scope, receive, send))  # type: ignore[arg-type]
    return int(sent[0]["status"])


def test_a_request_names_its_host_once(shop: Shop) -> None:
    ours, other = (b"host", b"127.0.0.1:8642"), (b"host", b"evil.example")
    assert asked_with(shop, [ours]) == 200
    for headers in ([ours, other], [other, ours], [ours, ours], []):
        assert asked_with(shop, headers) == 400


def test_head_is_answered_wherever_get_is_without_the_body(shop: Shop) -> None:
    pages = [path for method, path in routes() if method == "GET"]
    assert "/builds/the-heron/bench" in pages
    for path in pages:
        got = shop.client.get(path, follow_redirects=False)
        asked = shop.client.head(path, follow_redirects=False)
        assert (asked.status_code, asked.content) == (got.status_code, b""), path
        # The length of a page may change as the forecast behind it is worked out.
        assert asked.headers.keys() == got.headers.keys(), path
        for name in got.headers.keys() - {"content-length"}:
            assert asked.headers[name] == got.headers[name], path


@pytest.mark.parametrize("path", ["/builds/new", "/no/such/page"])
def test_head_tells_the_length_that_get_would_send(shop: Shop, path: str) -> None:
    assert shop.client.head(path).headers["content-length"] == str(
        len(shop.client.get(path).content)
    )


def test_head_of_a_kept_file_is_answered_without_it(shop: Shop) -> None:
    sheet = re.findall(r'href="(/static/[^"]+\.css)"', shop.page("bench"))[0]
    got, asked = shop.client.get(sheet), shop.client.head(sheet)
    assert (asked.status_code, asked.content) == (200, b"")
    assert asked.headers == got.headers
    assert int(asked.headers["content-length"]) == len(got.content) > 0


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "http://127.0.0.1:9999"},
        {"origin": "null"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site", "origin": "http://127.0.0.1:9999"},
    ],
)
def test_a_change_from_another_origin_is_refused_and_not_made(
    shop: Shop, headers: dict[str, str]
) -> None:
    before = shop.stored()
    answer = shop.client.post(
        "/builds/the-heron/bench/begin", data={"task": "rad_bracket"}, headers=headers
    )
    assert answer.status_code == 403
    assert shop.stored() == before


def test_a_change_from_our_own_page_is_taken(shop: Shop) -> None:
    headers = {"origin": "http://127.0.0.1:8642", "sec-fetch-site": "same-origin"}
    answer = shop.client.post(
        "/builds/the-heron/bench/begin", data={"task": "rad_bracket"}, headers=headers
    )
    assert answer.status_code == 200


def test_a_body_of_more_than_5_mb_is_refused_with_a_sentence(shop: Shop) -> None:
    answer = shop.client.post("/builds/new", data={"vehicle": "x" * (5 * 1024 * 1024 + 1)})
    assert answer.status_code == 413
    assert "5 MB" in answer.text


def test_a_body_without_a_length_is_counted_as_it_comes(shop: Shop) -> None:
    def pieces() -> Iterator[bytes]:
        yield b"vehicle="
        for _ in range(6):
            yield b"x" * (1024 * 1024)

    headers = {"content-type": "application/x-www-form-urlencoded"}
    answer = shop.client.post("/builds/new", content=pieces(), headers=headers)
    assert answer.status_code == 413
    assert "5 MB" in answer.text


def test_a_name_with_markup_is_shown_as_text(shop: Shop) -> None:
    name = "<script>alert(1)</script><img src=x onerror=alert(1)>"
    fields = {"name-0": name, "likely-0": "1", "needed-0": "on"}
    status, text = shop.post("tasks/new", **fields)
    assert status == 200
    listed = shop.client.get("/builds/the-heron/tasks?find=onerror").text
    assert "<script>alert" not in text + listed
    assert "&lt;script&gt;alert(1)" in listed
