"""The command as a process of its own, forked off one that has the program loaded.

It has arguments, an environment, a folder, standard streams and an exit status of its own, as
`python -m webapp` has; only Python does not start anew and load the program, which takes longer
than most commands do. `tests/command/test_start.py` starts it from nothing, by both its names.
"""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from multiprocessing.connection import Connection
from threading import Thread
from typing import IO

from tests.forked_server import from_a_process_beside
from webapp.__main__ import main

PIPE, WITH_STDOUT = subprocess.PIPE, subprocess.STDOUT


class ForkedCommand:
    """A command that runs; `stdout` and `stderr` are the ends to read of its pipes.

    What it is given as `stdout` instead is the descriptor of an open file; its `stderr` may go
    the way of its `stdout`. Then there is nothing to read.
    """

    def __init__(
        self,
        *arguments: str,
        stdout: int = PIPE,
        stderr: int = PIPE,
        environment: Mapping[str, str] = os.environ,
    ) -> None:
        reads, writes = os.pipe()
        self.stdin = open(writes, "w", encoding="utf-8")  # noqa: SIM115  open while it runs
        its_input = Connection(reads, writable=False)
        self.stdout, its_output = _way_out(stdout)
        self.stderr, its_errors = _way_out(its_output.fileno() if stderr == WITH_STDOUT else stderr)
        streams = (its_input, its_output, its_errors)
        self._process = from_a_process_beside().Process(
            target=_carry_out, args=(arguments, dict(environment), os.getcwd(), streams)
        )
        self._process.start()
        for each in streams:
            each.close()

    def send_signal(self, number: int) -> None:
        """Send a signal, if it still runs."""
        if self._process.is_alive():
            assert self._process.pid is not None
            os.kill(self._process.pid, number)

    def wait(self, timeout: float | None = None) -> int:
        """Its exit status once it has ended, below zero where a signal ended it."""
        self._process.join(timeout)
        if self._process.exitcode is None:
            raise TimeoutError(f"it has not ended within {timeout} s")
        return self._process.exitcode

    def communicate(self, typed: str = "", timeout: float | None = None) -> tuple[str, str]:
        """Type to it and read what it says, until it has ended."""
        said = ["", ""]

        def read_to_the_end(at: int, stream: IO[str]) -> None:
            with stream:
                said[at] = stream.read()

        readers = [
            Thread(target=read_to_the_end, args=(at, stream), daemon=True)
            for at, stream in enumerate((self.stdout, self.stderr))
            if stream is not None and not stream.closed
        ]
        for reader in readers:
            reader.start()
        if not self.stdin.closed:
            with suppress(BrokenPipeError), self.stdin:  # it may end before it has read all
                self.stdin.write(typed)
        self.wait(timeout)
        for reader in readers:
            reader.join(timeout)
        return said[0], said[1]


def _way_out(asked: int) -> tuple[IO[str] | None, Connection]:
    """The end to read of what a process writes, and the end that it writes to."""
    if asked != PIPE:
        return None, Connection(os.dup(asked), readable=False)
    reads, writes = os.pipe()
    return open(reads, encoding="utf-8"), Connection(writes, readable=False)


@contextmanager
def running(*arguments: str, stderr: int = PIPE) -> Iterator[ForkedCommand]:
    """A command while it runs; it is killed in the end."""
    command = ForkedCommand(*arguments, stderr=stderr)
    try:
        yield command
    finally:
        command.send_signal(signal.SIGKILL)
        command.communicate()


def ran(
    *arguments: str,
    typed: str = "",
    stdout: int = PIPE,
    timeout: float = 60,
    environment: Mapping[str, str] = os.environ,
) -> subprocess.CompletedProcess[str]:
    """What a command said that ran to its end, and how that was."""
    command = ForkedCommand(*arguments, stdout=stdout, environment=environment)
    try:
        out, err = command.communicate(typed, timeout)
    finally:
        command.send_signal(signal.SIGKILL)
    return subprocess.CompletedProcess(["keyturn", *arguments], command.wait(), out, err)


def keyturn(
    *arguments: str, typed: str = "", **environment: str
) -> subprocess.CompletedProcess[str]:
    """`ran` with a few more words in the environment."""
    return ran(*arguments, typed=typed, environment={**os.environ, **environment})


def _carry_out(
    arguments: tuple[str, ...],
    environment: dict[str, str],
    folder: str,
    streams: tuple[Connection, Connection, Connection],
) -> None:
    os.environ.clear()
    os.environ.update(environment)
    os.chdir(folder)
    for number, stream in enumerate(streams):
        os.dup2(stream.fileno(), number)
        stream.close()
    sys.argv = ["keyturn", *arguments]
    sys.stdin = open(0, closefd=False)  # noqa: SIM115  open for as long as the process lives
    sys.stdout = open(1, "w", closefd=False)  # noqa: SIM115
    sys.stderr = open(2, "w", buffering=1, closefd=False)  # noqa: SIM115
    sys.exit(main())
