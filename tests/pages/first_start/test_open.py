"""What is open before the key, kind by kind: the way there from First start, and how many."""

import html
import re

import pytest

from tests.pages.conftest import Shop


def test_each_kind_that_first_start_counts_has_a_page_with_as_many(still_shop: Shop) -> None:
    overview = still_shop.page("first-start")
    counted = re.findall(
        r'href="/builds/the-heron/(first-start/open\?kind=[^"]+)"[^>]*>([^<]+)</a>.*?<td[^>]*>(\d+)',
        overview,
        re.DOTALL,
    )
    assert {name for _, name, _ in counted} >= {"Tasks", "Parts", "Circuits", "Fluids", "Checks"}
    for address, name, count in counted:
        page = still_shop.page(address)
        assert f"<h1>What is open: {name[0].lower()}{name[1:]}</h1>" in page
        rows = re.search(r'<ul class="rows">(.*?)</ul>', page, re.DOTALL)
        assert rows is not None
        more = re.search(r"And (\d+) more\.", page)
        assert rows[1].count("<li>") + int(more[1] if more else 0) == int(count), address


@pytest.mark.parametrize("kind", ["sign", "", "Checks", "<b>"])
def test_a_kind_that_there_is_not_is_named_with_the_way_back(still_shop: Shop, kind: str) -> None:
    answer = still_shop.client.get("/builds/the-heron/first-start/open", params={"kind": kind})
    assert answer.status_code == 404
    page = html.unescape(answer.text)
    assert f"Nothing that may be open is called “{kind}”." in page
    assert 'href="/builds/the-heron/first-start"' in page
