"""The labels of the pipe run as a real browser sets them, in the font they are drawn in.

That the page is sound with its stretches open, `test_boxes.py` finds: it unfolds all of it.
"""

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import seen_in_picture

pytestmark = pytest.mark.browser

MEETINGS = """
svg => {
  const boxes = [...svg.querySelectorAll("text")].map(e => [e.textContent, e.getBBox()]);
  const met = [];
  for (let i = 0; i < boxes.length; i++)
    for (let j = 0; j < i; j++) {
      const [a, b] = [boxes[i][1], boxes[j][1]];
      // the line box has leading above and below the letters: a fifth of its height
      if (a.x < b.x + b.width && b.x < a.x + a.width &&
          a.y + a.height * 0.2 < b.y + b.height * 0.8 &&
          b.y + b.height * 0.2 < a.y + a.height * 0.8)
        met.push([boxes[i][0], boxes[j][0]]);
    }
  for (const path of svg.querySelectorAll(".path-line")) {
    const length = path.getTotalLength();
    for (let at = 0; at <= length; at += 1) {
      const point = path.getPointAtLength(at);
      for (const [text, box] of boxes)
        if (point.x > box.x && point.x < box.x + box.width &&
            point.y > box.y + box.height * 0.2 && point.y < box.y + box.height * 0.8)
          met.push([text, "the path"]);
    }
  }
  const sheet = svg.viewBox.baseVal;
  for (const [text, box] of boxes)
    if (box.x < 0 || box.y < 0 || box.x + box.width > sheet.width ||
        box.y + box.height > sheet.height)
      met.push([text, "the edge"]);
  return [svg.querySelectorAll("text.label").length, met];
}
"""


def test_no_words_of_the_picture_meet_others_or_the_path_or_are_cut_off(
    browser: Browser, still_heron: str
) -> None:
    page = browser.new_page()
    page.goto(f"{still_heron}/path")
    page.locator("#path-working").wait_for(state="detached")
    for width, (labels, met) in seen_in_picture(page, "svg.pipe-run", MEETINGS):
        assert labels >= 1  # at least one stretch of hands
        assert met == [], width
    page.close()
