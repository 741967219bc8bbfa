"""The Heron on a phone, from what is open to "it ran"; the running screens, and the sheet."""

import dataclasses
import datetime as dt
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import PHONE, SMALL_PHONE, unsound, watched
from tests.browser.server import HERON, served
from tests.browser.test_week import pages_in
from tests.first_start.lists import DAY, DIESEL, ENGINE, LISTS
from tests.first_start.walker import Walker, still, to_the_key
from tests.stored_files import file_with
from webapp.build.build_input import BuildInput
from webapp.build.first_start import FirstStart, StartAnswer, StopLine
from webapp.build.plumbing import Plumbing
from webapp.exchange.build_document import read_document
from webapp.storage.builds import create_build

pytestmark = pytest.mark.browser

TYPED = (
    "red knob, left of the seat",
    "red-taped cable, by the left wing",
    "the rear door, always open",
    "Mill Lane 4, the barn behind the house",
)


def heron_with_its_work_behind_it() -> BuildInput:
    """The Heron once everything but first start is made; what is plumbed was taken as closed."""
    now = DAY.replace(tzinfo=None)
    build, _ = read_document(HERON.read_bytes(), now=now)
    assert build is not None
    names = ENGINE.stop_words_for(DIESEL).typed
    return replace(
        build,
        now=now,
        on_bench=None,
        plumbing=Plumbing(),
        tasks=tuple(
            task if task.key == build.first_start else replace(task, finished_on=build.now)
            for task in build.tasks
        ),
        parts=tuple(replace(part, arrived=True) for part in build.parts),
        start=FirstStart(
            answers=tuple(StartAnswer(question=q, answer=a) for q, a in DIESEL.items()),
            stop_lines=tuple(
                StopLine(name=name, words=said) for name, said in zip(names, TYPED, strict=True)
            ),
        ),
    )


def moved(thing: Any, by: dt.timedelta) -> Any:
    """The same with every moment moved: a walk that ends a minute ago."""
    if isinstance(thing, dt.datetime):
        return thing + by
    if isinstance(thing, dt.date):
        return thing + dt.timedelta(days=by.days)
    if isinstance(thing, tuple):
        return tuple(moved(one, by) for one in thing)
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        fields = {
            one.name: moved(getattr(thing, one.name), by) for one in dataclasses.fields(thing)
        }
        return replace(thing, **fields)
    return thing


