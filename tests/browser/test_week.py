"""A week at the bench: begin, stop, correct an entry, close the week, print its sheet."""

import re

import httpx
import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import LAPTOP, PHONE, SIZES_AND_SCRIPTS, unsound_anywhere, watched

pytestmark = pytest.mark.browser

PAGES = ("week", "week/2026-W06", "week/compare")
BRACKET = "Radiator lower bracket"


def pages_in(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


@SIZES_AND_SCRIPTS
def test_begin_stop_correct_close_and_print(
    browser: Browser, heron: str, size: dict[str, int], scripts: bool
) -> None:
    page = browser.new_page(viewport=size, java_script_enabled=scripts)  # type: ignore[arg-type]
    complaints = watched(page)
    page.goto(f"{heron}/bench")
    page.get_by_role("button", name=re.compile(f"Go on.*{BRACKET}")).click()
    expect(page.get_by_text("On the bench since")).to_be_visible()
    page.get_by_role("link", name="Stop").click()
    page.get_by_label("Hours worked").fill("1:30")
    page.get_by_label("Hours left").fill("6")
    page.get_by_role("button", name="Stop for now").click()
    expect(page.get_by_text("On the bench since")).to_have_count(0)

    page.goto(f"{heron}/week")
    page.get_by_role("link", name="Time log", exact=True).click()
    page.get_by_role("link", name=re.compile(f"Correct 1 h 30 min on {BRACKET}")).click()
    expect(page.get_by_role("heading", name="Correct an entry")).to_be_visible()
    page.get_by_label("Hours worked").fill("2:15")
    page.get_by_role("button", name="Save the entry").click()
    expect(page.get_by_role("heading", name="Time log")).to_be_visible()
    expect(page.locator("td").filter(has_text=re.compile("^2 h 15 min$"))).to_be_visible()

    page.goto(f"{heron}/week")
    expect(page.locator(".shopweek")).to_contain_text("2 h 15 min were")
    page.get_by_role("button", name="Close the week").click()
    expect(page.get_by_text("As it was closed")).to_be_visible()
    expect(page.get_by_role("button", name="Close the week")).to_have_count(0)
    assert pages_in(page.pdf(prefer_css_page_size=True)) == 1
    assert not complaints
    page.close()


def test_the_bridge_comes_by_itself_and_opens_up(browser: Browser, heron: str) -> None:
    server = heron.split("/builds/")[0]
    headers = {"Origin": server}
    httpx.post(f"{heron}/close-week?week=2026-W06", headers=headers, timeout=60)
    entry = {"task": BRACKET, "on": "2026-02-09", "hours": "2", "left": "14"}
    httpx.post(f"{heron}/log", headers=headers, data=entry, timeout=60)
    page = browser.new_page(viewport=LAPTOP)  # type: ignore[arg-type]
    page.goto(f"{heron}/week")
    expect(page.get_by_text("First start moved from")).to_be_visible(timeout=20_000)
    page.get_by_text("How it splits, cause by cause").click()
    causes = page.get_by_role("table").filter(has_text="The move of first start")
    expect(causes.get_by_role("link", name=BRACKET)).to_be_visible()
    expect(page.locator("svg.bridge-pic.broad")).to_be_visible()
    page.get_by_role("heading", name="Weeks that were closed").click()
    page.get_by_role("link", name="Compare any two").click()
    page.get_by_label("To", exact=True).select_option(label="week 6, closed Mon 9 February")
    page.get_by_role("button", name="Compare").click()
    expect(page.get_by_text("First start stays on")).to_be_visible(timeout=20_000)
    page.goto(f"{heron}/week")
    expect(page.locator("#bridge .sentence")).to_be_visible(timeout=20_000)
    assert pages_in(page.pdf(prefer_css_page_size=True)) == 1
    page.close()


@pytest.fixture(scope="module")
def told_heron(still_heron: str) -> str:
    """The Heron with a baseline and a closed week."""
    headers = {"Origin": still_heron.split("/builds/")[0]}
    httpx.post(f"{still_heron}/week", headers=headers, timeout=60)
    httpx.post(f"{still_heron}/close-week?week=2026-W06", headers=headers, timeout=60)
    return still_heron


def test_every_page_of_the_week_is_sound_fits_and_keeps_the_policy(
    browser: Browser, told_heron: str
) -> None:
    page: Page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    complaints = watched(page)
    found = []
    for name in PAGES:
        page.goto(f"{told_heron}/{name}")
        page.wait_for_load_state("networkidle")
        found += [(name, *wrong) for wrong in unsound_anywhere(page)]
    assert not found
    assert not complaints
    page.close()


def test_a_busy_week_still_prints_on_one_page(browser: Browser, heron: str) -> None:
    headers = {"Origin": heron.split("/builds/")[0]}
    httpx.post(f"{heron}/week", headers=headers, timeout=60)
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    page.goto(f"{heron}/log")
    names = page.locator("#log-tasks option").evaluate_all("all => all.map(one => one.value)")
    with httpx.Client(headers=headers, timeout=60) as client:
        written = 0
        for name in names:
            entry = {"task": name, "on": "2026-02-07", "hours": "0.25", "finished": "stays"}
            answer = client.post(f"{heron}/log", data=entry | {"sure": "on"})
            written += answer.status_code == 303
            if written == 30:
                break
    assert written == 30
    entry = {"task": BRACKET, "on": "2026-02-09", "hours": "2", "left": "14"}
    httpx.post(f"{heron}/log", headers=headers, data=entry, timeout=60)
    page.goto(f"{heron}/week/2026-W06")
    expect(page.locator("#bridge .sentence")).to_be_visible(timeout=20_000)
    assert pages_in(page.pdf(prefer_css_page_size=True)) == 1
    page.close()
