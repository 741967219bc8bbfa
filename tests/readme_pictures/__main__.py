"""Serve the demo build at a fixed moment and take a picture of each main page."""

import re
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.browser.server import CHROMIUM, CHROMIUM_FLAGS, NOW
from tests.serving import environment_of, running_server
from webapp.command.demo import prepare_demo
from webapp.settings import Settings

FOLDER = Path(__file__).parent
LOOKS = 12
WORKED_OUT_LATER = re.compile("being worked out|Working it out")
PICTURES = (
    # name, page, width, height, colour scheme
    ("bench", "bench", 390, 844, "light"),
    ("order", "order", 1240, 900, "light"),
    ("path", "path", 1240, 960, "light"),
    ("wishes", "wishes", 1240, 1400, "light"),
    ("week", "week?from=1", 1240, 1100, "light"),  # since the baseline
    ("circuit", "plumbing/charge", 1240, 1000, "light"),
    ("parts", "parts", 1240, 800, "dark"),
)


def main() -> None:
    """Take every picture anew."""
    with tempfile.TemporaryDirectory() as folder:
        data_file = Path(folder) / "demo.sqlite3"
        prepare_demo(Settings(data_file=data_file, frozen_now=NOW))
        environment = environment_of(data_file, NOW.isoformat(timespec="minutes"))
        with running_server(environment) as (_, address):
            _take(address)


def _take(address: str) -> None:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=CHROMIUM_FLAGS)
        for name, page_name, width, height, scheme in PICTURES:
            page = browser.new_page(
                viewport={"width": width, "height": height},
                color_scheme=scheme,  # type: ignore[arg-type]
            )
            # The forecast and the prices are worked out beside the page: look again.
            for _ in range(LOOKS):
                page.goto(f"{address}/builds/the-heron/{page_name}")
                page.wait_for_timeout(3000)
                if not WORKED_OUT_LATER.search(page.inner_text("body")):
                    break
            page.screenshot(path=FOLDER / f"{name}.png")
        browser.close()


main()
