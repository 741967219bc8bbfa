"""From nothing to a plan of one's own swap, counted: every tap or click, every key."""

import re
from dataclasses import dataclass

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.conftest import PHONE, SIZES_AND_SCRIPTS

pytestmark = pytest.mark.browser

TASKS = 134
"""Of the starter list, once it is answered that there is no turbo."""
OWN_TASKS = (
    ("Make the seat box for the batteries", "4"),
    ("Hang the heater flap", "1.5"),
    ("Line the engine tunnel", "6"),
    ("Build the tray for the tools", "3"),
    ("Move the horn", "0.5"),
    ("Bend the heat shield", "2"),
)
OWN_PARTS = (
    ("Heat shield sheet", "5"),
    ("Tunnel lining", "10"),
    ("Horn bracket", "3"),
    ("Battery clamps", "4"),
    ("Heater flap cable", "7"),
)
TAPS_AND_KEYS = {True: (51, 332), False: (72, 312)}
"""Counted, with and without scripts, the same on a phone and a laptop: 18 tasks dropped, 20
estimates changed, 6 tasks and 5 parts of one's own. Three seconds a tap and half of one a key make
it five and a half minutes with scripts (from memory, no source), reading left aside."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """How much of the starter list is changed, and of one's own entered."""

    dropped: int = 18
    changed: int = 20
    tasks: int = len(OWN_TASKS)
    parts: int = len(OWN_PARTS)

    @property
    def left(self) -> int:
        """The tasks of the starter list that are not dropped."""
        return TASKS - self.dropped


ALL, LITTLE = Amount(), Amount(dropped=3, changed=4, tasks=2, parts=2)
"""All of it is done where most will do it; elsewhere enough to see that each further row is done by
as many taps and keys."""


def _taps_and_keys(amount: Amount, scripts: bool) -> tuple[int, int]:
    """Those of all of it, without those of each row that is left out."""
    taps, keys = TAPS_AND_KEYS[scripts]
    unchanged = ALL.changed - amount.changed
    taps -= ALL.dropped - amount.dropped  # each is ticked
    taps -= 0 if scripts else unchanged
    keys -= (len("2.4") + (1 if scripts else 0)) * unchanged  # with scripts Enter goes on
    for name, hours in OWN_TASKS[amount.tasks :]:
        taps, keys = taps - 1, keys - len(name) - len(hours) - 2  # Tab and Enter
    for name, days in OWN_PARTS[amount.parts :]:
        taps, keys = taps - 3, keys - len(name) - len(days) - 1  # Add a part, two fields; Enter
    return taps, keys


