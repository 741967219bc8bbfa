"""What a year's data costs: the size of what is kept, every page, copies, and the command."""

import datetime as dt
import itertools
import os
import sqlite3
import subprocess
import time
from collections.abc import Iterator, Sequence
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path
from statistics import median, quantiles

import httpx

from tests.benchmarks.forms_found import route_of
from tests.benchmarks.timing import Table
from tests.benchmarks.year.builds import BEGINS, WEEKS
from tests.browser.pages import OUTSIDE
from tests.pages.crawling import pages_of
from tests.pages.test_bad_requests import plain_routes
from tests.serving import KEYTURN, environment_of, running_server
from webapp.pages import routers

NOW = BEGINS + dt.timedelta(weeks=WEEKS, days=-1, hours=3)
"""The Sunday evening on which the last week was closed."""
ASKED = 6
SETTLED_WITHIN_SECONDS = 120
WARM_SECONDS, FIRST_SECONDS = 0.1, 2.0
"""How fast a page has to be there: at the 95th percentile, and the first time after a change."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """How often a page was asked for: seconds on the clock, and of the processor where told."""

    seconds: tuple[float, ...]
    processor_seconds: tuple[float, ...]

    @property
    def tail(self) -> float:
        """The 95th percentile; of one time that time."""
        return quantiles(self.seconds, n=20)[-1] if len(self.seconds) > 1 else self.seconds[0]


class Server:
    """The program that is served, as a browser sees it, and what it has used of the processor."""

    def __init__(self, pid: int, client: httpx.Client) -> None:
        self.pid, self.client = pid, client

    def ask(self, page: str, times: int = 1) -> Asked:
        """Ask for a page so many times."""
        found = [self._once(page) for _ in range(times)]
        return Asked(
            seconds=tuple(seconds for seconds, _ in found),
            processor_seconds=tuple(used for _, used in found),
        )

    def _once(self, page: str) -> tuple[float, float]:
        used, began = self._used(), time.perf_counter()
        answer = self.client.get(page)
        seconds = time.perf_counter() - began
        assert answer.status_code < 400, (page, answer.status_code)
        return seconds, self._used() - used

    def _used(self) -> float:
        """Seconds of the processor, of all threads; Linux alone tells them so finely."""
        used = 0
        for told in Path(f"/proc/{self.pid}/task").glob("*/schedstat"):
            with suppress(OSError):  # a thread may just have ended
                used += int(told.read_text().split()[0])
        return used / 1e9


def measure(table: Table, data_file: Path, slugs: Sequence[str], now: dt.datetime = NOW) -> None:
    """Every row of a year that was lived until `now`."""
    sizes(table, data_file)
    tasks = {slug: _worked_on(data_file, slug) for slug in slugs}
    environment = environment_of(data_file, now.isoformat(timespec="minutes"))
    with (
        running_server(environment) as (process, address),
        httpx.Client(
            base_url=address, timeout=120, follow_redirects=True, headers={"Origin": address}
        ) as client,
    ):
        server = Server(process.pid, client)
        for slug in slugs:
            _pages(table, server, slug, tasks[slug])
        beside = [name for name in OUTSIDE if not name.startswith("/builds/the-heron")]
        _rows(table, "pages of no build", _warm(server, beside), WARM_SECONDS)
    commands(table, data_file, slugs, environment)


def _worked_on(data_file: Path, slug: str) -> str:
    """A task of the build that is begun and open."""
    with closing(sqlite3.connect(data_file)) as database:
        (key,) = database.execute(
            "SELECT tasks.key FROM tasks JOIN builds ON builds.id = build_id WHERE slug = ?"
            " AND begun_on IS NOT NULL AND finished_on IS NULL AND outside_days IS NULL",
            (slug,),
        ).fetchone()
    return str(key)


# what is kept -------------------------------------------------------------------------------
def sizes(table: Table, data_file: Path) -> None:
    """How much room everything takes that is kept."""
    with closing(sqlite3.connect(data_file)) as database:
        database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        for name, of, columns in (
            ("journal", "journal", ("before", "after")),
            ("snapshots", "snapshots", ("document", "plan", "forecast")),
        ):
            held = " + ".join(f"coalesce(length({column}), 0)" for column in columns)
            rows, held_bytes = database.execute(
                f"SELECT count(*), sum({held}) FROM {of}"
            ).fetchone()
            table.row(f"{name}: rows, size", f"{rows:,}, {_megabytes(held_bytes)}", None)
    table.row("data file", _megabytes(data_file.stat().st_size), None)
    folder = data_file.with_name(f"{data_file.name}.photographs")
    files = [path for path in folder.rglob("*") if path.is_file()]
    held_bytes = sum(path.stat().st_size for path in files)
    table.row("photographs: files, size", f"{len(files):,}, {_megabytes(held_bytes)}", None)


def _megabytes(size: float) -> str:
    return f"{size / 1e6:.1f} MB"


# pages --------------------------------------------------------------------------------------
def _pages(table: Table, server: Server, slug: str, task: str) -> None:
    """A page of each route that links lead to: warm, and the first time after a change."""
    stem = f"/builds/{slug}"
    routes = list(plain_routes(routers()))
    of_route: dict[str, str] = {}
    for page in pages_of(server.client, stem):
        route = route_of(routes, "GET", f"{stem}/{page}")
        of_route.setdefault(route.path if route else page, f"{stem}/{page}")
    pages = list(of_route.values())
    _settle(server, slug)
    _rows(table, f"pages of {slug}, warm", _warm(server, pages), WARM_SECONDS)
    first = dict(_first_times(server, slug, task, pages))
    _rows(table, f"pages of {slug}, first after a change", first, FIRST_SECONDS)
    _settle(server, slug)


def _settle(server: Server, slug: str) -> None:
    """Let everything be worked out that the pages ask for in the background."""
    until = time.monotonic() + SETTLED_WITHIN_SECONDS
    for page in ("bench", "order", "path", "wishes", "week"):
        while "being worked out" in server.client.get(f"/builds/{slug}/{page}").text:
            if time.monotonic() > until:
                return
            time.sleep(0.2)


def _warm(server: Server, pages: Sequence[str]) -> dict[str, Asked]:
    for page in pages:
        server.ask(page)
    return {page: server.ask(page, ASKED) for page in pages}


def _first_times(
    server: Server, slug: str, task: str, pages: Sequence[str]
) -> Iterator[tuple[str, Asked]]:
    """Of each page the time just after hours were written into the log."""
    for number, page in enumerate(pages):
        on = BEGINS.date() + dt.timedelta(days=number)
        said = {"task": task, "on": on.isoformat(), "hours": "0:15"}
        answer = server.client.post(f"/builds/{slug}/log", data=said, follow_redirects=False)
        assert answer.status_code == 303, answer.text
        yield page, server.ask(page)


def _rows(table: Table, what: str, asked: dict[str, Asked], at_most: float) -> None:
    """All pages together, then by name those that take longer than they should."""
    every = sorted(itertools.chain.from_iterable(each.seconds for each in asked.values()))
    tail = quantiles(every, n=20)[-1]
    measured = f"p50 {median(every) * 1e3:.0f} ms, p95 {tail * 1e3:.0f} ms"
    table.row(f"{len(asked)} {what}", measured, tail, f"p95 {at_most * 1e3:.0f} ms")
    slow = {page: each for page, each in asked.items() if each.tail > at_most}
    for page, each in sorted(slow.items(), key=lambda one: -one[1].tail):
        used = f"{min(each.processor_seconds) * 1e3:.0f} of processor"
        name = page.removeprefix("/builds/")[:50]
        table.row(f"  {name}", f"{each.tail * 1e3:.0f} ms, {used}", each.tail)


# copies and the command ---------------------------------------------------------------------
def commands(
    table: Table, data_file: Path, slugs: Sequence[str], environment: dict[str, str]
) -> None:
    """A copy as it is made every day, the file looked over, a build exported and reported."""
    table_of = Commands(table, environment)
    table_of.row("backup", "a copy, verified", "30 s")
    folder = data_file.with_name(f"{data_file.name}.copies")
    copied = sum(p.stat().st_size for p in folder.glob("*.sqlite3"))
    table.row("  its size, photographs linked", _megabytes(copied), None)
    table_of.row("check", "keyturn check")
    for slug in slugs:
        document = data_file.with_name(f"{slug}.json")
        table_of.row("export", f"export of {slug}", "", slug, "-o", str(document))
        table_of.row(
            "export",
            f"export of {slug} with photographs",
            "",
            *(slug, "--with-photographs", "-o", str(document)),
        )
        table.row("  its size", _megabytes(document.stat().st_size), None)
        report = data_file.with_name(f"{slug}.html")
        table_of.row("report", f"report of {slug}", "", str(document), "-o", str(report))
        table.row("  its size", _megabytes(report.stat().st_size), None)


class Commands:
    """Runs commands on the data file and writes what each took."""

    def __init__(self, table: Table, environment: dict[str, str]) -> None:
        self.table, self.environment = table, environment

    def row(self, command: str, what: str, to_reach: str = "", *given: str) -> None:
        """Run one, in a process of its own."""
        began = time.perf_counter()
        done = subprocess.Popen(
            [*KEYTURN, command, *given], env=self.environment, stdout=subprocess.DEVNULL
        )
        _, status, used = os.wait4(done.pid, 0)
        seconds = time.perf_counter() - began
        assert status == 0, f"{command} ended with {status}"
        measured = f"{seconds:.1f} s, {used.ru_maxrss / 1e3:.0f} MB"
        self.table.row(what, measured, seconds, to_reach)
