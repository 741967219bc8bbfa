"""The look at a page: what it may not miss, and what may not end it."""

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import PHONE, unsound

pytestmark = pytest.mark.browser

PAGE = """<!doctype html><html lang="en"><head><title>Refilled</title></head>
<body><main><h1 style="color: #ccc; background: #fff">Refilled</h1></main></body></html>"""


def test_a_page_that_is_filled_anew_while_it_is_looked_at_is_looked_at_whole(
    browser: Browser,
) -> None:
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    # Grey on white at 1.6 to 1 (WCAG 2.2, 1.4.3 asks for 3 to 1 of a large text).
    page.set_content(PAGE)
    page.evaluate(
        "() => { const kept = document.body.innerHTML;"
        " setInterval(() => { document.body.innerHTML = kept; }, 1); }"
    )
    assert {rule for rule, _ in unsound(page)} == {"color-contrast"}
    page.close()
