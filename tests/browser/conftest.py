"""A real Chromium on a real server; a missing browser is a named skip, in CI a failure."""

import os
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests.browser.server import CHROMIUM, CHROMIUM_FLAGS, demo_server

# A busy machine answers late; a page that never comes still fails.
expect.set_options(timeout=25_000)

SMALL_PHONE = {"width": 360, "height": 640}
PHONE = {"width": 390, "height": 844}
LAPTOP = {"width": 1240, "height": 900}


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """Debian's Chromium, without a window.

    It is ended with the last test of this folder: as long as it is open, its driver keeps an
    event loop running in this thread, and no other test can start one of its own.
    """
    if not CHROMIUM.exists():
        missing = f"no browser at {CHROMIUM}: install Debian's {CHROMIUM.name}"
        if os.environ.get("CI"):
            pytest.fail(missing)
        pytest.skip(f"{missing} to run this")
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=CHROMIUM, args=CHROMIUM_FLAGS)
        yield found
        found.close()


@pytest.fixture
def heron(tmp_path: Path) -> Iterator[str]:
    """The address of The Heron on a server of its own."""
    with demo_server(tmp_path / "heron.sqlite3") as address:
        yield f"{address}/builds/the-heron"


@pytest.fixture(scope="module")
def still_heron(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The same for tests that change nothing: one server for a module."""
    with demo_server(tmp_path_factory.mktemp("still") / "heron.sqlite3") as address:
        yield f"{address}/builds/the-heron"


@pytest.fixture(params=["phone", "laptop"])
def size(request: pytest.FixtureRequest) -> dict[str, int]:
    """The size of the screen."""
    return PHONE if request.param == "phone" else LAPTOP


SIZES_AND_SCRIPTS = pytest.mark.parametrize(
    ("size", "scripts"),
    [(PHONE, True), (PHONE, False), (LAPTOP, True)],
    ids=["phone", "phone without scripts", "laptop"],
)
"""Not on a laptop without scripts: what is done without them hangs on what the server answers,
which knows no size, and what lies otherwise on a laptop is pressed there with them."""


def watched(page: Page) -> list[str]:
    """What the page complains of from now on: errors and refusals of the policy."""
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on(
        "console",
        lambda message: complaints.append(message.text) if message.type == "error" else None,
    )
    return complaints


def seen_in_picture(page: Page, picture: str, look: str) -> Iterator[tuple[int, Any]]:
    """What `look` sees in the one picture that is shown on a phone, and on a laptop; by width."""
    for size in (PHONE, LAPTOP):
        page.set_viewport_size({"width": size["width"], "height": size["height"]})
        shown = page.locator(f"{picture}:visible")
        expect(shown).to_have_count(1)
        page.evaluate("document.fonts.ready")
        yield size["width"], shown.evaluate(look)


IS_DARK = "matchMedia('(prefers-color-scheme: dark)').matches"
AXE = Axe().axe_script
LOOK = (Path(__file__).parent / "axe.js").read_text(encoding="utf-8")
_SOUND: set[str] = set()
"""The colours of texts and their grounds in which axe-core found nothing wrong, in this run."""


OF_ANY_SIZE = ("link-in-text-block",)
"""What rules of axe-core say at one size they say at each: links are told apart in a text by their
style, which hangs on no size, and to find that out takes half the time of all rules."""


def unsound_anywhere(
    page: Page, sizes: Iterable[dict[str, int]] = (PHONE, LAPTOP)
) -> list[tuple[object, ...]]:
    """What is wrong with the page at each size of screen, in both schemes of colour.

    The page is asked for once: what the server answers hangs on neither.
    """
    found: list[tuple[object, ...]] = []
    for place, size in enumerate(sizes):
        page.set_viewport_size({"width": size["width"], "height": size["height"]})
        wrong_here = unsound_in_both_schemes(page, off=OF_ANY_SIZE if place else ())
        found += [(size["width"], *wrong) for wrong in wrong_here]
    return found


def unsound_in_both_schemes(page: Page, *, off: Iterable[str] = ()) -> list[tuple[str, ...]]:
    """What is wrong with the page in the scheme it stands in, and with the colours of the other.

    It is left in the other, for changing it takes a while; and it stays as it is where each text
    has the colours that it had at another size, so that those of the other scheme are known.
    """
    this, other = ("dark", "light") if page.evaluate(IS_DARK) else ("light", "dark")
    wrong, is_told = _looked_at(page, off=off)
    found: list[tuple[str, ...]] = [(this, *each) for each in wrong]
    if is_told:
        return found
    page.emulate_media(color_scheme=other)  # type: ignore[arg-type]
    return [*found, *((other, *wrong) for wrong in unsound(page, rules=False))]


def unsound(page: Page, *, rules: bool = True) -> list[tuple[str, str]]:
    """What is wrong with the page as it stands: broken rules of axe-core, sideways scrolling.

    Without `rules` the colours alone are looked at: the one rule whose answer hangs on the scheme.
    """
    return _looked_at(page, rules=rules)[0]


def _looked_at(
    page: Page, *, rules: bool = True, off: Iterable[str] = ()
) -> tuple[list[tuple[str, str]], bool]:
    """What is wrong, and whether the colours of the other scheme are known at this size."""
    asked = {"rules": rules, "off": list(off), "colours": True, "known": sorted(_SOUND)}
    seen = page.evaluate(LOOK, asked)
    if seen is None:
        page.add_init_script(AXE)  # what comes next on this page has it: it is half a megabyte
        page.evaluate(AXE)
        seen = page.evaluate(LOOK, asked)
    _SOUND.update(seen["sound"])
    found = [(rule, where) for rule, where in seen["wrong"]]
    assert page.viewport_size is not None
    if seen["across"] > page.viewport_size["width"]:
        found.append(("scrolls sideways", f"{seen['across']} px"))
    return found, seen["told"]
