"""Tightening in the browser: press, wait, keep, see the order change, let go."""

import re

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import PHONE, unsound_in_both_schemes, watched

pytestmark = pytest.mark.browser


def begins(page: Page) -> list[str]:
    """The names in the job order, from the top."""
    return page.locator("ol.order a.name").all_text_contents()


def no_faults_in(page: Page) -> None:
    assert not unsound_in_both_schemes(page)


STOP_IF_IT_IS_ON = "document.querySelector('#tighten button[value=\"0\"]')?.click()"
"""The button that stops and shows what was found; it goes with the end of the run at any moment."""
KEEP = re.compile("^Keep th(is order|e best)")


def tighten(page: Page, seconds: str) -> None:
    """Press, and wait for the verdict."""
    page.get_by_label("Look for an earlier first start").select_option(seconds)
    page.get_by_role("button", name=re.compile("^Tighten( again)?$")).click()
    expect(page.get_by_text("Best first start found")).to_be_visible()
    no_faults_in(page)
    # Best possible, or how far from it: what is proved in that time hangs on the machine.
    ended = page.get_by_text(re.compile("best possible"))
    gained = page.locator("#tighten dd", has_text=re.compile("^about .* earlier$"))
    expect(gained.or_(ended)).to_be_visible(timeout=240_000)
    page.evaluate(STOP_IF_IT_IS_ON)
    expect(ended).to_be_visible()


def test_press_wait_keep_and_let_go(browser: Browser, heron: str) -> None:
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    complaints = watched(page)
    page.goto(f"{heron}/order")
    expect(page.locator("#first-start-firm")).to_be_visible()
    page.reload()  # the order at the pace of the forecast, which is there now
    by_house_rules = begins(page)
    page.get_by_role("link", name="Tighten the order").click()
    for seconds in ("10", "30", "120"):  # a machine busy with other work finds nothing in less
        tighten(page, seconds)
        if page.get_by_role("button", name=KEEP).count():
            break
    no_faults_in(page)
    verdict = page.locator("#tighten .said")
    verdict.evaluate("e => scrollTo(0, e.getBoundingClientRect().bottom + scrollY + 20)")
    expect(verdict, "half a phone high, it lets go of the screen").not_to_be_in_viewport()
    # Nothing is kept until the press.
    path = page.url
    page.goto(f"{heron}/order")
    expect(page.get_by_text("This follows the kept order")).to_have_count(0)
    assert sorted(begins(page)) == sorted(by_house_rules)

    page.goto(path)
    page.get_by_role("button", name=KEEP).first.click()
    expect(page.get_by_text("This follows the kept order")).to_be_visible()
    assert sorted(begins(page)) == sorted(by_house_rules)
    kept = begins(page)
    assert kept != by_house_rules
    no_faults_in(page)
    page.reload()
    expect(page.get_by_text("This follows the kept order")).to_be_visible()

    page.get_by_role("button", name="Let go of the kept order").click()
    expect(page.get_by_text("This follows the kept order")).to_have_count(0)
    # At the pace that was found for the kept order, which may still be right.
    assert sorted(begins(page)) == sorted(by_house_rules)
    assert begins(page) != kept
    assert not complaints
    page.close()


def test_it_works_by_reload_without_scripts_and_is_cancelled(browser: Browser, heron: str) -> None:
    page = browser.new_page(viewport=PHONE, java_script_enabled=False)  # type: ignore[arg-type]
    page.goto(f"{heron}/path")
    page.get_by_label("Look for an earlier first start").select_option("120")
    page.get_by_role("button", name="Tighten", exact=True).click()
    expect(page.get_by_text(re.compile("of 120"))).to_be_visible()
    page.get_by_role("link", name="Bench").first.click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    page.goto(f"{heron}/path")
    page.get_by_role("link", name="Look again").click()
    page.get_by_role("button", name="Cancel").click()
    for _ in range(10):
        if page.get_by_text("Ending:").count() == 0:
            break
        page.wait_for_timeout(500)
        page.reload()
    expect(page.get_by_role("button", name="Tighten", exact=True)).to_be_visible()
    page.close()
