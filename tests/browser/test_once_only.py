"""A double tap on a form, in a browser without scripts: nothing there holds the second one back."""

import re
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import PHONE

pytestmark = pytest.mark.browser

WISH = "Second battery under the seat"


def test_a_double_tap_on_the_wish_line_logs_one_wish(
    browser: Browser, heron: str, tmp_path: Path
) -> None:
    page = browser.new_page(viewport=PHONE, java_script_enabled=False)  # type: ignore[arg-type]
    page.goto(f"{heron}/bench")
    page.get_by_label("A wish").fill(WISH)
    box = page.get_by_role("button", name="Log it").bounding_box()
    assert box is not None
    with closing(sqlite3.connect(tmp_path / "heron.sqlite3", isolation_level=None)) as slow:
        slow.execute("BEGIN IMMEDIATE")  # the first tap is not answered before the second
        for _ in "ab":
            with page.expect_request(lambda sent: sent.method == "POST"):
                page.mouse.click(box["x"] + 5, box["y"] + 5)
        slow.execute("ROLLBACK")
    expect(page.get_by_text(f"Logged: {WISH}.")).to_be_visible()
    page.goto(f"{heron}/wishes")
    expect(page.get_by_role("heading", name=re.compile(WISH))).to_have_count(1)
    page.close()
