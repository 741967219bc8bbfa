"""The server of the command as a process of its own, forked off with the program loaded."""

import datetime as dt
import multiprocessing
import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from multiprocessing.connection import Connection
from multiprocessing.context import ForkContext, ForkServerContext
from multiprocessing.process import BaseProcess
from pathlib import Path

from starlette.testclient import TestClient

from tests.settled import settled
from webapp.app import create_app
from webapp.command.serving import config_of, serve
from webapp.settings import Settings

BESIDE = ["pytest", "tests.loaded_program", "tests.forked_command"]
"""What the process beside loads. pytest, for where its script is what was started, each process
that is forked off runs the imports of that script once more."""


def load_the_program(path: Path, *addresses: str, frozen_now: dt.datetime | None = None) -> None:
    """Have everything at hand that a server needs for an answer, before any is forked off."""
    app = create_app(Settings(data_file=path, frozen_now=frozen_now))
    config_of(app).load()
    with TestClient(app, base_url="http://127.0.0.1", client=("127.0.0.1", 1)) as browser:
        for address in addresses:
            settled(browser, address, seconds=120)


def from_this_process() -> ForkContext:
    """Servers have at hand what this process has, which must run no event loop."""
    return multiprocessing.get_context("fork")


def from_a_process_beside(*, shows_pages: bool = False) -> ForkServerContext:
    """Servers have at hand what one process beside this one has: the whole program.

    It is started once, for who asks first. Where pages will be shown (`shows_pages`), or one
    process runs all tests, it has asked for pages beforehand; that takes longer than all commands
    of a process that shows none. Which of several begins with the browser's tests is chance.
    """
    forking = multiprocessing.get_context("forkserver")
    shows_pages = shows_pages or "PYTEST_XDIST_WORKER" not in os.environ
    forking.set_forkserver_preload([*BESIDE, *(["tests.asked_pages"] if shows_pages else [])])
    return forking


@contextmanager
def forked_server(
    path: Path,
    forking: ForkContext | ForkServerContext | None = None,
    *,
    frozen_now: dt.datetime | None = None,
    shop: bool = False,
) -> Iterator[tuple[BaseProcess, str]]:
    """A server on any free port and its address; it is killed in the end."""
    forking = forking or from_this_process()
    hears, says = forking.Pipe(duplex=False)
    settings = Settings(data_file=path, port=0, frozen_now=frozen_now, shop=shop, shop_port=0)
    server = forking.Process(target=_serve, args=(settings, says))
    server.start()
    says.close()
    try:
        with open(hears.fileno(), closefd=False) as words:
            found = re.search(r"http://127\.0\.0\.1:\d+", words.readline())
        assert found, "the server gave no address"
        yield server, found[0]
    finally:
        server.kill()
        server.join()
        hears.close()


def _serve(settings: Settings, says: "Connection") -> None:
    sys.stdout = open(says.fileno(), "w")  # noqa: SIM115  open for as long as the process lives
    serve(settings)
