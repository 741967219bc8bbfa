"""Killed at any moment, the server loses nothing that it has acknowledged.

SIGKILL gives the process no chance to tidy up. It does not show what a power failure does:
for that the promise is SQLite's own (synchronous FULL, https://www.sqlite.org/pragma.html).

The server is forked off with the program loaded, so that a run takes no longer than the writing.
"""

import itertools
import random
import signal
import sqlite3
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import httpx
import pytest

from tests.benchmarks.copy_kills import killed_while_copying
from tests.build.builds import EVENINGS, MONDAY, build_of, task
from tests.forked_server import forked_server, load_the_program
from tests.stored_files import opened_new
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build
from webapp.storage.database import Database

KILLS = 5
"""`python -m tests.benchmarks kills` has fifty."""
CLIENTS = 4


@pytest.mark.slow
def test_nothing_acknowledged_is_lost_when_the_server_is_killed(tmp_path: Path) -> None:
    path = tmp_path / "keyturn.sqlite3"
    small = build_of([task("start", 1)], first_start="start", now=MONDAY, week=EVENINGS)
    with closing(opened_new(path)) as database, database.writing() as session:
        slug = create_build(session, small)
    load_the_program(path, f"/builds/{slug}/tasks/new")
    moments = random.Random(1)
    acknowledged: set[str] = set()
    kept: set[str] = set()
    for run in range(KILLS):
        told = names_entered_until_killed(path, slug, run, moments.uniform(0.05, 0.5))
        assert told, "the server was killed before it took anything: the run shows nothing"
        acknowledged |= told
        # Opened and closed again, so that each run starts from the file that was left behind.
        with closing(Database.open(path)) as database, database.reading() as session:
            build = load_build(session, slug, now=MONDAY)
        assert build is not None
        kept = {entered.name for entered in build.tasks if entered.key != "start"}
        assert acknowledged <= kept
        # Each client may have been cut off between the commit and the answer.
        assert len(kept - acknowledged) <= CLIENTS * (run + 1)
        # A task and its dependency to first start are written together or not at all.
        assert {link.before for link in build.dependencies} == {
            entered.key for entered in build.tasks if entered.key != "start"
        }
        with closing(sqlite3.connect(path)) as check:
            assert check.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            assert check.execute("PRAGMA foreign_key_check").fetchall() == []
            journaled = check.execute(
                "SELECT json_extract(after, '$.name') FROM journal"
                " WHERE noun = 'tasks' AND revision > 1"
            )
            assert {name for (name,) in journaled} == kept
    print(f"{KILLS} kills: {len(acknowledged)} acknowledged, {len(kept - acknowledged)} more kept")


def names_entered_until_killed(path: Path, slug: str, run: int, seconds: float) -> set[str]:
    """Let clients enter tasks at a server for a while, kill it; the tasks it acknowledged."""
    entered: list[str] = []

    def enter_tasks(client: int) -> None:
        with httpx.Client(base_url=address, timeout=30) as browser:
            for number in itertools.count():
                name = f"Task {run} {client} {number}"
                form = {"name-0": name, "likely-0": "1", "needed-0": "on"}
                try:
                    answer = browser.post(f"/builds/{slug}/tasks/new", data=form)
                except httpx.TransportError:
                    return
                assert answer.status_code == 303, answer.text
                entered.append(name)

    with (
        forked_server(path) as (server, address),
        ThreadPoolExecutor(CLIENTS) as clients,
    ):
        writing = [clients.submit(enter_tasks, client) for client in range(CLIENTS)]
        while not entered and not any(client.done() for client in writing):
            time.sleep(0.01)
        time.sleep(seconds)
        server.kill()
        server.join()
        for client in writing:
            client.result()
    assert server.exitcode == -signal.SIGKILL, "the server ended before it was killed"
    return set(entered)


@pytest.mark.slow
def test_killed_while_copies_are_made_and_put_back_a_good_copy_has_what_the_file_has_not(
    tmp_path: Path,
) -> None:
    """Three kills; `python -m tests.benchmarks copies` has fifty."""
    tally = killed_while_copying(tmp_path, 3)
    assert tally.unsound == []
    assert tally.copies <= tally.looked_over
    assert (tally.lost_wishes, tally.lost_copies) == (0, 0)
    assert tally.wishes
