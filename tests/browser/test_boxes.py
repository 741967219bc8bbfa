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

from tests.browser.conftest import unsound_in_both_schemes, watched
from tests.browser.server import demo_server
from tests.photographs import photograph

pytestmark = pytest.mark.browser

ROOMS = (
    "shop",
    "shop/people",
    "shop/setups",
    "shop/subsystems",
    "shop/units",
    "shop/build",
    "shop/copies",
)
PAGES = (
    "bench",
    "order",
    "path",
    "wishes",
    "week",
    "wishes/a-lamp-behind-the-seat",
    "parts",
    "tasks?find=bracket",
    "tasks/new",
    "tasks/rad_bracket",
    "find?words=hose",
    "photographs?task=rad_bracket",
    "bench/cards",
    "parts-list",
    "list",
    "log",
    "journal",
    "record",
    "scope",
    "soundness",
    "plumbing",
    "plumbing/coolant",
    "plumbing/vacuum",
    "coolant?circuit=coolant&frost=-25&there=6&share=30",
    "runs/cold1",
    "buy-list",
    "cut-list",
    "cut-list?what=hose+38+coolant",
    "joints",
    "shelf",
    "room",
    "sizing",
    "data-sheet",
    "fill-day",
    "data-sheet?asked=filter_m3_h",
    "wire",
    "belt?key=belt",
    "limit?check=charge_speed&at=hot1",
    "new-circuit",
    "circuit-form?key=coolant",
    "new-component?circuit=coolant",
    "new-component?circuit=coolant&kind=radiator",
    "component?key=rad",
    "port?key=rad.drain",
    "new-run?circuit=coolant",
    "runs/w_top?typing=piece",
    "piece?run=cold1&at=1",
    "new-on-shelf",
    *ROOMS,
)
FRAME_PX = 120
TARGET_PX = 44
SIZES = {"360": (360, 640), "390": (390, 844), "1240": (1240, 900)}
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
        yield address


def wrong_in(page: Page, state: str) -> list[Any]:
    """What is wrong with the page as it stands: boxes and colours in both schemes."""
    boxes: list[Any] = page.evaluate(MEASURE, TARGET_PX)
    wrong = [*boxes, *unsound_in_both_schemes(page)]
    width = page.evaluate("innerWidth")
    found = [[state, width, *each] for each in wrong]
    header = page.evaluate("document.querySelector('header.frame').getBoundingClientRect().height")
    opened = page.locator(".gauges .how[open]").count()
    if width <= 390 and header > FRAME_PX and not opened:
        found.append([state, width, "frame", header])
    return found


def test_every_page_fits_and_keeps_the_policy(browser: Browser, heron: str) -> None:
    page = browser.new_page()
    complaints, found = watched(page), []
    for name in PAGES:
        page.goto(f"{heron}/{name}")
        expect(page.locator("#headroom")).to_be_visible()
        expect(page.locator("[hx-trigger*=delay]")).to_have_count(0, timeout=60_000)
        page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
        for across, down in SIZES.values():
            page.set_viewport_size({"width": across, "height": down})
            found += wrong_in(page, name)
    page.close()
    assert not found
    assert not complaints


@pytest.mark.parametrize("width", list(SIZES))
def test_every_state_of_a_form_fits(browser: Browser, heron: str, width: str) -> None:
    across, down = SIZES[width]
    page = browser.new_page(viewport={"width": across, "height": down})
    found = _wish_after_a_change(page, heron)
    found += _wrong_hours(page, heron)
    found += _stopping(page, heron)
    page.close()
    assert not found


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
    asked = page.get_by_text(re.compile("^Set “Radiator lower bracket” aside"))
    expect(asked).to_be_in_viewport(ratio=1)
    return found + wrong_in(page, "set aside?")


CAUTIONS = {"short": 60, "long": 480, "longest in one line of the sketch": 620}


@pytest.mark.parametrize("width", ["360", "390"])
@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_task_caution_and_button_stand_on_the_first_screen_of_a_phone(
    browser: Browser, tmp_path: Path, width: str, scripts: bool
) -> None:
    across, down = SIZES[width]
    with demo_server(tmp_path / "heron.sqlite3") as server:
        heron = f"{server}/builds/the-heron"
        page = browser.new_page(
            viewport={"width": across, "height": down}, java_script_enabled=scripts
        )
        for caution in CAUTIONS.values():
            _write_caution(page, heron, caution)
            page.goto(f"{heron}/bench")
            expect(page.locator(".now-on h1")).to_be_in_viewport(ratio=1)
            button = page.get_by_role("button", name=re.compile("^Go on.*Radiator"))
            expect(button).to_be_in_viewport(ratio=1)
            box, bar = page.locator(".now-on .caution").bounding_box(), page.locator(".bar")
            bar_box = bar.bounding_box()
            assert box is not None
            assert bar_box is not None
            assert box["y"] + box["height"] <= bar_box["y"], caution
        page.get_by_role("button", name=re.compile("^Go on.*Radiator")).click()
        page.get_by_role("link", name="Stop").click()
        worked = page.get_by_label("Hours worked")
        expect(worked).to_be_focused()
        expect(worked).to_be_in_viewport(ratio=1)
        page.close()


def _write_caution(page: Page, heron: str, characters: int) -> None:
    """Give the task on the Bench a caution of so many characters."""
    text = "Lifting: crane and chain rated for the load, nobody below it, none between. " * 20
    page.goto(f"{heron}/tasks/rad_bracket")
    page.locator("#fold-words > summary").click()
    page.locator("[name=caution]").fill(text[:characters].strip())
    page.get_by_role("button", name="Save the task").click()
    expect(page.get_by_text("Saved.")).to_be_visible()
