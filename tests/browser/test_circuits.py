"""The words of the circuit pictures as a real browser sets them, in the font they are drawn in."""

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import seen_in_picture
from tests.plumbing.heron import heron

pytestmark = pytest.mark.browser

CIRCUITS = [one.key for one in heron().plumbing.circuits]
MEETINGS = """
svg => {
  const of = (what) => [...svg.querySelectorAll(what)].map(e => [e.textContent, e.getBBox()]);
  const words = of("text"), walls = of("rect.box"), met = [];
  // the line box has leading above and below the letters: a fifth of its height
  const low = (b) => b.y + b.height * 0.8, high = (b) => b.y + b.height * 0.2;
  const beside = (a, b) => a.x + a.width <= b.x + 0.5 || b.x + b.width <= a.x + 0.5;
  for (let i = 0; i < words.length; i++)
    for (let j = 0; j < i; j++) {
      const [a, b] = [words[i][1], words[j][1]];
      if (!beside(a, b) && high(a) < low(b) && high(b) < low(a))
        met.push([words[i][0], words[j][0]]);
    }
  for (const [text, a] of words)
    for (const [, b] of walls) {
      const meets = !beside(a, b) && high(a) < b.y + b.height && b.y < low(a);
      const inside = a.x >= b.x && a.x + a.width <= b.x + b.width &&
        high(a) >= b.y && low(a) <= b.y + b.height;
      if (meets && !inside) met.push([text, "a wall"]);
    }
  const sheet = svg.viewBox.baseVal;
  for (const [text, b] of words)
    if (b.x < 0 || high(b) < 0 || b.x + b.width > sheet.width || low(b) > sheet.height)
      met.push([text, "the edge"]);
  return [words.length, met];
}
"""


def test_no_words_of_a_circuit_meet_others_or_a_wall_or_are_cut_off(
    browser: Browser, still_heron: str
) -> None:
    """On a phone and on a laptop, which have a picture each on the same page."""
    page = browser.new_page()
    found = {}
    for key in CIRCUITS:
        page.goto(f"{still_heron}/plumbing/{key}")
        for width, (words, met) in seen_in_picture(page, "svg.pic.circ", MEETINGS):
            assert words > 1
            if met:
                found[key, width] = met
    page.close()
    assert found == {}
