"""The real program in processes of its own: bring a build document in, serve it."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

KEYTURN = [sys.executable, "-m", "webapp"]


def environment_of(data_file: Path, now: str | None = None) -> dict[str, str]:
    """What the program is told: its database, and the moment at which its clock stands."""
    told = {**os.environ, "KEYTURN_DATA": str(data_file)}
    return told if now is None else told | {"KEYTURN_NOW": now}


def bring_in(document: Path, environment: dict[str, str]) -> None:
    """Import a build document."""
    subprocess.run(
        [*KEYTURN, "import", str(document)], env=environment, check=True, capture_output=True
    )


@contextmanager
def running_server(environment: dict[str, str]) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """A server on any free port and its address; it is ended in the end."""
    with subprocess.Popen(
        [*KEYTURN, "serve", "--port", "0"], env=environment, stdout=subprocess.PIPE, text=True
    ) as server:
        try:
            assert server.stdout is not None
            said = server.stdout.readline()
            found = re.search(r"http://127\.0\.0\.1:\d+", said)
            assert found, f"the server gave no address but {said!r}"
            yield server, found[0]
        finally:
            server.kill()
