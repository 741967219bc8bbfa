"""The command started from nothing, as a person starts it, by either of its two names.

All other tests of the command fork it off a process that has the program loaded
(`tests/forked_command.py`): what comes out of it here is what comes out of it there.
"""

import os
import re
import signal
import subprocess
import sys
import sysconfig
import urllib.request
from pathlib import Path

import pytest

from tests.forked_command import ran
from webapp.settings import resource_root

HERON = str(resource_root() / "seed_data" / "heron.json")
SCRIPT = [str(Path(sysconfig.get_path("scripts"), "keyturn"))]
MODULE = [sys.executable, "-m", "webapp"]
PLAIN = {"LC_ALL": "C", "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
"""A terminal that writes ASCII."""


@pytest.mark.slow
def test_the_script_writes_what_the_forked_command_writes_as_utf_8_wherever_it_runs() -> None:
    done = subprocess.run(
        [*SCRIPT, "table", HERON, "--of", "wishes"], env=os.environ | PLAIN, capture_output=True
    )
    forked = ran("table", HERON, "--of", "wishes")
    assert (done.returncode, done.stderr) == (forked.returncode, b"") == (0, b"")
    assert done.stdout.decode("utf-8").splitlines() == forked.stdout.splitlines()


@pytest.mark.slow
def test_the_module_refuses_with_2_and_does_not_fail_once_more_when_it_ends() -> None:
    """What could not be flushed is not flushed again: Python would end with 120 and say so."""
    if not Path("/dev/full").is_char_device():
        pytest.skip("there is no /dev/full")
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [*MODULE, "plan", HERON], stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    (line,) = done.stderr.splitlines()
    assert line.startswith("Standard output cannot be written: No space left on device.")
    assert done.returncode == 2


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="interrupts by a signal")
def _heed_interrupts() -> None:
    """A shell has what it runs in the background pass over them, and so all that this starts."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def test_a_server_answers_and_ends_when_interrupted(tmp_path: Path) -> None:
    told = {"KEYTURN_DATA": str(tmp_path / "builds.sqlite3")}
    with subprocess.Popen(
        [*SCRIPT, "serve", "--port", "0"],
        env=os.environ | told,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=_heed_interrupts,
    ) as server:
        try:
            assert server.stdout is not None
            found = re.search(r"http://\S+", server.stdout.readline())
            assert found
            with urllib.request.urlopen(found[0], timeout=30) as answer:
                assert answer.status == 200
            server.send_signal(signal.SIGINT)
            assert server.communicate(timeout=30)[1] == ""
        finally:
            server.kill()
    assert server.returncode == 130
