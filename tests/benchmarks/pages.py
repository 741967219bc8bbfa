"""Every page of a 500-task build over HTTP: median and 95th percentile."""

import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import httpx

from tests.benchmarks.timing import row, spread_of
from tests.benchmarks.workshop_builds import NOW, workshop_build
from webapp.exchange.build_document import write_document

PAGES = (
    "bench",
    "order",
    "path",
    "parts",
    "shop",
    "tasks",
    "tasks/t7",
    "tasks/new",
    "wishes",
    "week",
)
SLUG = "workshop-build-500"
ASKED = 60


def pages_over_http() -> None:
    """Serve the build from a process of its own and ask for each page in turn."""
    with tempfile.TemporaryDirectory() as folder:
        document = Path(folder) / "build.json"
        document.write_text(write_document(workshop_build(500)), "utf-8")
        environment = {
            **os.environ,
            "KEYTURN_DATA": str(Path(folder) / "builds.sqlite3"),
            "KEYTURN_NOW": NOW.isoformat(timespec="minutes"),
        }
        keyturn = [sys.executable, "-m", "webapp"]
        subprocess.run(
            [*keyturn, "import", str(document)], env=environment, check=True, capture_output=True
        )
        with subprocess.Popen(
            [*keyturn, "serve", "--port", "0"], env=environment, stdout=subprocess.PIPE, text=True
        ) as server:
            try:
                assert server.stdout is not None
                found = re.search(r"http://\S+?:\d+", server.stdout.readline())
                assert found, "the server names its address"
                _ask(f"{found[0]}/builds/{SLUG}")
            finally:
                server.terminate()


def _ask(build: str) -> None:
    with httpx.Client(timeout=30, follow_redirects=True) as client:
        for page in PAGES:
            if client.get(f"{build}/{page}").status_code != 200:
                row(f"page {page} of 500 tasks", "not there")
                continue
            middle, tail = spread_of(ASKED, lambda page=page: client.get(f"{build}/{page}"))  # type: ignore[misc]
            measured = f"p50 {middle * 1e3:.0f} ms, p95 {tail * 1e3:.0f} ms"
            row(f"page {page} of 500 tasks", measured, "p95 100 ms")
