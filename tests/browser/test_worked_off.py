"""The coolant circuit of the demo build worked off on a phone, press by press.

What a page offers is pressed, from the first line down, and what it says is missing is put into the
parts; what it takes in this circuit is said to be here, which lays it on the shelf.
`tests/pages/plumbing/test_worked_off.py` presses without a browser until nothing is open in any
circuit.
"""

import re

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.conftest import PHONE, watched

pytestmark = pytest.mark.browser

CIRCUIT = "plumbing/coolant"
WORKED_OFF = 6
"""So often the first button beside what is open is pressed; it takes three for one to be gone."""


class Walk:
    """A person on the pages of The Heron."""

    def __init__(self, page: Page, heron: str) -> None:
        self.page, self.heron = page, heron

    @property
    def open_list(self) -> Locator:
        return self.page.locator(".open-list")

    def open(self, name: str) -> None:
        self.page.goto(f"{self.heron}/{name}")

    def press(self, button: Locator) -> None:
        """Press, and wait until the page that answers stands there."""
        pressed_on = self.page.url
        own = button.locator("xpath=ancestor::form[1]//input[@name='once']")
        token = own.get_attribute("value")
        button.click()
        expect(self.page).not_to_have_url(pressed_on)
        expect(self.page.locator(f"input[name=once][value='{token}']")).to_have_count(0)
        expect(self.page.locator("#notice")).to_be_visible()

    def press_while_there(self, name: str, buttons: Locator) -> int:
        """Press the first of the buttons of a page until none is left; how often that was."""
        self.open(name)
        presses = 0
        while buttons.count():
            self.press(buttons.first)
            presses += 1
            if not self.page.url.split("?")[0].endswith(name):
                self.open(name)
        return presses

    def buttons(self, name: str) -> Locator:
        """The buttons of the page whose words begin so."""
        return self.page.get_by_role("button", name=re.compile(f"^{name}"))

    def open_line(self, name: str) -> Locator:
        """The buttons beside what is open in a circuit whose words begin so."""
        return self.open_list.get_by_role("button", name=re.compile(f"^{name}"))


def test_a_circuit_is_mended_bought_for_and_worked_off(browser: Browser, heron: str) -> None:
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    complaints = watched(page)
    walk = Walk(page, heron)
    walk.open("plumbing")
    expect(page.locator(".circuit-head a")).to_have_count(11)
    expect(page.locator(".lede b")).to_contain_text("1 of 11 is closed; 44 things are open.")
    assert walk.press_while_there(CIRCUIT, walk.open_line("Put (it|them) in"))
    _measure_the_heater_core(walk)
    walk.open("buy-list")
    walk.press(walk.buttons("Put what lacks into Parts"))
    lacks = walk.open_list.get_by_text("not all it needs is here")
    walk.open(CIRCUIT)
    lacked = lacks.count()
    assert walk.press_while_there("parts", walk.buttons("It is here.*[Cc]oolant"))
    walk.open(CIRCUIT)
    assert lacks.count() < lacked
    still_open = walk.open_list.get_by_role("listitem").count()
    for _ in range(WORKED_OFF):
        walk.press(walk.open_line("").first)
    assert walk.open_list.get_by_role("listitem").count() < still_open
    assert complaints == []
    page.close()


def _measure_the_heater_core(walk: Walk) -> None:
    walk.open(CIRCUIT)
    walk.open_list.get_by_role("link", name="Type its size").click()
    walk.page.get_by_label("Size", exact=True).fill("16")
    walk.press(walk.buttons("Save the port"))
