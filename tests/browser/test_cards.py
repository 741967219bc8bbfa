"""Tonight's job cards and the card of one task on paper: cautions whole, and so many sheets."""

import datetime as dt
from pathlib import Path

import httpx
import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import LAPTOP
from tests.browser.server import demo_server
from tests.browser.test_week import pages_in
from webapp.exchange.build_document import read_document
from webapp.settings import resource_root

pytestmark = pytest.mark.browser

HERON = (resource_root() / "seed_data" / "heron.json").read_text(encoding="utf-8")


def sheets(page: Page) -> int:
    return pages_in(page.pdf(prefer_css_page_size=True))


def test_first_start_and_the_longest_cautions_print_on_one_page_with_the_caution_whole(
    browser: Browser, still_heron: str
) -> None:
    build, _ = read_document(HERON, now=dt.datetime(2026, 2, 9, 18))
    assert build is not None
    page = browser.new_page(viewport=LAPTOP)  # type: ignore[arg-type]
    longest = sorted((t for t in build.tasks if t.is_open), key=lambda t: -len(t.caution))[:6]
    first_start = next(task for task in build.tasks if task.key == "first_start")
    for task in (first_start, *longest):
        page.goto(f"{still_heron}/tasks/{task.key}")
        page.emulate_media(media="print")
        printed = " ".join(page.locator(".paper-card .caution").inner_text().split())
        assert task.caution in printed
        assert sheets(page) == 1, task.name
        page.emulate_media(media="screen")
    page.close()


def test_tonights_cards_stand_on_two_sheets_at_most_with_fields_to_write_in(
    browser: Browser, still_heron: str
) -> None:
    page = browser.new_page(viewport=LAPTOP)  # type: ignore[arg-type]
    page.goto(f"{still_heron}/bench")
    page.get_by_role("link", name="Job cards to print").click()
    expect(page.get_by_role("heading", name="Radiator lower bracket")).to_be_visible()
    page.emulate_media(media="print")
    card = page.get_by_role("article").first
    for field in ("Begun", "Stopped", "Hours left", "Notes"):
        expect(card.locator(".fill-in").get_by_text(field, exact=True)).to_be_visible()
    expect(card.get_by_text("fire watch of at least 30 minutes")).to_be_visible()
    assert 1 <= sheets(page) <= 2
    page.close()


def test_what_does_not_fit_is_left_out_by_name_and_no_caution_is_cut(
    browser: Browser, tmp_path: Path
) -> None:
    """Cautions of 10,000 and of 3,000 characters, the first with two hundred steps besides."""
    long = "Lifting: crane and chain rated for the load, nobody below it, none between. " * 140
    with demo_server(tmp_path / "heron.sqlite3") as server:
        heron = f"{server}/builds/the-heron"
        page = browser.new_page(viewport=LAPTOP)  # type: ignore[arg-type]
        for key, caution in (("rad_bracket", long[:2990]), ("loom_crimp", long[:2990])):
            data = {"caution": caution.strip()}
            address = f"{heron}/tasks/{key}"
            assert httpx.post(address, data=data, headers={"Origin": server}).status_code == 303
        page.goto(f"{heron}/bench/cards")
        page.emulate_media(media="print")
        assert sheets(page) <= 2
        data = {
            "caution": long[:9990].strip(),
            "more_steps": "\n".join(f"Bolt number {n}, to its torque" for n in range(190)),
        }
        begin = {"task": "loom_crimp"}  # on the bench, so it comes first
        answer = httpx.post(f"{heron}/bench/begin", data=begin, headers={"Origin": server})
        assert answer.status_code == 303
        address = f"{heron}/tasks/loom_crimp"
        assert httpx.post(address, data=data, headers={"Origin": server}).status_code == 303
        page.goto(f"{heron}/bench/cards")
        printed = " ".join(page.locator(".caution").first.inner_text().split())
        assert long[:9990].strip() in printed
        expect(page.get_by_text("on its page.").first).to_be_visible()
        expect(page.get_by_text("Left out, for they do not fit")).to_be_visible()
        assert sheets(page) <= 2
        page.close()


def test_the_parts_list_prints_by_supplier(browser: Browser, still_heron: str) -> None:
    page = browser.new_page(viewport=LAPTOP)  # type: ignore[arg-type]
    page.goto(f"{still_heron}/parts")
    page.get_by_role("link", name="List to print").click()
    expect(page.get_by_role("heading", name="Parts to come, by supplier")).to_be_visible()
    assert page.locator(".buy-lines li").count() > 5
    assert sheets(page) <= 2
    page.close()
