"""The program on a build, in a process of its own, for rows that ask over HTTP."""

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.benchmarks.workshop_builds import NOW
from tests.serving import bring_in, environment_of, running_server
from webapp.build.build_input import BuildInput
from webapp.exchange.build_document import write_document


@contextmanager
def served(build: BuildInput) -> Iterator[str]:
    """Import a build and serve it at its own moment; gives the server's address."""
    with tempfile.TemporaryDirectory() as folder:
        document = Path(folder) / "build.json"
        document.write_text(write_document(build), "utf-8")
        environment = environment_of(
            Path(folder) / "builds.sqlite3", NOW.isoformat(timespec="minutes")
        )
        bring_in(document, environment)
        with running_server(environment) as (_, address):
            yield address