@pytest.fixture(scope="module")
def bay(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Two of The Heron on one server and a clock that goes: nothing signed yet, and at the key."""
    if dt.datetime.now().time() < dt.time(1):
        pytest.skip("the walk would begin yesterday, and the place lasts a day")
    fresh = heron_with_its_work_behind_it()
    walker = Walker(fresh, ENGINE)
    to_the_key(walker)
    walker.wait(seconds=70)
    walker.sign_all("start", only=lambda one: still(one) and one.key != "cranked")
    start = moved(
        walker.build.start, dt.datetime.now().astimezone() - walker.at - dt.timedelta(seconds=5)
    )
    data_file: Path = tmp_path_factory.mktemp("bay") / "bay.sqlite3"

    def store(session: Any) -> None:
        create_build(session, replace(fresh, name="Open"))
        create_build(session, replace(walker.build, name="Key", start=start))

    data_file.write_bytes(file_with(store))
    with served(data_file) as address:
        yield f"{address}/builds"


def test_the_heron_from_what_is_open_to_it_ran(browser: Browser, bay: str) -> None:
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    complaints = watched(page)
    _sign_one_of_each_kind(page, bay)
    _run_it(page, bay)
    assert [one for one in complaints if "422" not in one] == []
    page.close()


def _sign_one_of_each_kind(page: Page, bay: str) -> None:
    page.goto(f"{bay}/open/first-start")
    expect(page.locator("#known")).to_contain_text("things are open.")
    lines = page.evaluate(
        """() => ["Circuits", "Checks"].map((word) => {
          const cell = [...document.querySelectorAll(".holes th[scope=row]")]
            .find((one) => one.textContent.trim() === word);
          const range = document.createRange();
          range.selectNodeContents(cell.querySelector("a")?.firstChild ?? cell.firstChild);
          return range.getClientRects().length;
        })"""
    )
    assert lines == [1, 1]  # a word is not broken over two
    page.get_by_role("link", name="Look, then sign: 1.1").click()
    page.get_by_role("button", name="Sign it").click()
    expect(page.get_by_role("alert").first).to_contain_text("Nobody can be told by that name")
    page.get_by_label("What was seen, or where").fill("by the wing, tied away")
    page.locator("#signer").fill("R. Tarn")
    page.get_by_role("button", name="Sign it").click()
    expect(page.get_by_role("status").first).to_contain_text("Signed by R. Tarn")
    page.goto(f"{bay}/open/first-start/check?key=exhaust_joined")
    page.locator("#signer").fill("J. Tarn")
    page.get_by_role("button", name="Sign it").click()
    expect(page.get_by_role("status").first).to_contain_text("Signed by J. Tarn")
    page.goto(f"{bay}/open/first-start/check?key=exhaust_distance")
    for number, said in enumerate(("12", "60", "200")):
        page.locator(f"#reading-{number}").fill(said)
    page.locator("#signer").fill("M. Tarn")
    page.get_by_role("button", name="Sign it").click()
    expect(page.locator("#reading-0-wrong")).to_contain_text("below the usual 100")
    page.locator("#makers-0").fill("10 with the wrap that was fitted")
    page.get_by_role("button", name="Sign it").click()
    expect(page.locator("#check-exhaust_distance")).to_contain_text("the maker's figure is 10")
    page.goto(f"{bay}/open/first-start/check?key=fuses_in")
    page.get_by_text("It does not apply here").click()
    page.get_by_label("Why, in three words or more").fill("no wire of ours is fused there")
    page.locator("#aside-name").fill("K. Tarn")
    page.get_by_role("button", name="Set it aside").click()
    expect(page.locator("p > .stands").first).to_contain_text("Set aside by K. Tarn")


def _run_it(page: Page, bay: str) -> None:
    page.goto(f"{bay}/key/first-start")
    expect(page.locator("#known")).to_contain_text("Nothing known is open. 0 set aside.")
    page.get_by_role("link", name="The day itself").click()
    page.get_by_role("button", name="Crank it").click()
    _fits_and_takes_no_enter(page, "cranking")
    page.get_by_role("button", name="It fires").click()
    for text in ("Oil pressure within ten", "Hear it settle", "From the stop's post"):
        expect(page.locator("#now")).to_contain_text(text)
        _fits_and_takes_no_enter(page, "running")
        page.get_by_role("button", name="It stands").click()
        if text.startswith("Hear"):
            _a_press_that_comes_second(page)
    expect(page.locator("#now")).to_contain_text("Before sixty seconds")
    _the_longest_sentences_fit(page)
    page.get_by_role("button", name="Normal stop worked").click()
    for readings in (("1",), ("4", "2"), ("800",)):
        expect(page.locator("#day")).to_have_attribute("data-screen", "figures")
        for number, said in enumerate(readings):
            page.locator(f"#reading-{number}").fill(said)
        page.get_by_role("button", name="Type the figures").click()
    expect(page.get_by_label("Stopped within")).to_be_visible()
    page.locator("#reading-0").fill("2")
    page.locator("#signer").fill("M. Tarn")
    page.get_by_role("button", name="Sign it").click()
    page.get_by_role("button", name="It ran").click()
    expect(page.locator(".watch").first).to_contain_text("Stay thirty minutes")
    expect(page.locator("h1")).to_contain_text("Key out: look at joints")
    assert unsound(page) == []
    page.goto(f"{bay}/key/bench")
    expect(page.locator("#ran")).to_contain_text("Second look at")
    expect(page.locator("#ran")).to_contain_text("Not on a road before")


def _a_press_that_comes_second(page: Page) -> None:
    """The screen of a device that pressed with what it showed a moment ago."""
    expect(page.locator("#now")).to_contain_text("From the stop's post")
    page.evaluate(  # in one go: the screen is asked for again every few seconds
        """() => {
          document.querySelector('.run-presses [name=version]').value = 'old';
          [...document.querySelectorAll('.run-presses button')]
            .find((one) => one.textContent.startsWith('It stands')).click();
        }"""
    )
    expect(page.get_by_role("alert")).to_have_text("Not taken: another device pressed first.")
    _fits_and_takes_no_enter(page, "running")


MEASURE = """() => {
  const box = (one) => one.getBoundingClientRect();
  const found = [];
  if (document.documentElement.scrollHeight > innerHeight)
    found.push(["scrolls", document.documentElement.scrollHeight, innerHeight]);
  const presses = [...document.querySelectorAll(".run-presses button")].map(box);
  for (const one of presses) if (one.height < 64) found.push(["low", one.height]);
  const [stopped, stands] = presses;
  if (stands.left - stopped.right < 24) found.push(["near", stands.left - stopped.right]);
  if (stopped.right > innerWidth / 2 || stands.left < innerWidth / 2) found.push(["one side"]);
  return found;
}"""
STOP_BOTTOMS = """() => [...document.querySelectorAll("#stop p")].map(
  (one) => one.getBoundingClientRect().bottom)"""
SIZES = ((SMALL_PHONE, "100%"), (PHONE, "150%"))


def _set(page: Page, size: dict[str, int], text: str) -> None:
    page.set_viewport_size(size)  # type: ignore[arg-type]
    page.evaluate("(size) => document.documentElement.style.fontSize = size", text)


def _fits_and_takes_no_enter(page: Page, screen: str) -> None:
    expect(page.locator("#day")).to_have_attribute("data-screen", screen)
    for size, text in SIZES:
        _set(page, size, text)
        assert page.evaluate(MEASURE) == [], (screen, text)
    _set(page, SMALL_PHONE, "100%")
    assert max(page.evaluate(STOP_BOTTOMS)) <= 200
    _set(page, SMALL_PHONE, "200%")
    assert page.evaluate(STOP_BOTTOMS)[0] <= 200
    _set(page, PHONE, "100%")
    posts: list[str] = []
    page.on("request", lambda request: posts.append(request.method))
    for one in page.locator(".run-presses button").all():
        one.focus()
        page.keyboard.press("Enter")
    page.locator("body").press("Enter")
    page.wait_for_timeout(150)
    assert "POST" not in posts
    assert page.locator("input:not([type=hidden]), textarea, select").count() == 0


def _the_longest_sentences_fit(page: Page) -> None:
    """Every sentence that a running screen of any list may have, in place of this one."""
    texts = [one.text for checks in LISTS for one in checks.checks if one.engine_running]
    for size, text in SIZES:
        _set(page, size, text)
        wrong = page.evaluate(
            f"""(texts) => texts.flatMap((text) => {{
              document.querySelector("#now span").textContent = text;
              return ({MEASURE})().map((one) => [text, ...one]);
            }})""",
            texts,
        )
        assert wrong == []
    _set(page, PHONE, "100%")


@pytest.mark.parametrize("whole", [False, True], ids=["the day", "the whole list"])
def test_the_sheet_is_one_page_with_every_caution_and_the_list_two(
    browser: Browser, bay: str, whole: bool
) -> None:
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    page.goto(f"{bay}/open/first-start/sheet{'?whole=1' if whole else ''}")
    assert pages_in(page.pdf(prefer_css_page_size=True)) == (2 if whole else 1)
    page.emulate_media(media="print")
    text = " ".join(page.locator(".start-sheet").inner_text().split())
    size = page.locator(".start-sheet li").first.evaluate("one => getComputedStyle(one).fontSize")
    assert float(size.removesuffix("px")) * 0.75 >= (6.5 if whole else 8) - 0.01
    stages = ("place", "current", "prime", "start", "heat")
    shown = 0
    for stage in ENGINE.stages:
        for check in stage.checks:
            is_kept = check.is_shown_at_first and check.dropped_by(DIESEL) is None
            if not is_kept or (not whole and stage.key not in stages):
                continue
            shown += 1
            local = "Local codes and licensed practice come first."
            assert " ".join(check.caution.removesuffix(local).split()) in text, check.key
            for reading in check.readings:
                assert reading.name in text
    assert shown > (70 if whole else 40)
    assert "STOP: key off. Still running: AIR. red-taped cable" in text
    page.close()


def test_the_day_works_without_scripts(browser: Browser, bay: str) -> None:
    page = browser.new_page(viewport=PHONE, java_script_enabled=False)  # type: ignore[arg-type]
    page.goto(f"{bay}/open/first-start/day")
    expect(page.locator("#stop")).to_be_visible()
    expect(page.get_by_text("This page can not keep the screen on here")).to_be_visible()
    page.get_by_role("button", name="Stopped").click()
    expect(page.locator("#day")).to_have_attribute("data-screen", "stopped")
    page.get_by_text("Knock, hammer or scrape").click()
    page.get_by_label("What was it, and what was done?").fill("a spanner lay in the fan")
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator("#day")).not_to_have_attribute("data-screen", "stopped")
    page.close()
