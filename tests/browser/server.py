"""A real server process on the demo build at a fixed moment, and the browser to look at it."""

import os
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx

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
    environment = {**os.environ, "KEYTURN_NOW": NOW, "KEYTURN_DATA": str(data_file)}
    keyturn = [sys.executable, "-m", "webapp"]
    subprocess.run(
        [*keyturn, "import", str(HERON)], env=environment, check=True, capture_output=True
    )
    with subprocess.Popen(
        [*keyturn, "serve", "--port", "0"], env=environment, stdout=subprocess.PIPE, text=True
    ) as process:
        try:
            assert process.stdout is not None
            found = re.search(r"http://\S+?:\d+", process.stdout.readline())
            assert found, "the server names its address in its first line"
            _wait_for(found[0])
            yield found[0]
        finally:
            process.terminate()
            process.wait(10)


def _wait_for(address: str) -> None:
    for _ in range(100):
        try:
            httpx.get(address, timeout=5)
        except httpx.TransportError:
            time.sleep(0.1)
        else:
            return
    raise TimeoutError(f"{address} does not answer")