class Hand:
    """Does what a person does, and counts it."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.taps = self.keys = 0

    def tap(self, what: Locator) -> None:
        what.click()
        self.taps += 1

    def type(self, text: str) -> None:
        """Into the field that has the focus; what was in it is typed over."""
        self.page.keyboard.press("ControlOrMeta+a")
        self.page.keyboard.type(text)
        self.keys += len(text)

    def press(self, key: str) -> None:
        self.page.keyboard.press(key)
        self.keys += 1


@SIZES_AND_SCRIPTS
def test_from_nothing_to_a_plan_of_ones_own(
    browser: Browser, heron: str, size: dict[str, int], scripts: bool
) -> None:
    page = browser.new_page(viewport=size, java_script_enabled=scripts)  # type: ignore[arg-type]
    page.goto(heron.removesuffix("/builds/the-heron"))
    hand, amount = Hand(page), ALL if scripts and size == PHONE else LITTLE
    _begin(hand)
    _answer(hand, scripts)
    _drop(hand, amount, scripts)
    _estimate(hand, amount, scripts)
    _enter_tasks(hand, amount)
    _enter_parts(hand, amount)
    hand.tap(page.get_by_role("link", name="Path").locator("visible=true").first)
    expect(page.get_by_role("heading", name="What decides the date")).to_be_visible()
    expect(page.locator(".gauges")).to_contain_text("likely")
    assert (hand.taps, hand.keys) == _taps_and_keys(amount, scripts)
    page.close()


def _begin(hand: Hand) -> None:
    page = hand.page
    hand.tap(
        page.get_by_role("link", name=re.compile("build of (my|your) own|new build", re.I)).first
    )
    hand.tap(page.get_by_label("Name of the build"))
    hand.type("The Gull")
    hand.tap(page.get_by_label("a starter list for another engine in an old vehicle"))
    hand.tap(page.get_by_role("button", name="Make the build"))
    expect(page.get_by_role("heading", name="What is in this build?")).to_be_visible()


def _answer(hand: Hand, scripts: bool) -> None:
    """One answer of its own; what goes with it is shown before it is taken."""
    page = hand.page
    turbo = page.get_by_role("group", name="Is there a turbo?")
    hand.tap(turbo.get_by_label("No", exact=True))
    if not scripts:
        hand.tap(page.get_by_role("button", name="Take these answers"))
    expect(page.get_by_text("9 tasks and 4 parts would go")).to_be_visible()
    hand.tap(page.get_by_role("button", name="Take these answers"))
    expect(page.get_by_text("Saved.")).to_be_visible()


def _tasks(hand: Hand) -> None:
    hand.tap(hand.page.get_by_role("link", name=re.compile("Go on to the")).first)
    expect(hand.page.get_by_role("heading", name="All tasks")).to_be_visible()


def _drop(hand: Hand, amount: Amount, scripts: bool) -> None:
    page = hand.page
    _tasks(hand)
    boxes = page.locator("[name^=pick-]")
    for place in range(1, 2 * amount.dropped, 2):
        hand.tap(boxes.nth(place).locator("xpath=..") if scripts else boxes.nth(place))
    hand.tap(page.get_by_role("button", name="Drop the ticked"))
    hand.tap(page.get_by_role("button", name=f"Drop the {amount.dropped} tasks"))
    expect(page.locator(".counts").first).to_have_text(f"{amount.left} tasks: {amount.left} open")


def _estimate(hand: Hand, amount: Amount, scripts: bool) -> None:
    """With scripts Enter goes to the hours of the row below; without them each is tapped."""
    page = hand.page
    hours = page.locator("tr:not(.new) [name^=likely-]")
    hand.tap(hours.first)
    for place in range(amount.changed):
        if not scripts and place:
            hand.tap(hours.nth(place))
        hand.type(f"{2 + place % 5}.4")
        if scripts:
            hand.press("Enter")
    if scripts:
        expect(page.locator("[id^=said-]", has_text="saved")).to_have_count(amount.changed)
        page.reload()
    else:
        hand.tap(page.get_by_role("button", name="Save", exact=True))
    ahead = amount.left - amount.changed
    expect(page.get_by_label("Show")).to_contain_text(f"hours not yet looked at ({ahead})")


def _enter_tasks(hand: Hand, amount: Amount) -> None:
    page = hand.page
    for count, (name, likely) in enumerate(OWN_TASKS[: amount.tasks], start=amount.left + 1):
        hand.tap(page.locator("tr.new [name^=name-]").first)
        hand.type(name)
        hand.press("Tab")
        hand.type(likely)
        hand.press("Enter")
        expect(page.locator(".counts").first).to_have_text(f"{count} tasks: {count} open")


def _enter_parts(hand: Hand, amount: Amount) -> None:
    page = hand.page
    hand.tap(page.get_by_role("link", name="Parts").locator("visible=true").first)
    for name, days in OWN_PARTS[: amount.parts]:
        hand.tap(page.get_by_role("link", name="Add a part").first)
        hand.tap(page.get_by_label("Name", exact=True).first)
        hand.type(name)
        hand.tap(page.get_by_label(re.compile("Lead time")).first)
        hand.type(days)
        hand.press("Enter")
        expect(page.get_by_text("Saved").first).to_be_visible()
