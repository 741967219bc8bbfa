"""The labels of the pipe run as a real browser sets them, in the font they are drawn in."""

import pytest
from playwright.sync_api import Browser, expect

pytestmark = pytest.mark.browser

MEETINGS = """
svg => {
  const boxes = [...svg.querySelectorAll("text.label")].map(e => [e.textContent, e.getBBox()]);
  const met = [];
  for (let i = 0; i < boxes.length; i++)
    for (let j = 0; j < i; j++) {
      const [a, b] = [boxes[i][1], boxes[j][1]];
      // the line box has leading above and below the letters: 2.5 units at 12.5
      if (a.x < b.x + b.width && b.x < a.x + a.width &&
          a.y + 2.5 < b.y + b.height - 2.5 && b.y + 2.5 < a.y + a.height - 2.5)
        met.push([boxes[i][0], boxes[j][0]]);
    }
  const path = svg.querySelector(".path-line");
  const length = path.getTotalLength();
  for (let at = 0; at <= length; at += 1) {
    const point = path.getPointAtLength(at);
    for (const [text, box] of boxes)
      if (point.x > box.x && point.x < box.x + box.width &&
          point.y > box.y + 2.5 && point.y < box.y + box.height - 2.5)
        met.push([text, "the path"]);
  }
  return [boxes.length, met];
}
"""


def test_no_label_meets_the_path_or_another_label(
    browser: Browser, still_heron: str, size: dict[str, int]
) -> None:
    page = browser.new_page(viewport=size)  # type: ignore[arg-type]
    page.goto(f"{still_heron}/path")
    picture = page.locator("svg.pipe-run:visible")
    expect(picture).to_have_count(1)
    page.evaluate("document.fonts.ready")
    labels, met = picture.evaluate(MEETINGS)
    assert labels > 10
    assert met == []
    page.close()
