"""The table of tasks in a real browser: from the keyboard on a laptop, as cards on a phone."""

import re

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import LAPTOP, SMALL_PHONE, unsound_anywhere, watched

pytestmark = pytest.mark.browser


def test_hours_are_typed_down_the_column_and_each_row_is_saved_by_itself(
    browser: Browser, heron: str
) -> None:
    page = browser.new_page(viewport=LAPTOP)  # type: ignore[arg-type]
    complaints = watched(page)
    page.goto(f"{heron}/tasks?find=fit")
    first, second = page.locator("[name^=likely-]").nth(0), page.locator("[name^=likely-]").nth(1)
    row = re.sub(r"\D", "", first.get_attribute("name") or "")
    first.fill("4:30")
    first.press("Enter")
    expect(second).to_be_focused()
    expect(page.locator(f"#said-{row}")).to_have_text("saved")
    expect(page.locator("#told")).to_contain_text("Saved. First start")
    second.fill("6")
    second.press("Tab")  # on to the range beside it, which opens from the keyboard
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    expect(page.locator("[name^=well-]").nth(1)).to_be_focused()
    expect(page.locator("#said-1")).to_have_text("saved")
    page.goto(f"{heron}/tasks?find=fit&only=open")
    expect(page.locator("[name^=likely-]").nth(0)).to_have_value("4.5")
    expect(page.locator("[name^=likely-]").nth(1)).to_have_value("6")
    assert not complaints
    page.close()


def test_a_mistake_stands_in_its_row_and_goes_once_it_is_mended(
    browser: Browser, heron: str, size: dict[str, int]
) -> None:
    page = browser.new_page(viewport=size)  # type: ignore[arg-type]
    page.goto(f"{heron}/tasks?find=turbo+oil")
    hours = page.locator("[name=likely-0]")
    hours.fill("a while")
    hours.press("Tab")
    expect(page.locator("#said-0")).to_contain_text("“a while” can not be read")
    expect(hours).to_have_attribute("aria-invalid", "true")
    hours.fill("2.5")
    hours.press("Tab")
    expect(page.locator("#said-0")).to_have_text("saved")
    expect(hours).not_to_have_attribute("aria-invalid", "true")
    page.close()


def test_a_task_typed_below_is_entered_with_enter_and_the_next_can_be_typed(
    browser: Browser, heron: str
) -> None:
    page = browser.new_page(viewport=LAPTOP)  # type: ignore[arg-type]
    page.goto(f"{heron}/tasks?find=xylo")
    page.locator("[name=name-0]").fill("Hang the xylo tray")
    page.locator("[name=likely-0]").fill("1.5")
    page.locator("[name=likely-0]").press("Enter")
    expect(page.get_by_role("link", name="Hang the xylo tray", exact=True)).to_have_count(1)
    expect(page.locator("[name=name-1]")).to_be_focused()
    page.close()


def test_table_question_and_list_are_sound_and_nothing_is_cut_off(
    browser: Browser, still_heron: str
) -> None:
    sizes = (SMALL_PHONE, LAPTOP)
    page = browser.new_page(viewport=LAPTOP)  # type: ignore[arg-type]
    for address in ("tasks", "drop-tasks?task=engine_in&task=first_start", "list"):
        page.goto(f"{still_heron}/{address}")
        assert unsound_anywhere(page, sizes) == [], address
    page.locator("#text").fill("Task;Hours;Subsystem\nHang the tray;2,5;Trim\nCap;x;\n")
    page.get_by_role("button", name="Look at the list").click()
    expect(page.get_by_text("“x” can not be read").first).to_be_visible()
    assert unsound_anywhere(page, sizes) == []
    page.close()
