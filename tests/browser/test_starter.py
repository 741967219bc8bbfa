"""The first hour: a build from a starter list and its questions, on the phone and the laptop."""

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import SIZES_AND_SCRIPTS, unsound, watched

pytestmark = pytest.mark.browser


@SIZES_AND_SCRIPTS
def test_answers_say_what_they_drop_before_they_are_taken(
    browser: Browser, heron: str, size: dict[str, int], scripts: bool
) -> None:
    page = browser.new_page(viewport=size, java_script_enabled=scripts)  # type: ignore[arg-type]
    complaints = watched(page)
    page.goto(heron.removesuffix("/builds/the-heron") + "/builds/new")
    page.get_by_label("Name of the build").fill("The Gull")
    page.get_by_label("a starter list for another engine in an old vehicle").check()
    page.get_by_role("button", name="Make the build").click()
    expect(page.get_by_role("heading", name="What is in this build?")).to_be_visible()
    expect(page.locator("#so-far")).to_contain_text("143 of 165 tasks")

    turbo = page.get_by_role("group", name="Is there a turbo?")
    turbo.get_by_label("No", exact=True).check()
    if not scripts:
        page.get_by_role("button", name="Take these answers").click()
        expect(page.get_by_text("Nothing is changed yet.")).to_be_visible()
    would_go = page.get_by_text("9 tasks and 4 parts would go")
    expect(would_go).to_be_visible()
    expect(page.locator("#so-far")).to_contain_text("Not taken yet")
    expect(turbo.get_by_label("No", exact=True)).to_be_checked()
    expect(turbo.get_by_text("No: 9 tasks and 4 parts dropped.")).to_be_visible()
    would_go.click()
    expect(page.locator("#goes li").first).to_be_visible()
    if scripts:
        assert unsound(page) == []

    page.get_by_role("button", name="Take these answers").click()
    expect(page.get_by_text("Saved.")).to_be_visible()
    expect(page.locator("#so-far")).to_contain_text("134 of 165 tasks")
    expect(would_go).to_have_count(0)
    page.reload()
    expect(turbo.get_by_label("No", exact=True)).to_be_checked()
    if scripts:
        assert unsound(page) == []
        # A refused form is an answer of 422, which the browser notes as an error of its own.
        assert complaints == []
    page.close()


def test_what_was_opened_stays_open_when_another_answer_is_picked(
    browser: Browser, heron: str, size: dict[str, int]
) -> None:
    page = browser.new_page(viewport=size)  # type: ignore[arg-type]
    page.goto(heron.removesuffix("/builds/the-heron") + "/builds/new")
    page.get_by_label("Name of the build").fill("The Gull")
    page.get_by_label("a starter list for another engine in an old vehicle").check()
    page.get_by_role("button", name="Make the build").click()
    expect(page.locator("#so-far")).to_contain_text("143 of 165 tasks")
    fold = page.locator("details[id^=which-]").first
    fold.locator("summary").click()
    expect(fold).to_have_attribute("open", "")
    turbo = page.get_by_role("group", name="Is there a turbo?")
    turbo.get_by_label("No", exact=True).check()
    would_go = page.get_by_text("9 tasks and 4 parts would go")
    expect(would_go).to_be_visible()
    expect(fold).to_have_attribute("open", "")
    would_go.click()
    turbo.get_by_label("Yes", exact=True).check()
    expect(would_go).to_have_count(0)
    expect(fold).to_have_attribute("open", "")
    page.close()
