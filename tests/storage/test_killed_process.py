"""Killed at any moment, the program loses nothing that it has acknowledged.

SIGKILL gives the process no chance to tidy up. It does not show what a power failure does:
for that the promise is SQLite's own (synchronous FULL, https://www.sqlite.org/pragma.html).
"""

import random
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from tests.storage.rich_build import NOW, RICH_BUILD
from tests.storage.writing_process import WRITERS
from webapp.storage.builds import create_build
from webapp.storage.database import Database
from webapp.storage.plan_loader import load_build

KILLS = 10


@pytest.mark.slow
def test_nothing_acknowledged_is_lost_when_the_writing_process_is_killed(tmp_path: Path) -> None:
    path = tmp_path / "keyturn.sqlite3"
    database = Database.open(path)
    with database.writing() as session:
        slug = create_build(session, RICH_BUILD)
    database.close()
    moments = random.Random(1)
    acknowledged: set[str] = set()
    kept: set[str] = set()
    for run in range(KILLS):
        told = keys_written_until_killed(path, slug, run, moments.uniform(0.02, 0.5))
        assert told, "the process was killed before it wrote anything: the test shows nothing"
        acknowledged |= told
        # opened and closed again, so that each run starts from the file that was left behind
        with closing(Database.open(path)) as opened, opened.reading() as session:
            build = load_build(session, slug, now=NOW)
        check = sqlite3.connect(path)
        assert check.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert check.execute("PRAGMA foreign_key_check").fetchall() == []
        check.close()
        assert build is not None
        kept = {task.key for task in build.tasks if task.key.startswith("run")}
        assert acknowledged <= kept
        # each writer may have been killed between its commit and its word
        assert len(kept - acknowledged) <= WRITERS * (run + 1)
    journaled = sqlite3.connect(path)
    rows = journaled.execute("SELECT key FROM journal WHERE noun = 'tasks' AND revision > 1")
    assert {key for (key,) in rows} == kept
    print(f"{KILLS} kills: {len(acknowledged)} acknowledged, {len(kept - acknowledged)} more kept")
    journaled.close()


def keys_written_until_killed(path: Path, slug: str, run: int, seconds: float) -> set[str]:
    """Let the process write for a while after its first word, kill it, and hear it out."""
    command = [sys.executable, "-m", "tests.storage.writing_process", str(path), slug, str(run)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        first = process.stdout.readline()
        time.sleep(seconds)
        process.kill()
        said = first + process.stdout.read()
    assert process.returncode == -signal.SIGKILL, "the process ended before it was killed"
    return {line for line in said.split("\n")[:-1] if line}
