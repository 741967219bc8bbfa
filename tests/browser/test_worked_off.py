"""The plumbing of the demo build worked off on a phone, press by press, until nothing is open.

Nothing is known here of what the demo lacks: what a page offers is pressed, from the first line
down, and what it says is missing is bought, said to be here and laid on the shelf.
"""

import re

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.conftest import PHONE, watched

pytestmark = pytest.mark.browser

CLOSED = "Closed: nothing is open."
MOST_PRESSES = 250
"""It takes 153; a press that does nothing would be pressed for ever."""
ROUNDS = range(2)
"""What is bought by the first list asks for a few things more."""


class Walk:
    """A person on the pages of The Heron, and how often they have pressed."""

    def __init__(self, page: Page, heron: str) -> None:
        self.page, self.heron, self.presses = page, heron, 0

    @property
    def open_list(self) -> Locator:
        return self.page.locator(".open-list")

    def open(self, name: str) -> None:
        self.page.goto(f"{self.heron}/{name}")

    def press(self, button: Locator) -> None:
        """Press, and wait until the page that answers stands there."""
        self.presses += 1
        assert self.presses < MOST_PRESSES
        pressed_on = self.page.url
        own = button.locator("xpath=ancestor::form[1]//input[@name='once']")
        token = own.get_attribute("value")
        button.click()
        expect(self.page).not_to_have_url(pressed_on)
        expect(self.page.locator(f"input[name=once][value='{token}']")).to_have_count(0)
        expect(self.page.locator("#notice")).to_be_visible()

    def press_while_there(self, name: str, buttons: Locator) -> None:
        """Press the first of the buttons of a page until none is left."""
        self.open(name)
        while buttons.count():
            self.press(buttons.first)
            if not self.page.url.split("?")[0].endswith(name):
                self.open(name)

    def buttons(self, name: str) -> Locator:
        """The buttons of the page whose words begin so."""
        return self.page.get_by_role("button", name=re.compile(f"^{name}"))

    def open_line(self, name: str) -> Locator:
        """The buttons beside what is open in a circuit whose words begin so."""
        return self.open_list.get_by_role("button", name=re.compile(f"^{name}"))

    def circuits(self) -> tuple[str, ...]:
        """The pages of the circuits that Plumbing leads to."""
        self.open("plumbing")
        links = self.page.locator(".circuit-head a")
        addresses = links.evaluate_all("links => links.map(one => one.pathname)")
        return tuple(f"plumbing/{address.rsplit('/', 1)[1]}" for address in addresses)


def test_the_heron_is_worked_off_to_nothing_open_and_a_hose_comes_off_again(
    browser: Browser, heron: str
) -> None:
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    complaints = watched(page)
    walk = Walk(page, heron)
    circuits = walk.circuits()
    assert len(circuits) == 11
    expect(page.locator(".lede b")).to_contain_text("1 of 11 is closed; 44 things are open.")
    for circuit in circuits:
        walk.press_while_there(circuit, walk.open_line("Put (it|them) in"))
    _measure_the_heater_core(walk)
    for _ in ROUNDS:
        _buy_what_lacks(walk)
        for circuit in circuits:
            walk.press_while_there(circuit, walk.open_line(""))
    for circuit in circuits:
        walk.open(circuit)
        expect(page.locator(".lede b")).to_have_text(CLOSED)
        expect(page.locator(".open-list")).to_have_count(0)
    _take_the_upper_hose_off(walk)
    assert complaints == []
    page.close()


def _measure_the_heater_core(walk: Walk) -> None:
    walk.open("plumbing/coolant")
    walk.open_list.get_by_role("link", name="Type its size").click()
    walk.page.get_by_label("Size", exact=True).fill("16")
    walk.press(walk.buttons("Save the port"))


def _buy_what_lacks(walk: Walk) -> None:
    walk.open("buy-list")
    lacking = walk.buttons("Put what lacks into Parts")
    if lacking.count():
        walk.press(lacking)
    walk.press_while_there("parts", walk.buttons("It is here"))
    walk.press_while_there("buy-list", walk.buttons("Put it on the shelf"))


def _take_the_upper_hose_off(walk: Walk) -> None:
    """Off it is one thing that is open; taken out of the drawing it leaves its two ends open."""
    walk.open("runs/w_top")
    walk.press(walk.buttons("It is off again"))
    walk.open("plumbing/coolant")
    expect(walk.open_list.get_by_role("listitem")).to_have_count(1)
    expect(walk.open_list).to_contain_text("Upper hose is cut and not fitted")
    walk.open("remove-run?key=w_top")
    walk.press(walk.buttons("Remove the run"))
    walk.open("plumbing/coolant")
    expect(walk.open_list.locator("b")).to_have_text(
        ["Engine, 2.2 turbo-diesel, stat out (bead 38)", "Radiator, re-cored, top (bead 38)"]
    )
    walk.open("plumbing")
    expect(walk.page.locator(".lede b")).to_contain_text("10 of 11 are closed; 2 things are open.")
