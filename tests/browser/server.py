"""A real server process on the demo build at a fixed moment, and the browser to look at it."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import httpx

from tests.serving import bring_in, environment_of, running_server

CHROMIUM = "/usr/bin/chromium"
CHROMIUM_FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
NOW = "2026-02-09T18:30"
HERON = Path(__file__).parents[2] / "seed_data" / "heron.json"


@contextmanager
def demo_server(data_file: Path) -> Iterator[str]:
    """Serve a database with The Heron in it; gives the server's address."""
    data_file.write_bytes(_heron_brought_in())
    with running_server(environment_of(data_file, NOW)) as (_, address):
        _wait_for(address)
        yield address


@cache
def _heron_brought_in() -> bytes:
    """The database with The Heron in it, brought in by the command once for all tests."""
    with TemporaryDirectory() as folder:
        data_file = Path(folder) / "heron.sqlite3"
        bring_in(HERON, environment_of(data_file, NOW))
        return data_file.read_bytes()


def _wait_for(address: str) -> None:
    for _ in range(100):
        try:
            httpx.get(address, timeout=5)
        except httpx.TransportError:
            time.sleep(0.1)
        else:
            return
    raise TimeoutError(f"{address} does not answer")
