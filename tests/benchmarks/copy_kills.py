"""Killed at any moment while copies are made and put back: a good copy always, nothing lost.

Two clients log wishes, a third makes copies and puts old ones back, so that the file loses wishes
again and again: each that was acknowledged has to be in the file or in a copy. Every copy that has
its name is opened and a plan made of its builds.
"""

import itertools
import random
import sqlite3
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import httpx

from tests.benchmarks.timing import Table
from tests.build.builds import EVENINGS, MONDAY, build_of, task
from tests.forked_server import forked_server, load_the_program
from webapp.services.copies import look_over
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build
from webapp.storage.copies import copies_folder, copies_in
from webapp.storage.database import Database
from webapp.storage.putting_back import opened_apart

KILLS = 50
WRITERS = 2
KILLED_WITHIN_SECONDS = 1.0


@dataclass(slots=True)
class CopyTally:
    """What the clients were told, and what was found after each kill."""

    wishes: set[str] = field(default_factory=set)
    copies: set[str] = field(default_factory=set)
    put_back: int = 0
    kept: set[str] = field(default_factory=set)
    looked_over: set[str] = field(default_factory=set)
    unsound: list[str] = field(default_factory=list)
    lost_wishes: int = 0
    lost_copies: int = 0


def endurance_of_copies(table: Table) -> None:
    """Kill a server that makes copies and puts them back, look everything over, start it again."""
    with tempfile.TemporaryDirectory() as folder:
        began = time.perf_counter()
        tally = killed_while_copying(Path(folder), KILLS)
        seconds = time.perf_counter() - began
    what = f"killed {KILLS} times while copies are made and put back"
    table.row(what, f"{tally.lost_wishes} of {len(tally.wishes):,} lost", None, "0 lost")
    copies = f"{tally.lost_copies} of {len(tally.copies)} lost, {tally.put_back} put back"
    table.row("copies that were said to be made", copies, None, "0 lost")
    good = f"{len(tally.unsound)} of {KILLS + len(tally.looked_over)}"
    table.row("files and copies unsound after a kill", good, None, "0")
    table.row("one start, copying and kill", f"{seconds / KILLS:.1f} s", seconds / KILLS)
    for found in tally.unsound:
        print(found)


def killed_while_copying(folder: Path, kills: int, *, seed: int = 1) -> CopyTally:
    """What comes of so many kills on one data file."""
    path, moments, tally = folder / "builds.sqlite3", random.Random(seed), CopyTally()
    small = build_of([task("start", 1)], first_start="start", now=MONDAY, week=EVENINGS)
    with closing(Database.open(path)) as database, database.writing() as session:
        slug = create_build(session, small)
    load_the_program(path, f"/builds/{slug}/wishes")
    numbers = itertools.count()
    for kill in range(kills):
        _copy_until_killed(path, slug, tally, numbers, moments)
        _look_over(path, slug, tally, kill)
    return tally


def _copy_until_killed(
    path: Path,
    slug: str,
    tally: CopyTally,
    numbers: "itertools.count[int]",
    moments: random.Random,
) -> None:
    with (
        forked_server(path, frozen_now=MONDAY) as (server, address),
        ThreadPoolExecutor(WRITERS + 1) as clients,
    ):
        working = [
            *(clients.submit(_log_wishes, address, slug, tally, numbers) for _ in range(WRITERS)),
            clients.submit(_make_and_put_back, address, tally, moments.randrange(2**32)),
        ]
        before = len(tally.copies)
        while len(tally.copies) == before and not all(client.done() for client in working):
            time.sleep(0.005)
        time.sleep(moments.uniform(0, KILLED_WITHIN_SECONDS))
        server.kill()
        for client in working:
            client.result()


def _log_wishes(address: str, slug: str, tally: CopyTally, numbers: "itertools.count[int]") -> None:
    with httpx.Client(base_url=address, timeout=60) as browser:
        for number in numbers:
            wish = f"Wish {number}"
            try:
                answer = browser.post(f"/builds/{slug}/bench/wish", data={"wish": wish})
            except httpx.TransportError:
                return
            if answer.status_code != 303:
                raise RuntimeError(f"{wish}: {answer.status_code}")
            tally.wishes.add(wish)
            time.sleep(0.02)  # else the copies never get a turn of the processor


def _make_and_put_back(address: str, tally: CopyTally, seed: int) -> None:
    chance = random.Random(seed)
    with httpx.Client(base_url=address, timeout=60) as browser:
        while True:
            old = chance.choice(sorted(tally.copies)) if tally.copies else ""
            puts_back = bool(old) and chance.random() < 0.5
            asked = f"/put-back?key={old}" if puts_back else "/copies/new"
            try:
                answer = browser.post(asked)
            except httpx.TransportError:
                return
            if answer.status_code != 303:
                raise RuntimeError(f"{asked}: {answer.status_code}")
            (made,) = parse_qs(urlsplit(answer.headers["location"]).query)["made"]
            tally.copies.add(made)
            tally.put_back += puts_back


def _look_over(path: Path, slug: str, tally: CopyTally, kill: int) -> None:
    """Open the file and every copy that is new; count what was acknowledged and is nowhere."""
    there = copies_in(copies_folder(path))
    in_file: set[str] = set()
    try:
        in_file = _wishes_in_file(path, slug)
        for copy in there:
            if copy.name not in tally.looked_over:
                tally.looked_over.add(copy.name)
                look_over(copy.path, now=MONDAY)
                with opened_apart(copy.path) as database:
                    tally.kept |= _wishes_of(database, slug)
    except Exception as error:  # any at all: the files are what is on trial
        tally.unsound.append(f"after kill {kill + 1}: {error!r}")
    tally.lost_wishes = len(tally.wishes - tally.kept - in_file)
    tally.lost_copies = len(tally.copies - {copy.name for copy in there})


def _wishes_in_file(path: Path, slug: str) -> set[str]:
    with closing(sqlite3.connect(path)) as check:
        for pragma in ("integrity_check", "foreign_key_check"):
            wrong = [row for row in check.execute(f"PRAGMA {pragma}") if row != ("ok",)]
            assert not wrong, wrong
    with closing(Database.open(path)) as database:
        return _wishes_of(database, slug)


def _wishes_of(database: Database, slug: str) -> set[str]:
    with database.reading() as session:
        build = load_build(session, slug, now=MONDAY)
    assert build is not None, "the build is gone"
    return {wish.text for wish in build.wishes}
