"""Undo and the journal on a phone: change, notice, Undo, the journal, in a real browser."""

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import PHONE, unsound, watched

pytestmark = pytest.mark.browser

LEAST_PX = 44
"""The least height of what a thumb is to hit (design, section 6)."""


def _settled(page: Page, *, scripts: bool) -> None:
    """Wait until the notice is not swapped any more, for what is swapped is not pressed."""
    if scripts:  # else it stays as it came
        expect(page.locator("#notice[hx-trigger]")).to_have_count(0, timeout=60_000)


@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no scripts"])
def test_a_change_is_taken_back_from_its_notice_and_again_from_the_journal(
    browser: Browser, heron: str, scripts: bool
) -> None:
    page = browser.new_page(viewport=PHONE, java_script_enabled=scripts)  # type: ignore[arg-type]
    complaints = watched(page)
    page.goto(f"{heron}/shop")
    page.get_by_role("button", name="No shop this weekend").click()
    undo = page.get_by_role("button", name="Undo")
    expect(undo).to_be_visible()
    _settled(page, scripts=scripts)  # what is put in the place of the notice has arrived
    box = undo.bounding_box()
    assert box is not None
    assert box["height"] >= LEAST_PX
    undo.click()
    expect(page.get_by_text("Taken back.")).to_be_visible()
    _settled(page, scripts=scripts)
    expect(page.get_by_role("button", name="No shop this weekend")).to_be_visible()
    journal = page.locator("#notice").get_by_role("link", name="Journal")
    link = journal.bounding_box()
    assert link is not None
    assert link["height"] >= LEAST_PX
    journal.click()
    expect(page.get_by_role("heading", name="Journal", level=1)).to_be_visible()
    expect(page.get_by_text("Took back: Entered 2 days", exact=False).first).to_be_visible()
    if scripts:
        assert unsound(page) == []
    # The undo stands in the journal as a change of its own, and is taken back there.
    newest = page.locator(".journal li").first
    expect(newest).to_contain_text("Took back: Entered 2 days")
    newest.get_by_role("button", name="Take back").click()
    expect(newest).to_contain_text("Took back: Took out 2 days")
    page.goto(f"{heron}/shop")
    expect(page.get_by_role("button", name="Usual hours this weekend after all")).to_be_visible()
    assert complaints == []
    page.close()


def test_a_tick_puts_away_what_was_said_of_the_change_before_it(
    browser: Browser, heron: str
) -> None:
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    page.goto(f"{heron}/tasks/rad_bracket")
    page.get_by_label("Begun on").fill("2026-02-06")
    page.get_by_role("button", name="Save the task").click()
    expect(page.locator("#notice")).to_be_visible()
    _settled(page, scripts=True)
    step = page.get_by_role("checkbox", name="Deburr it", exact=False)
    step.click()
    expect(step).to_be_checked()
    expect(page.locator("#notice")).to_have_count(0)
    page.close()
