"""Order-by dates of a large build are worked out beside the page, which says so meanwhile."""

import time

import pytest

from tests.pages.conftest import Shop, without_tokens
from webapp.pages.parts import order_dates


def test_a_page_of_a_large_build_does_not_wait_for_its_dates(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    at_once = shop.page("parts")
    assert "Order by Sat 21 March" in at_once
    monkeypatch.setattr(order_dates, "MOST_AT_ONCE", 0)
    meanwhile = shop.page("parts")
    assert "are being worked out" in meanwhile
    assert "Order by" not in meanwhile.split('id="parts-list"')[1]
    deadline = time.monotonic() + 60
    while "are being worked out" in (later := shop.page("parts")):
        assert time.monotonic() < deadline
        time.sleep(0.2)
    assert without_tokens(later.split("<main")[1]) == without_tokens(at_once.split("<main")[1])
