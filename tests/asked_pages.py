"""Asks for pages where it is imported: in the process that servers are forked off.

Templates are read and statements compiled once a page is asked for, and the figures of The Heron
are worked out: without this each server did it anew. A server reads its build itself, and works
out anew what is not to the letter this Heron.
"""

import gc
import threading
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.browser.server import NOW, heron_brought_in
from tests.compiled_once import sharing_engines
from tests.forked_server import load_the_program
from tests.worked_out_once import keep_what_is_worked_out
from webapp.storage import database

PAGES = ("bench", "order", "path", "tasks", "tasks/rad_bracket", "week", "parts", "wishes")
PAGES_OF_PLUMBING = ("plumbing", "plumbing/coolant")


def load() -> None:
    """Ask for the pages that most tests ask for, of The Heron in a file that is thrown away."""
    patch = pytest.MonkeyPatch()
    patch.setattr(database, "create_engine", sharing_engines())
    keep_what_is_worked_out(patch)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "heron.sqlite3"
        path.write_bytes(heron_brought_in())
        load_the_program(
            path,
            *(f"/builds/the-heron/{page}" for page in (*PAGES, *PAGES_OF_PLUMBING)),
            frozen_now=NOW,
        )
    for thread in threading.enumerate():
        if thread is not threading.current_thread():
            thread.join()  # a server forked beside it would wait for what it holds for ever
    gc.collect()
    gc.freeze()


load()
