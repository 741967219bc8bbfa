"""A real server process on the demo build at a fixed moment, and the browser to look at it."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

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
    """Import The Heron into a database and serve it; gives the server's address."""
    environment = environment_of(data_file, NOW)
    bring_in(HERON, environment)
    with running_server(environment) as (_, address):
        _wait_for(address)
        yield address


def _wait_for(address: str) -> None:
    for _ in range(100):
        try:
            httpx.get(address, timeout=5)
        except httpx.TransportError:
            time.sleep(0.1)
        else:
            return
    raise TimeoutError(f"{address} does not answer")
