"""The story of the first evening: open the demo, add a task, move a part, see first start move."""

import re

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import LAPTOP, SIZES_AND_SCRIPTS, watched

pytestmark = pytest.mark.browser

ENGINE_IN = "Lower the engine in for good, torque mounts and cross-member"


def first_start(page: Page) -> str:
    """First start as the frame says it."""
    text = page.locator("header").first.inner_text()
    found = re.search(r"(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d+ \w+", text)
    assert found, text
    return found[0]


@SIZES_AND_SCRIPTS
def test_adding_a_task_and_delaying_a_part_moves_first_start(
    browser: Browser, heron: str, size: dict[str, int], scripts: bool
) -> None:
    page = browser.new_page(viewport=size, java_script_enabled=scripts)  # type: ignore[arg-type]
    complaints = watched(page)
    page.goto(f"{heron}/bench")
    expect(page.get_by_role("heading", name="Radiator lower bracket")).to_be_visible()
    before = first_start(page)

    page.goto(f"{heron}/tasks/new")
    page.locator("[name=name-0]").fill("Shim the mounts")
    page.locator("[name=likely-0]").fill("25")
    page.locator(".entry-row summary").first.click()
    page.locator("[name=after-0]").fill(ENGINE_IN)
    page.get_by_role("button", name="Enter the tasks").click()
    expect(page.get_by_text("Saved. First start moves")).to_be_visible()
    expect(page).to_have_url(re.compile("since="))  # the address follows the page
    with_task = first_start(page)
    assert with_task != before

    page.goto(f"{heron}/parts")
    page.get_by_role("link", name="Alloy bends, 2.5 and 3 inch").click()
    page.locator("[name=arrives_on]").fill("2026-08-03")
    page.get_by_role("button", name="Save the part").click()
    expect(page.get_by_text("Saved. First start moves")).to_be_visible()
    assert first_start(page) != with_task
    assert not complaints
    page.close()


def test_begin_and_stop_on_the_bench(browser: Browser, heron: str, size: dict[str, int]) -> None:
    page = browser.new_page(viewport=size)  # type: ignore[arg-type]
    page.goto(f"{heron}/bench")
    page.get_by_role("button", name=re.compile("Go on.*Radiator lower bracket")).click()
    expect(page.get_by_text("On the bench since")).to_be_visible()
    page.get_by_role("link", name="Stop").click()
    page.get_by_label("Hours worked").fill("1:30")
    page.get_by_label("Hours left").fill("1")
    page.get_by_role("button", name="Stop for now").click()
    expect(page.get_by_text("On the bench since")).to_have_count(0)
    expect(page.get_by_text("1 h left").first).to_be_visible()
    page.close()


def test_a_mistake_is_said_beside_its_field_and_what_was_typed_stays(
    browser: Browser, heron: str, size: dict[str, int]
) -> None:
    page = browser.new_page(viewport=size)  # type: ignore[arg-type]
    page.goto(f"{heron}/tasks/new")
    page.locator("[name=name-0]").fill("Hang the tray")
    page.locator("[name=likely-0]").fill("a while")
    page.get_by_role("button", name="Enter the tasks").click()
    expect(page.locator("[name=likely-0]")).to_have_attribute("aria-invalid", "true")
    assert page.locator("[name=name-0]").input_value() == "Hang the tray"
    assert page.locator("[name=likely-0]").input_value() == "a while"
    page.close()


def test_a_double_click_enters_a_task_once(browser: Browser, heron: str) -> None:
    page = browser.new_page(viewport=LAPTOP)  # type: ignore[arg-type]
    page.goto(f"{heron}/tasks/new")
    page.locator("[name=name-0]").fill("Hang the tray")
    page.locator("[name=likely-0]").fill("1")
    page.get_by_role("button", name="Enter the tasks").dblclick()
    expect(page.locator("main")).to_contain_text("tasks")
    page.wait_for_timeout(500)
    page.goto(f"{heron}/tasks?find=tray")
    expect(page.get_by_role("link", name="Hang the tray", exact=True)).to_have_count(1)
    page.close()
