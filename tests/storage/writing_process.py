"""A process that writes from several threads and says what it wrote, until it is killed.

    python -m tests.storage.writing_process FILE SLUG RUN

Prints the key of a task after the transaction that adds it has ended: its acknowledgement.
"""

import os
import sys
import threading
from dataclasses import replace

from tests.storage.rich_build import NOW, RICH_BUILD
from webapp.storage.changes import store_changes
from webapp.storage.database import Database
from webapp.storage.plan_loader import load_build

WRITERS = 4


def write_tasks(database: Database, slug: str, prefix: str) -> None:
    """Add one task after the other, for ever."""
    number = 0
    while True:
        number += 1
        task = replace(RICH_BUILD.tasks[3], key=f"{prefix}-{number}")
        with database.writing() as session:
            before = load_build(session, slug, now=NOW)
            assert before is not None
            after = replace(before, tasks=(*before.tasks, task))
            store_changes(session, slug, before, after)
        os.write(1, f"{task.key}\n".encode())  # in one piece, past any buffer


if __name__ == "__main__":
    file, slug, run = sys.argv[1:]
    opened = Database.open(file)
    for writer in range(WRITERS):
        threading.Thread(target=write_tasks, args=(opened, slug, f"run{run}-{writer}")).start()
