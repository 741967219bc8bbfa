"""From what a check misses to its very field and back, on a phone; fill day on paper."""

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import PHONE

pytestmark = pytest.mark.browser
SHEETS = 2
"""Of A4: what is poured in, and what it waits for."""


def test_a_missing_figure_is_typed_in_three_presses(browser: Browser, heron: str) -> None:
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    page.goto(f"{heron}/sizing")
    page.get_by_role("link", name="Type the filter's rated flow").click()
    field = page.locator("#filter_m3_h")
    expect(field).to_be_focused()
    expect(field).to_be_in_viewport()
    page.keyboard.type("600")
    page.get_by_role("button", name="Save the data sheet").click()
    expect(page.get_by_role("heading", name="Does it carry enough?")).to_be_visible()
    line = page.locator("li", has_text="Air filter").first
    # 0.1403 kg/s at 98.47 kPa and 25 degrees is 439 m3/h of free air: 73 % of 600
    expect(line).to_contain_text("ok")
    expect(line).to_contain_text("73")
    page.close()


def test_an_unlikely_pressure_is_asked_about_beside_its_field(browser: Browser, heron: str) -> None:
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    page.goto(f"{heron}/data-sheet?asked=boost_bar")
    page.locator("#boost_bar").fill("2.2")
    page.get_by_role("button", name="Save the data sheet").click()
    expect(page.locator("#boost_bar-wrong")).to_contain_text("the air's own 1 bar")
    expect(page.locator("#boost_bar")).to_have_value("2.2")
    page.locator("#sure-boost_bar").check()
    page.get_by_role("button", name="Save the data sheet").click()
    expect(page.get_by_role("heading", name="Does it carry enough?")).to_be_visible()
    page.close()


def test_fill_day_prints_on_two_sheets(browser: Browser, heron: str) -> None:
    page = browser.new_page()
    page.goto(f"{heron}/fill-day")
    paper = page.pdf(format="A4")
    assert 1 <= paper.count(b"/Type /Page") - paper.count(b"/Type /Pages") <= SHEETS
    page.close()
