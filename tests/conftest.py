"""What every test shares: where its files lie, the order in which they run, and no stop-watch."""

import gc
import importlib
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.compiled_once import sharing_engines
from webapp.storage import database

# By itself hypothesis fails a test whose examples take long by the clock, to make or to try: on a
# machine that does something else beside, or runs two tests at once, that says nothing.
settings.register_profile(
    "unhurried",
    parent=settings(),
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("unhurried")

TESTS = Path(__file__).parent
IN_MEMORY = Path("/dev/shm")
ROOM_BYTES = 2_000_000_000


YOUNG_OBJECTS = 20_000
"""So many new objects before the collector looks through them; Python's own is 700."""


def pytest_sessionstart(session: pytest.Session) -> None:
    """Collect no garbage while modules and tests are gathered: there is next to none."""
    gc.disable()
    _load_a_share_first(session.config)


def _load_a_share_first(config: pytest.Config) -> None:
    """Of several processes that gather all tests, each loads a share of the modules first.

    What is not compiled yet is then compiled once, and found by the others; in one order all of
    them would compile the same module at the same time.
    """
    shared = getattr(config, "workerinput", None)
    if shared is None or not any(Path(arg).resolve() == TESTS for arg in config.args):
        return
    modules = sorted(TESTS.rglob("test_*.py"))
    number, count = int(shared["workerid"].removeprefix("gw")), shared["workercount"]
    share = slice(number * len(modules) // count, (number + 1) * len(modules) // count)
    for module in modules[share]:
        name = ".".join(module.relative_to(TESTS.parent).with_suffix("").parts)
        # What does not load is told when its tests are gathered.
        with suppress(Exception, pytest.skip.Exception):
            importlib.import_module(name)


def pytest_collection_finish() -> None:
    """Look no more through what stays until the end, all modules and tests.

    The collector went through half a million of these again and again: a quarter of the time of
    gathering them. Not even once, for what little of it is garbage: that took a second.
    """
    gc.freeze()
    gc.set_threshold(YOUNG_OBJECTS)
    gc.enable()


def pytest_configure() -> None:
    _keep_bytecode()
    _files_in_memory()


def _keep_bytecode() -> None:
    """Keep what Python makes of a module also where the environment says not to.

    Else every process compiles the whole program anew, and pytest all tests: those that share the
    tests, each server, each command.
    """
    sys.dont_write_bytecode = False
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


def _files_in_memory() -> None:
    """Let the files of tests lie in memory where there is room: each change is written to disk.

    A thousand tests wait for the disk else. What they prove is what a process leaves behind when
    it is killed, which is the same in memory.
    """
    if "PYTEST_DEBUG_TEMPROOT" in os.environ or not os.access(IN_MEMORY, os.W_OK):
        return
    if shutil.disk_usage(IN_MEMORY).free >= ROOM_BYTES:
        os.environ["PYTEST_DEBUG_TEMPROOT"] = os.environ["TMPDIR"] = str(IN_MEMORY)
        tempfile.tempdir = None  # it is looked up anew


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Put the browser's tests last, or first where processes share the tests.

    They are the slowest, so one process alone has the quick failures first. Of several
    (`-n 3 --dist worksteal`) one begins with them, in the order of their modules, so that each
    server of a module is started once; the rest is done beside.
    """

    def in_the_browser(item: pytest.Item) -> bool:
        return item.get_closest_marker("browser") is not None

    shared = hasattr(config, "workerinput")  # this is one of several processes
    items.sort(key=in_the_browser, reverse=shared)


@pytest.fixture(autouse=True, scope="session")
def _statements_compiled_once() -> Iterator[None]:
    """Have all databases of a process share what SQLAlchemy makes of a statement.

    Each test has a database of its own.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(database, "create_engine", sharing_engines())
        yield
