"""Asks for pages where it is imported: in the process that servers are forked off.

Templates are read and statements compiled once a page is asked for, and the figures of The Heron
are worked out: without this each server did it anew. A server reads its build itself, and works
out anew what is not to the letter this Heron.
"""

import datetime as dt
import gc
import threading
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.compiled_once import sharing_engines
from tests.forked_server import load_the_program
from tests.stored_files import file_of
from tests.worked_out_once import keep_what_is_worked_out
from webapp.settings import resource_root
from webapp.storage import database

NOW = dt.datetime(2026, 2, 9, 18, 30)
PAGES = ("bench", "order", "path", "tasks", "tasks/rad_bracket", "week", "parts", "wishes")
PAGES_OF_PLUMBING = ("plumbing", "plumbing/coolant")


def load() -> None:
    """Ask for the pages that most tests ask for, of The Heron in a file that is thrown away."""
    patch = pytest.MonkeyPatch()
    patch.setattr(database, "create_engine", sharing_engines())
    keep_what_is_worked_out(patch)
    heron = resource_root() / "seed_data" / "heron.json"
    with TemporaryDirectory() as folder:
        path = Path(folder) / "heron.sqlite3"
        path.write_bytes(file_of(heron.read_bytes(), NOW))
        load_the_program(
            path,
            *(f"/builds/the-heron/{page}" for page in (*PAGES, *PAGES_OF_PLUMBING)),
            frozen_now=NOW,
            settled=True,
        )
    for thread in threading.enumerate():
        if thread is not threading.current_thread():
            thread.join()  # a server forked beside it would wait for what it holds for ever
    gc.collect()
    gc.freeze()


load()
