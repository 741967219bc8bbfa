"""Every page of a 500-task build over HTTP: median and 95th percentile."""

import httpx

from tests.benchmarks.served import served
from tests.benchmarks.timing import Table, spread_of
from tests.benchmarks.workshop_builds import workshop_build

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


def pages_over_http(table: Table) -> None:
    """Serve the build from a process of its own and ask for each page in turn."""
    with served(workshop_build(500)) as server:
        _ask(table, f"{server}/builds/{SLUG}")


def _ask(table: Table, build: str) -> None:
    with httpx.Client(timeout=30, follow_redirects=True) as client:
        for page in PAGES:
            if client.get(f"{build}/{page}").status_code != 200:
                table.row(f"page {page} of 500 tasks", "not there", None)
                continue
            middle, tail = spread_of(ASKED, lambda page=page: client.get(f"{build}/{page}"))  # type: ignore[misc]
            measured = f"p50 {middle * 1e3:.0f} ms, p95 {tail * 1e3:.0f} ms"
            table.row(f"page {page} of 500 tasks", measured, middle, "p95 100 ms")
