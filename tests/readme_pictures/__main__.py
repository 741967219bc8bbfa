"""Serve the demo build at a fixed moment and take a picture of each main page."""

import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.browser.server import CHROMIUM, CHROMIUM_FLAGS, demo_server

FOLDER = Path(__file__).parent
PICTURES = (
    # name, page, width, height, colour scheme
    ("bench", "bench", 390, 844, "light"),
    ("order", "order", 1240, 900, "light"),
    ("path", "path", 1240, 960, "light"),
    ("wishes", "wishes", 1240, 960, "light"),
    ("week", "week", 1240, 900, "light"),
    ("parts", "parts", 1240, 800, "dark"),
)


def main() -> None:
    """Take every picture anew."""
    with (
        tempfile.TemporaryDirectory() as folder,
        demo_server(Path(folder) / "demo.sqlite3") as address,
        sync_playwright() as playwright,
    ):
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=CHROMIUM_FLAGS)
        for name, page_name, width, height, scheme in PICTURES:
            page = browser.new_page(
                viewport={"width": width, "height": height},
                color_scheme=scheme,  # type: ignore[arg-type]
            )
            # The forecast and the prices are worked out beside the page: look twice.
            for _ in range(2):
                page.goto(f"{address}/builds/the-heron/{page_name}")
                page.wait_for_timeout(3000)
            page.screenshot(path=FOLDER / f"{name}.png")
        browser.close()


main()
