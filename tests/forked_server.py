"""The server of the command as a process of its own, forked off with the program loaded."""

import multiprocessing
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from multiprocessing.context import ForkProcess
from pathlib import Path

from starlette.testclient import TestClient

from webapp.app import create_app
from webapp.command.serving import config_of, serve
from webapp.settings import Settings


def load_the_program(path: Path, address: str) -> None:
    """Have everything at hand that a server needs for an answer, before any is forked off."""
    app = create_app(Settings(data_file=path))
    config_of(app).load()
    with TestClient(app, base_url="http://127.0.0.1") as browser:
        assert browser.get(address).status_code == 200


@contextmanager
def forked_server(path: Path) -> Iterator[tuple[ForkProcess, str]]:
    """A server on any free port and its address; it is killed in the end."""
    forking = multiprocessing.get_context("fork")
    hears, says = forking.Pipe(duplex=False)
    server = forking.Process(target=_serve, args=(path, says.fileno()))
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


def _serve(path: Path, says: int) -> None:
    sys.stdout = open(says, "w")  # noqa: SIM115  open for as long as the process lives
    serve(Settings(data_file=path, port=0))
