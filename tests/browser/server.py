"""A real server process for the browser, on the demo build or another, and the browser itself."""

import datetime as dt
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from tests.forked_server import forked_server, from_a_process_beside
from tests.stored_files import file_of

BROWSERS = (Path("/usr/bin/chromium-headless-shell"), Path("/usr/bin/chromium"))
"""Debian's Chromium made without a window, else with one: that takes four times the processor."""
CHROMIUM = next(filter(Path.exists, BROWSERS), BROWSERS[0])
CHROMIUM_FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--font-render-hinting=none",  # else letters without a window are as wide as whole pixels
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
NOW = dt.datetime(2026, 2, 9, 18, 30)
HERON = Path(__file__).parents[2] / "seed_data" / "heron.json"


@contextmanager
def served(
    data_file: Path, *, frozen_now: dt.datetime | None = None, shop: bool = False
) -> Iterator[str]:
    """Serve a data file to the browser, with `shop` in the network too; gives the server's address.

    The server is forked from a process that has the program loaded and has asked for pages: that
    takes longer than most tests here. It can not be this process, in which the browser's driver
    runs an event loop.
    """
    beside = from_a_process_beside(shows_pages=True)
    with forked_server(data_file, beside, frozen_now=frozen_now, shop=shop) as (_, address):
        yield address


@contextmanager
def demo_server(data_file: Path, *, shop: bool = False) -> Iterator[str]:
    """Serve a database with The Heron in it, at a fixed moment; gives the server's address."""
    data_file.write_bytes(heron_brought_in())
    with served(data_file, frozen_now=NOW, shop=shop) as address:
        yield address


@cache
def heron_brought_in() -> bytes:
    """The database with The Heron in it, brought in once for all tests."""
    return file_of(HERON.read_bytes(), NOW)
