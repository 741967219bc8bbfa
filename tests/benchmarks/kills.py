"""How the program lives through being killed, again and again, while it is written to.

Unlike the test of the same promise (tests/storage/test_killed_process.py) this starts the program
as a person does, writes through four different pages, and goes on for fifty kills on one file.
"""

import datetime as dt
import itertools
import random
import sqlite3
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import dataclass, field, replace
from pathlib import Path

import httpx

from tests.benchmarks.timing import Table
from tests.build.builds import EVENINGS, MONDAY, build_of, task
from tests.serving import environment_of, running_server
from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build
from webapp.storage.database import Database

KILLS = 50
ANSWERED = (1, 60)
"""A server is killed after so many answers, by chance."""
FIRST_DAY = MONDAY.date() - dt.timedelta(days=3000)


@dataclass(frozen=True, slots=True, kw_only=True)
class Writer:
    """One client: where it posts, its form number n, and what of that a build holds.

    What `told` says of a form is among what `kept` finds in the build, once it is stored.
    """

    address: str
    form: Callable[[int], dict[str, str]]
    told: Callable[[int], object]
    kept: Callable[[BuildInput], set[object]]


def _named(kind: str) -> Callable[[int], object]:
    return lambda number: f"{kind} {number}"


def _day(number: int) -> dt.date:
    return FIRST_DAY + dt.timedelta(days=number)


WRITERS = (
    Writer(
        address="tasks/new",
        form=lambda n: {"name-0": f"Task {n}", "likely-0": "1", "needed-0": "on"},
        told=_named("Task"),
        kept=lambda build: {each.name for each in build.tasks if each.key != "start"},
    ),
    Writer(
        address="bench/wish",
        form=lambda n: {"wish": f"Wish {n}"},
        told=_named("Wish"),
        kept=lambda build: {each.text for each in build.wishes},
    ),
    Writer(
        address="parts/new",
        form=lambda n: {"name": f"Part {n}"},
        told=_named("Part"),
        kept=lambda build: {each.name for each in build.parts},
    ),
    Writer(
        address="log",
        form=lambda n: {"task": "start", "on": _day(n).isoformat(), "hours": "0.5"},
        told=_day,
        kept=lambda build: {each.on for each in build.log},
    ),
)


@dataclass(slots=True)
class Tally:
    """What the clients were told, and what was found after each kill."""

    acknowledged: list[set[object]] = field(default_factory=lambda: [set() for _ in WRITERS])
    lost: int = 0
    unasked: int = 0
    unsound: list[str] = field(default_factory=list)

    @property
    def answers(self) -> int:
        """How many posts were acknowledged in all."""
        return sum(map(len, self.acknowledged))


def endurance_of_kills(table: Table) -> None:
    """Kill a server that four clients write to, look the file over, start it again."""
    tally, moments = Tally(), random.Random(1)
    numbers = [itertools.count() for _ in WRITERS]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "builds.sqlite3"
        slug = _begin(path)
        began = time.perf_counter()
        for kill in range(KILLS):
            _write_until_killed(path, slug, tally, numbers, moments)
            _look_over(path, slug, tally, kill)
        seconds = time.perf_counter() - began
    what = f"killed {KILLS} times while {len(WRITERS)} clients write"
    table.row(what, f"{tally.lost} of {tally.answers:,} lost", None, "0 lost")
    at_most = f"at most {KILLS * len(WRITERS)}"
    table.row("stored, but killed before it was said", f"{tally.unasked}", None, at_most)
    table.row("files unsound after a kill", f"{len(tally.unsound)} of {KILLS}", None, "0")
    table.row("one start, writing and kill", f"{seconds / KILLS:.1f} s", seconds / KILLS)
    for found in tally.unsound:
        print(found)


def _begin(path: Path) -> str:
    """A database with a build of one task, begun: the first beginning freezes the baseline.

    That one is refused where nobody else stands still for a moment, as these clients never do.
    """
    begun = replace(task("start", 1), begun_on=FIRST_DAY)
    small = build_of([begun], first_start="start", now=MONDAY, week=EVENINGS)
    with closing(Database.open(path)) as database, database.writing() as session:
        return create_build(session, replace(small, starts_on=FIRST_DAY))


def _write_until_killed(
    path: Path,
    slug: str,
    tally: Tally,
    numbers: list["itertools.count[int]"],
    moments: random.Random,
) -> None:
    """Let every client write; kill the server in the middle, after some answers."""

    def write(place: int) -> None:
        writer = WRITERS[place]
        with httpx.Client(base_url=address, timeout=30) as browser:
            for number in numbers[place]:
                form = writer.form(number)
                try:
                    answer = browser.post(f"/builds/{slug}/{writer.address}", data=form)
                except httpx.TransportError:
                    return
                if answer.status_code != 303:
                    raise RuntimeError(f"{writer.address} said {answer.status_code} to {form}")
                tally.acknowledged[place].add(writer.told(number))

    answers = tally.answers + moments.randint(*ANSWERED)
    environment = environment_of(path, MONDAY.isoformat(timespec="minutes"))
    with (
        running_server(environment) as (server, address),
        ThreadPoolExecutor(len(WRITERS)) as clients,
    ):
        writing = [clients.submit(write, place) for place in range(len(WRITERS))]
        while tally.answers < answers and not all(client.done() for client in writing):
            time.sleep(0.005)
        time.sleep(moments.uniform(0, 0.05))  # not always just after an answer
        server.kill()
        for client in writing:
            client.result()


def _look_over(path: Path, slug: str, tally: Tally, kill: int) -> None:
    """Count what is missing and what is more; note what is wrong with the file."""
    try:
        with closing(sqlite3.connect(path)) as check:
            wrong: list[object] = [
                row
                for pragma in ("integrity_check", "foreign_key_check")
                for row in check.execute(f"PRAGMA {pragma}")
                if row != ("ok",)
            ]
        with closing(Database.open(path)) as database, database.reading() as session:
            build = load_build(session, slug, now=MONDAY)
        assert build is not None, "the build is gone"
        wrong += faults_of(build)
    except Exception as error:  # any at all: the file is what is on trial
        tally.unsound.append(f"after kill {kill + 1}: {error!r}")
        return
    if wrong:
        tally.unsound.append(f"after kill {kill + 1}: {wrong}")
    kept = [writer.kept(build) for writer in WRITERS]
    pairs = list(zip(tally.acknowledged, kept, strict=True))
    tally.lost = sum(len(told - held) for told, held in pairs)
    tally.unasked = sum(len(held - told) for told, held in pairs)
