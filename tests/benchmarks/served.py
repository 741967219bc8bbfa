"""The program on a build, in a process of its own, for rows that ask over HTTP."""

import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.benchmarks.workshop_builds import NOW
from webapp.exchange.build_document import write_document
from webapp.planning.build_input import BuildInput


@contextmanager
def served(build: BuildInput) -> Iterator[str]:
    """Import a build and serve it at its own moment; gives the server's address."""
    with tempfile.TemporaryDirectory() as folder:
        document = Path(folder) / "build.json"
        document.write_text(write_document(build), "utf-8")
        environment = {
            **os.environ,
            "KEYTURN_DATA": str(Path(folder) / "builds.sqlite3"),
            "KEYTURN_NOW": NOW.isoformat(timespec="minutes"),
        }
        keyturn = [sys.executable, "-m", "webapp"]
        subprocess.run(
            [*keyturn, "import", str(document)], env=environment, check=True, capture_output=True
        )
        with subprocess.Popen(
            [*keyturn, "serve", "--port", "0"], env=environment, stdout=subprocess.PIPE, text=True
        ) as server:
            try:
                assert server.stdout is not None
                found = re.search(r"http://\S+?:\d+", server.stdout.readline())
                assert found, "the server names its address"
                yield found[0]
            finally:
                server.terminate()
