"""Nothing cut off, nothing lying over what can be pressed, nothing too small for a thumb.

Each page is asked for once and measured on the smallest phone and on a laptop; axe-core looks at it
too, in both schemes of colour. A larger phone has the page of the smallest with more room in it,
but for what style sheets change between the two: where that stands it is measured too.
"""

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import httpx
import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import (
    LAPTOP,
    OF_ANY_SIZE,
    PHONE,
    SMALL_PHONE,
    unsound_in_both_schemes,
    watched,
)
from tests.browser.pages import LINKED, OUTSIDE, PAGES, STARTED
from tests.browser.server import demo_server
from tests.photographs import photograph
from webapp.settings import resource_root

pytestmark = pytest.mark.browser

FRAME_PX = 120
TARGET_PX = 44
LETTER_PX = 12
"""Of the letters of a picture at 390 px; at 360 those of one across the page are smaller by as much
as the screen."""
SIZES = {"360": (360, 640), "390": (390, 844)}
HEADER = """document.querySelector("header.frame")"""
FRAME_HEIGHT = f"""document.querySelector(".gauges .how[open]") ? 0 : {HEADER}?.offsetHeight ?? 0"""
"""As long as nothing in it is unfolded."""
STATIC = resource_root() / "static"
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

    Of the smallest phone and the laptop it begins with the size in which the page was laid out.
    """
    sizes = [SMALL_PHONE, LAPTOP]
    if page.viewport_size == LAPTOP:
        sizes.reverse()
    found: list[Any] = []
    for place, size in enumerate(sizes):
        page.set_viewport_size(size)  # type: ignore[arg-type]
        found += _boxes_wrong_in(page, state)
        looked = unsound_in_both_schemes(page, off=OF_ANY_SIZE if place else ())
        found += [[state, size["width"], *each] for each in looked]
        if size == SMALL_PHONE and _differs_on_a_larger_phone(page):
            page.set_viewport_size(PHONE)  # type: ignore[arg-type]
            found += _boxes_wrong_in(page, state)
    return found


def test_no_colour_hangs_on_the_width_in_one_scheme_alone() -> None:
    """What has the same colours in both sizes in one scheme is taken to have them in the other."""
    for sheet in STATIC.glob("*.css"):
        text = sheet.read_text(encoding="utf-8")
        for scheme in re.finditer(r"@media([^{]*prefers-color-scheme[^{]*)\{", text):
            assert "width" not in scheme[1], sheet.name
            ahead = text[: scheme.start()]
            assert ahead.count("{") == ahead.count("}"), f"{sheet.name}: it stands in another"
            inside = re.match(r"(?:[^{}]*\{[^{}]*\})*\s*\}", text[scheme.end() :])
            assert inside, f"{sheet.name}: another stands in it"


def _boxes_wrong_in(page: Page, state: str) -> list[Any]:
    assert page.viewport_size is not None
    width = page.viewport_size["width"]
    asked = {"targetPx": TARGET_PX, "letterPx": LETTER_PX, "scale": min(1.0, width / 390)}
    found = [[state, width, *each] for each in page.evaluate(MEASURE, asked)]
    header = page.evaluate(FRAME_HEIGHT) if width <= PHONE["width"] else 0
    if header > FRAME_PX:
        found.append([state, width, "frame", header])
    return found


def _differs_on_a_larger_phone(page: Page) -> bool:
    """Whether what style sheets change between 360 and 390 px stands in the page: a frame that was
    not measured yet, or what only some pages have."""
    changed = changed_between_phones()
    of_frame = {each for each in changed if each.startswith(".gauges")}
    elsewhere = [f"#page {each}" for each in sorted(changed - of_frame)]
    asked = f"which => [{HEADER}?.textContent ?? '', document.querySelector(which) !== null]"
    frame, is_elsewhere = page.evaluate(asked, ", ".join(elsewhere))
    is_new = frame not in _FRAMES
    _FRAMES.add(frame)
    return is_new or bool(is_elsewhere)


_FRAMES: set[str] = set()
"""What the frames say that were measured on the larger phone, in this run."""
AT_WIDTHS = re.compile(r"@media[^{]*?(min|max)-width:(\d+)px[^{]*\{((?:[^{}]*\{[^{}]*\})*)")
RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")


@cache
def changed_between_phones() -> frozenset[str]:
    """The selectors of what lies in other columns at 390 px than at 360: what style sheets say for
    a width between the two, and columns of which as many are made as there is room for."""
    found = set[str]()
    for sheet in STATIC.glob("*.css"):
        text = re.sub(r"/\*.*?\*/", "", sheet.read_text(encoding="utf-8"), flags=re.DOTALL)
        between = [
            inside
            for bound, px, inside in AT_WIDTHS.findall(text)
            if SMALL_PHONE["width"] <= int(px) - (bound == "min") < PHONE["width"]
        ]
        for selector, _ in RULE.findall("".join(between)):
            found.update(selector.split(","))
        for selector, said in RULE.findall(text):
            if re.search(r"auto-fi(ll|t)", said):
                found.update(selector.split(","))
    return frozenset(each.strip() for each in found)


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


UNFOLDED_ONCE_THERE = """async () => {
  const until = performance.now() + 60_000;
  const isThere = () => !document.querySelector("[hx-trigger*=delay]")
    && (!document.querySelector("#page nav.thumb")
      || document.querySelector("#first-start")?.checkVisibility());
  while (!isThere()) {
    if (performance.now() > until) throw new Error("still being worked out");
    await new Promise((go) => setTimeout(go, 50));
  }
  for (const one of document.querySelectorAll("details")) one.open = true;
}"""
"""Everything unfolded, once nothing of the page is being worked out."""


def test_every_page_fits_and_keeps_the_policy(browser: Browser, heron: str) -> None:
    page = browser.new_page()
    complaints, found = watched(page), []
    for address in _all_pages(page, heron):
        answer = page.goto(address)
        assert answer is not None
        assert answer.ok, address
        page.evaluate(UNFOLDED_ONCE_THERE)
        found += wrong_in(page, address)
    page.close()
    assert not found
    assert not complaints


def test_every_state_of_a_form_fits(browser: Browser, heron: str) -> None:
    page = browser.new_page(viewport=SMALL_PHONE)  # type: ignore[arg-type]
    found = _wish_after_a_change(page, heron)
    found += _wrong_hours(page, heron)
    page.set_viewport_size(SMALL_PHONE)  # type: ignore[arg-type]
    found += _stopping(page, heron)
    page.close()
    assert not found


FAULTY = """<!doctype html><html lang="en"><head><title>Faulty</title><style>
.late,.wide{display:none}
@media (min-width:1000px){.late,.wide{display:block} .turned{color:#aaa}}
@media (prefers-color-scheme:dark){.late{color:#ddd}}
@media (prefers-color-scheme:light){.wide{color:#ccc}}
</style></head>
<body style="background:#fff"><div id="page"><main style="width:300px">
<h1 style="color:#000">All of it wrong</h1>
<p style="color:#000">Ink on paper.</p><p style="color:#767676">Just enough.</p>
<p style="color:#bbb">Too pale to be read.</p>
<p style="background:#222"><span style="color:#444">Ink on ink.</span></p>
<p class="turned">Pale on a laptop.</p>
<p class="late">Not on a phone, pale in the dark.</p>
<p class="wide">Not on a phone, pale in the light.</p>
<p style="color:#00c">See <a href="#" style="color:#00d;text-decoration:none">this</a> too.</p>
<p style="width:40px;overflow:hidden;white-space:nowrap">Cut off in the middle</p>
<div class="next-piece"><p class="picks">In as many columns as there is room for.</p></div>
<div style="width:200px"><svg width="100" height="20" viewBox="0 0 200 40">
<text x="0" y="30" style="font-size:20px">small</text>
<text x="0" y="30" style="font-size:23px">nearly large enough</text></svg></div>
<button style="height:20px">Low</button><img src="data:," width="9" height="9">
</main></div></body></html>"""


def test_what_is_looked_for_is_found(browser: Browser) -> None:
    """A page on which every kind of fault stands once: else the tests above prove nothing."""
    page = browser.new_page()
    page.set_content(FAULTY)
    found = wrong_in(page, "faulty")
    page.close()
    kinds = {
        (width, each[0] if each[0] not in ("light", "dark") else each[1])
        for _, width, *each in found
    }
    for width in (360, 1240):
        assert {(width, kind) for kind in ("cut off", "too low", "color-contrast")} <= kinds
        assert (width, "image-alt") in kinds
        # 20 units of a picture drawn at half its size are 10 px, 23 are 11.5 at any size of screen
        small = [each for each in found if each[1:3] == [width, "letters too small"]]
        assert [px for *_, px in small] == [10, 11.5]
    assert "link-in-text-block" in {kind for _, kind in kinds}
    # It has what lies otherwise on the larger phone.
    assert {(390, kind) for kind in ("cut off", "too low", "letters too small")} <= kinds


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("begin", [SMALL_PHONE, LAPTOP], ids=["phone first", "laptop first"])
def test_pale_texts_are_found_at_each_size_in_each_scheme(
    browser: Browser, begin: dict[str, int], scheme: str
) -> None:
    """Whichever size and scheme are looked at first; and nothing faulty is ever "known"."""
    page = browser.new_page(viewport=begin, color_scheme=scheme)  # type: ignore[arg-type]
    page.set_content(FAULTY)
    found = wrong_in(page, "faulty")
    page.close()
    pale = {tuple(each[1:]) for each in found if each[3:4] == ["color-contrast"]}
    for where, sizes, schemes in (
        ("#bbb", {360, 1240}, {"light", "dark"}),
        ("#444", {360, 1240}, {"light", "dark"}),
        ("turned", {1240}, {"light", "dark"}),
        ("late", {1240}, {"dark"}),
        ("wide", {1240}, {"light"}),
    ):
        at = {(width, in_scheme) for width, in_scheme, _, text in pale if where in text}
        assert at == {(width, each) for width in sizes for each in schemes}, where


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
    page.set_viewport_size(SMALL_PHONE)  # type: ignore[arg-type]
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
