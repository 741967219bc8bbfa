"""The promises of every answer: our own origin, a strict policy, nothing from another host."""

import re
from collections.abc import Iterator

import pytest

from tests.pages.conftest import Shop

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


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "", "10.0.0.7"])
def test_another_host_name_is_refused(shop: Shop, host: str) -> None:
    answer = shop.client.get("/builds/the-heron/bench", headers={"host": host})
    assert answer.status_code == 400


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
    answer = shop.client.post("/builds/import", data={"document": "x" * (5 * 1024 * 1024 + 1)})
    assert answer.status_code == 413
    assert "5 MB" in answer.text


def test_a_body_without_a_length_is_counted_as_it_comes(shop: Shop) -> None:
    def pieces() -> Iterator[bytes]:
        yield b"document="
        for _ in range(6):
            yield b"x" * (1024 * 1024)

    headers = {"content-type": "application/x-www-form-urlencoded"}
    answer = shop.client.post("/builds/import", content=pieces(), headers=headers)
    assert answer.status_code == 413
    assert "5 MB" in answer.text


def test_a_name_with_markup_is_shown_as_text(shop: Shop) -> None:
    name = "<script>alert(1)</script><img src=x onerror=alert(1)>"
    fields = {"name-0": name, "likely-0": "1", "needed-0": "on"}
    status, text = shop.post("tasks/new", **fields)
    assert status == 200
    listed = shop.client.get("/builds/the-heron/tasks").text
    assert "<script>alert" not in text + listed
    assert "&lt;script&gt;alert(1)" in listed
