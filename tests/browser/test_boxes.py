"""Nothing cut off, nothing lying over what can be pressed, nothing too small for a thumb.

Each page is asked for once and measured at each size of screen; axe-core looks at it too, in both
schemes of colour.
"""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import PHONE, unsound, unsound_in_both_schemes, watched
from tests.browser.pages import LINKED, OUTSIDE, PAGES, STARTED
from tests.browser.server import demo_server
from tests.photographs import photograph

pytestmark = pytest.mark.browser

FRAME_PX = 120
TARGET_PX = 44
LETTER_PX = 12
"""Of the letters of a picture at 390 px; at 360 they are smaller by as much as the screen."""
SIZES = {"360": (360, 640), "390": (390, 844), "1240": (1240, 900)}
FRAME_HEIGHT = """document.querySelector(".gauges .how[open]")
  ? 0 : document.querySelector("header.frame")?.offsetHeight ?? 0"""
"""As long as nothing in it is unfolded."""
MEASURE = (Path(__file__).parent / "boxes.js").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def heron(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The Heron with a clock running and a wish to be decided."""
    with demo_server(tmp_path_factory.mktemp("boxes") / "heron.sqlite3") as server:
        address = f"{server}/builds/the-heron"
        with httpx.Client(headers={"Origin": server}, timeout=60) as client:
            client.post(f"{address}/bench/begin", data={"task": "rad_bracket"})
            client.post(f"{address}/bench/wish", data={"wish": "A lamp behind the seat"})
            for shade in (60, 160):
                client.post(
                    f"{address}/photographs?task=rad_bracket",
                    data={"caption": "Hose labels, the left side as it came"},
                    files={"picture": ("a.jpg", photograph(shade, (640, 480)), "image/jpeg")},
                )
            boat = {"name": "The boat", "starts_on": "2026-02-01", "begin_with": "boat"}
            client.post(f"{server}/builds/new", data=boat | {"record-the-heron": "on"})
        yield address


def wrong_in(page: Page, state: str) -> list[Any]:
    """What is wrong with the page as it stands at any size: boxes, letters, colours, rules.

    The rules of axe-core are looked at on the smallest phone and on the laptop, the colours on the
    larger phone and on the laptop: the two phones have the same page.
    """
    found: list[Any] = []
    for width, down in SIZES.values():
        page.set_viewport_size({"width": width, "height": down})
        letter_px = LETTER_PX * min(1.0, width / 390)
        wrong = page.evaluate(MEASURE, {"targetPx": TARGET_PX, "letterPx": letter_px})
        wrong += unsound_in_both_schemes(page, rules=width != PHONE["width"])
        found += [[state, width, *each] for each in wrong]
        header = page.evaluate(FRAME_HEIGHT) if width <= PHONE["width"] else 0
        if header > FRAME_PX:
            found.append([state, width, "frame", header])
    return found


def _all_pages(page: Page, heron: str) -> list[str]:
    """The addresses of all pages, those that only a link of a page knows among them."""
    server = heron.removesuffix("/builds/the-heron")
    page.goto(f"{server}/copies")
    page.get_by_role("button", name="Make a copy now").click()
    expect(page.get_by_role("status")).to_contain_text("A copy was made")
    page.goto(f"{heron}/own-list")
    page.get_by_role("button", name="Make the list").click()
    expect(page.get_by_role("status")).to_contain_text("is made")
    linked = []
    for name, begins, ends in LINKED:
        page.goto(f"{server}{name}" if name.startswith("/") else f"{heron}/{name}")
        begins = begins if begins.startswith("/") else f"/builds/the-heron/{begins}"
        link = page.locator(f"a[href^='{begins}']").first.get_attribute("href")
        path, _, query = str(link).partition("?")
        linked.append(f"{server}{path}{ends}?{query}")
    return [
        *(f"{heron}/{name}" for name in PAGES),
        *linked,
        *(f"{server}/builds/the-boat/{name}" for name in STARTED),
        *(f"{server}{name}" for name in OUTSIDE),
    ]


def test_every_page_fits_and_keeps_the_policy(browser: Browser, heron: str) -> None:
    page = browser.new_page()
    complaints, found = watched(page), []
    for address in _all_pages(page, heron):
        answer = page.goto(address)
        assert answer is not None
        assert answer.ok, address
        if page.locator("#page nav.thumb").count():
            expect(page.locator("#first-start")).to_be_visible()
        expect(page.locator("[hx-trigger*=delay]")).to_have_count(0, timeout=60_000)
        page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
        found += wrong_in(page, address)
    page.close()
    assert not found
    assert not complaints


def test_every_state_of_a_form_fits(browser: Browser, heron: str) -> None:
    across, down = SIZES["360"]
    page = browser.new_page(viewport={"width": across, "height": down})
    found = _wish_after_a_change(page, heron)
    found += _wrong_hours(page, heron)
    page.set_viewport_size({"width": across, "height": down})
    found += _stopping(page, heron)
    page.close()
    assert not found


FAULTY = """<!doctype html><html lang="en"><head><title>Faulty</title></head>
<body style="background:#fff"><div id="page"><main style="width:300px">
<h1 style="color:#000">All of it wrong</h1>
<p style="color:#000">Ink on paper.</p><p style="color:#767676">Just enough.</p>
<p style="color:#bbb">Too pale to be read.</p>
<p style="background:#222"><span style="color:#444">Ink on ink.</span></p>
<p style="width:40px;overflow:hidden;white-space:nowrap">Cut off in the middle</p>
<svg width="100" height="20" viewBox="0 0 200 40">
<text x="0" y="30" style="font-size:20px">small</text></svg>
<button style="height:20px">Low</button><img src="data:," width="9" height="9">
</main></div></body></html>"""


def test_what_is_looked_for_is_found(browser: Browser) -> None:
    """A page on which every kind of fault stands once: else the tests above prove nothing."""
    page = browser.new_page()
    page.set_content(FAULTY)
    found = [(width, *each[:2]) for _, width, *each in wrong_in(page, "faulty")]
    page.close()
    kinds = {
        (width, each[0] if each[0] not in ("light", "dark", "small") else each[1])
        for width, *each in found
    }
    for width in (360, 390, 1240):
        assert {(width, kind) for kind in ("cut off", "too low")} <= kinds
        # 20 units of a picture drawn at half its size are 10 px
        assert (width, "letters too small") in kinds
    assert {(390, "color-contrast"), (1240, "color-contrast")} <= kinds
    assert {(360, "image-alt"), (1240, "image-alt")} <= kinds
    pale = [each for each in unsound(_again(browser), rules=False) if each[0] == "color-contrast"]
    assert len(pale) == 1  # one fault that names its first place: nothing faulty is ever "known"


def _again(browser: Browser) -> Page:
    page = browser.new_page()
    page.set_content(FAULTY)
    return page


def _wrong_hours(page: Page, heron: str) -> list[Any]:
    """A line of what there is to do, asking whether its hours are right."""
    page.goto(f"{heron}/week")
    line = page.locator("#to-do details.line[open]")
    line.get_by_label("Hours worked").fill("9")
    line.get_by_role("button", name="Write the hours down").click()
    expect(page.get_by_text("Is it right?").first).to_be_visible()
    return wrong_in(page, "week, hours that are hardly right")


def _wish_after_a_change(page: Page, heron: str) -> list[Any]:
    """The way to the wish line while a notice stands at the top of the window."""
    page.goto(f"{heron}/bench?since=1-2")
    expect(page.locator("#notice")).to_be_visible()
    expect(page.locator("[hx-trigger*=delay]")).to_have_count(0, timeout=60_000)
    page.goto(f"{page.url}#wish")
    page.wait_for_function("scrollY > 0 || document.body.scrollHeight <= innerHeight")
    over = page.evaluate(TOP_OF, "#wish")
    return [] if over == "wish" else [["bench, a notice", "wish line covered", over]]


TOP_OF = """(which) => {
  const box = document.querySelector(which).getBoundingClientRect();
  const top = document.elementFromPoint(box.left + box.width / 2, box.top + 3);
  return top ? top.id || top.outerHTML.slice(0, 60) : "nothing";
}"""
"""The id of what lies on top at the upper edge of an element."""


def _stopping(page: Page, heron: str) -> list[Any]:
    """The stop form as it is opened, with its faults, and asking before it sets aside."""
    page.goto(f"{heron}/bench")
    page.get_by_role("link", name="Stop").click()
    expect(page.get_by_label("Hours worked")).to_be_focused()
    expect(page.get_by_label("Hours worked")).to_be_in_viewport(ratio=1)
    found = wrong_in(page, "stopping")
    page.get_by_label("Hours worked").fill("some")
    page.get_by_role("button", name="Stop for now").click()
    expect(page.get_by_text("can not be read").first).to_be_visible()
    found += wrong_in(page, "stopping, a fault")
    page.get_by_label("Hours worked").fill("7")
    page.get_by_role("button", name="Set it aside").click()
    page.set_viewport_size({"width": 360, "height": 640})
    asked = page.get_by_text(re.compile("^Set “Radiator lower bracket” aside"))
    expect(asked).to_be_in_viewport(ratio=1)
    return found + wrong_in(page, "set aside?")


CAUTIONS = {"short": 60, "long": 480, "longest in one line of the sketch": 620}


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_task_caution_and_button_stand_on_the_first_screen_of_a_phone(
    browser: Browser, tmp_path: Path, scripts: bool
) -> None:
    with demo_server(tmp_path / "heron.sqlite3") as server:
        heron = f"{server}/builds/the-heron"
        page = browser.new_page(java_script_enabled=scripts)
        go_on = page.get_by_role("button", name=re.compile("^Go on.*Radiator"))
        for caution in CAUTIONS.values():
            _write_caution(heron, caution)
            page.goto(f"{heron}/bench")
            for width in ("360", "390"):
                page.set_viewport_size(dict(zip(("width", "height"), SIZES[width], strict=True)))  # type: ignore[arg-type]
                expect(page.locator(".now-on h1")).to_be_in_viewport(ratio=1)
                expect(go_on).to_be_in_viewport(ratio=1)
                box, bar = page.locator(".now-on .caution").bounding_box(), page.locator(".bar")
                bar_box = bar.bounding_box()
                assert box is not None
                assert bar_box is not None
                assert box["y"] + box["height"] <= bar_box["y"], caution
        go_on.click()
        expect(page.get_by_role("link", name="Stop")).to_be_visible()  # it has arrived
        for width in ("360", "390"):
            page.set_viewport_size(dict(zip(("width", "height"), SIZES[width], strict=True)))  # type: ignore[arg-type]
            page.goto(f"{heron}/bench")
            page.get_by_role("link", name="Stop").click()
            worked = page.get_by_label("Hours worked")
            expect(worked).to_be_focused()
            expect(worked).to_be_in_viewport(ratio=1)
        page.close()


def _write_caution(heron: str, characters: int) -> None:
    """Give the task on the Bench a caution of so many characters."""
    text = "Lifting: crane and chain rated for the load, nobody below it, none between. " * 20
    origin = heron.removesuffix("/builds/the-heron")
    caution = {"caution": text[:characters].strip()}
    answer = httpx.post(
        f"{heron}/tasks/rad_bracket", data=caution, headers={"Origin": origin}, timeout=60
    )
    assert answer.status_code == 303
