"""What stands on paper: a printed order says what it is, a job card keeps its caution."""

import pytest
from playwright.sync_api import Browser, expect

from tests.plumbing.heron import heron
from webapp.plumbing.plumbed import plumbed

pytestmark = pytest.mark.browser


def test_a_printed_trial_of_the_order_says_that_it_is_a_trial(
    browser: Browser, still_heron: str
) -> None:
    page = browser.new_page()
    page.emulate_media(media="print")
    page.goto(f"{still_heron}/order?rule=working_order&rule=big_first&rule=longest_way")
    expect(page.get_by_text("Tried: working order, then the biggest piece")).to_be_visible()
    expect(page.locator("#first-start")).to_be_visible()
    expect(page.locator("nav:visible, button:visible, a.button:visible")).to_have_count(0)
    page.close()


def test_a_printed_job_card_keeps_its_caution(browser: Browser, still_heron: str) -> None:
    page = browser.new_page()
    page.emulate_media(media="print")
    page.goto(f"{still_heron}/tasks/rad_bracket")
    card = page.get_by_role("article")
    expect(card.get_by_text("Local codes and licensed practice come first")).to_be_visible()
    expect(card.get_by_text("the turned outlet decides its height")).to_be_visible()  # folded else
    expect(page.locator("button:visible")).to_have_count(0)
    page.close()


def test_a_printed_list_of_joints_has_every_joint_of_every_circuit(
    browser: Browser, still_heron: str
) -> None:
    page = browser.new_page()
    page.goto(f"{still_heron}/joints")
    every = page.locator("table.joints tbody tr")
    assert every.count() == sum(len(one.joints) for one in plumbed(heron()).runs)
    expect(page.locator("table.joints tbody tr:visible")).to_have_count(
        0
    )  # folded, circuit by circuit
    page.emulate_media(media="print")
    expect(page.locator("table.joints tbody tr:visible")).to_have_count(every.count())
    expect(page.locator("nav:visible, button:visible, a.button:visible")).to_have_count(0)
    page.close()
