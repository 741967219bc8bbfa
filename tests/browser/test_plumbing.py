"""A hose made and put on, press by press on a phone, and a press taken back."""

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import PHONE, unsound, watched
from tests.browser.test_week import pages_in

pytestmark = pytest.mark.browser


def test_a_mend_is_taken_back_and_a_hose_is_worked_off(browser: Browser, heron: str) -> None:
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    complaints = watched(page)
    page.goto(f"{heron}/plumbing")
    page.get_by_role("link", name="Charge air").click()
    expect(page.locator("svg.circ.upright")).to_be_visible()
    page.get_by_role("button", name="Put it in").click()
    expect(page.locator("#notice")).to_be_visible()
    expect(page.get_by_text("do not fit")).to_have_count(0)
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("hose 60 and bead 63 do not fit")).to_be_visible()

    page.goto(f"{heron}/runs/w_top")
    for word, state in (
        ("cut", "Cut."),
        ("fitted", "Fitted, not clamped."),
        ("clamped", "Clamped."),
    ):
        page.get_by_role("button", name=f"It is {word}").click()
        expect(page.locator(".lede b")).to_have_text(state)
        assert unsound(page) == []
    expect(page.get_by_role("heading", name="Open")).to_have_count(0)
    page.get_by_role("link", name="Coolant", exact=True).click()
    expect(page.get_by_text("13 things are open")).to_be_visible()  # of the fourteen before
    assert complaints == []
    page.close()


def test_every_joint_of_the_heron_prints_on_two_pages(browser: Browser, heron: str) -> None:
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    page.goto(f"{heron}/joints")
    page.emulate_media(media="print")
    assert page.locator(".joints tbody tr").last.is_visible()
    assert pages_in(page.pdf(prefer_css_page_size=True)) == 2
    page.close()
