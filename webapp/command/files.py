"""Reads and writes the files that a command names, and says what stands in the way."""

import os
import stat
import sys
from pathlib import Path

from webapp.build.limits import MOST_FULL_DOCUMENT_BYTES
from webapp.command.refusal import RefusedError

STANDARD_INPUT = "-"


def read_file(file: str) -> bytes:
    """A file or standard input, no further than a document can go. Raises RefusedError."""
    if file == STANDARD_INPUT:
        return sys.stdin.buffer.read(MOST_FULL_DOCUMENT_BYTES + 1)
    try:
        with Path(file).open("rb") as opened:
            return opened.read(MOST_FULL_DOCUMENT_BYTES + 1)
    except (OSError, ValueError) as error:
        raise RefusedError([_trouble_with(file, error, "read")]) from None


def write_out(text: str) -> None:
    """Write to standard output. Raises RefusedError, BrokenPipeError where nobody reads it."""
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        raise
    except OSError as error:
        leave_standard_output()
        raise RefusedError(
            [f"Standard output cannot be written: {error.strerror}. Send it elsewhere."]
        ) from None


def leave_standard_output() -> None:
    """Lead it to nowhere, so that what is still to be flushed at the exit does not fail again."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def write_file(path: Path, text: str) -> None:
    """Write a text to where `path` leads. Raises RefusedError.

    A file is replaced as a whole or stays as it was, and a link to it stays a link. Devices,
    pipes, and standard output by a name of its own are written into.
    """
    if _is_standard_output(path):
        write_out(text)
        return
    try:
        mode = _mode_of(path)
        if mode is None or stat.S_ISREG(mode):
            _replace(Path(os.path.realpath(path)), text, mode)
        elif stat.S_ISDIR(mode):
            raise IsADirectoryError
        else:
            with open(os.open(path, os.O_WRONLY), "w", encoding="utf-8") as file:
                file.write(text)
    except (OSError, ValueError) as error:
        raise RefusedError([_trouble_with(str(path), error, "written")]) from None


def _is_standard_output(path: Path) -> bool:
    try:
        return os.path.samestat(path.stat(), os.fstat(sys.stdout.fileno()))
    except (OSError, ValueError):
        return False


def _mode_of(path: Path) -> int | None:
    """What kind of file stands there or at the end of a link, None if none does yet."""
    try:
        return path.stat().st_mode
    except FileNotFoundError:
        return None


def _replace(path: Path, text: str, mode: int | None) -> None:
    """Put a new file in the place of one of the given mode, once it is on disk."""
    beside = path.with_name(f".keyturn-{os.getpid()}.part")
    try:
        with beside.open("w", encoding="utf-8", newline="\n") as file:
            if mode is not None:
                beside.chmod(stat.S_IMODE(mode))
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def _trouble_with(file: str, error: Exception, done: str) -> str:
    match error:
        case FileNotFoundError() if done == "read":
            return f"There is no file {file}. Check its name and folder."
        case FileNotFoundError():
            folder = Path(error.filename).parent
            return f"There is no folder {folder}. Make it first, or name another."
        case IsADirectoryError():
            return f"{file} is a folder. Name a file in it."
        case PermissionError():
            return f"{file} may not be {done} by you. Change its permissions, or name another."
        case OSError():
            return f"{file} cannot be {done}: {error.strerror}. Name another file."
        case _:
            return f"{file!r} is not the name of a file. Name another."
