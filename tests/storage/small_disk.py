"""A real disk of a few hundred kilobytes, to be filled up."""

import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest


@contextmanager
def small_disk(place: Path, kilobytes: int) -> Iterator[Path]:
    """A disk in memory, mounted at `place`; the test is left out where one may not mount."""
    place.mkdir()
    size = f"size={kilobytes}k"
    try:
        subprocess.run(
            ["mount", "-t", "tmpfs", "-o", size, "tmpfs", place], check=True, capture_output=True
        )
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("a disk of its own may not be mounted here")
    try:
        yield place
    finally:
        subprocess.run(["umount", "--lazy", place], check=True)


def fill(disk: Path) -> Path:
    """Take all the room that is left; the file to delete when it is wanted back."""
    filler = disk / "filler"
    with filler.open("wb", buffering=0) as file:
        for size in (4096, 1):
            try:
                while True:
                    file.write(bytes(size))
            except OSError:
                continue
    return filler
