"""A run of five pieces drawn on a phone, tap by tap and key by key, and taken out again."""

import re

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.conftest import PHONE, unsound, watched

pytestmark = pytest.mark.browser
ENDS = {"Engine, 2.2 turbo-diesel, stat out (bead 38)", "Radiator, re-cored, top (bead 38)"}
LENGTHS = ("120", "210", "90", "150", "110")


class Hand:
    """What a hand does on a phone, counted: taps, and keys of what comes up to type with."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.taps = 0
        self.keys = 0

    def tap(self, what: Locator) -> None:
        what.click()
        self.taps += 1

    def pick(self, what: Locator, label: str) -> None:
        """A list is tapped, and then what it offers."""
        what.select_option(label=label)
        self.taps += 2

    def type_and_enter(self, text: str) -> None:
        """Typed where the focus is: no field is tapped for it."""
        self.page.keyboard.type(text)
        self.page.keyboard.press("Enter")
        self.keys += len(text) + 1


def open_ports(page: Page, heron: str) -> tuple[set[str], int]:
    """The ports of the coolant that nothing is joined to, and how many things are open in all."""
    page.goto(f"{heron}/plumbing/coolant")
    lines = page.locator(".open-list li")
    ports = lines.filter(has_text="nothing is joined to it").locator("b").all_inner_texts()
    return {re.sub(r"^\d+ ", "", text) for text in ports}, lines.count()


def take_out(page: Page, heron: str, key: str) -> None:
    page.goto(f"{heron}/remove-run?key={key}")
    page.get_by_role("button", name="Remove the run").click()
    expect(page.locator("#notice")).to_be_visible()


def test_a_run_of_five_pieces_takes_one_number_a_piece(browser: Browser, heron: str) -> None:
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    complaints = watched(page)
    as_it_was, _ = open_ports(page, heron)
    take_out(page, heron, "w_top")
    before, open_before = open_ports(page, heron)
    assert before - as_it_was == ENDS

    hand = Hand(page)
    hand.tap(page.get_by_role("link", name="Join two ports"))
    first, last = sorted(ENDS)
    hand.pick(page.get_by_label("It begins at"), first)
    hand.pick(page.get_by_label("It ends at"), last)
    hand.tap(page.get_by_role("button", name="Join them"))
    for at, length in enumerate(LENGTHS, start=1):
        expect(page.locator("#number")).to_be_focused()
        expect(page.get_by_role("textbox", name="Size", exact=True)).to_have_value("38")
        hand.type_and_enter(length)
        expect(page.get_by_role("rowheader", name=f"Piece {at}", exact=True)).to_be_visible()
    # the list of ports, two picks of two taps each, the button; fourteen digits and five Enters
    assert (hand.taps, hand.keys) == (6, 19)
    pieces = page.locator("tr.piece b").all_inner_texts()
    assert [name.split()[0] for name in pieces] == ["hose", "tube", "hose", "tube", "hose"]
    expect(page.get_by_text("This end fits Radiator, re-cored, top (bead 38)")).to_be_visible()
    assert unsound(page) == []
    key = page.url.partition("/runs/")[2].partition("?")[0]

    drawn, open_drawn = open_ports(page, heron)
    assert drawn == as_it_was
    assert open_drawn == open_before - 1  # two open ports less, one more run to be made
    take_out(page, heron, key)
    assert open_ports(page, heron)[0] - drawn == ENDS
    assert complaints == []
    page.close()
