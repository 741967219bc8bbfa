"""What the second process of a search runs: races of orders, asked for over its standard input.

Begun by `second_process` as `python -m webapp.services.race_worker`. The first message is the
build, its factors and the seed; each one after it is the orders of a race. It answers each with
what came of it. Once its input ends, as it does when the program is gone, it ends at once.
"""

import os
import pickle
import queue
import sys
import threading
from typing import Any, BinaryIO

from webapp.planning.tighten.beside import Racer

NICENESS = 10


def main() -> None:
    """Answer what is asked until nobody asks any more."""
    if hasattr(os, "nice"):
        os.nice(NICENESS)
    answers = sys.stdout.buffer
    asked: queue.SimpleQueue[Any] = queue.SimpleQueue()
    threading.Thread(target=_listen, args=(sys.stdin.buffer, asked), daemon=True).start()
    build, factors, seed = asked.get()
    racer = Racer.of(build, factors, seed)
    _answer(answers, racer is not None)
    while racer is not None:
        _answer(answers, racer.run(asked.get()))


def _listen(asking: BinaryIO, asked: "queue.SimpleQueue[Any]") -> None:
    """Take in what is asked. The end of the input ends the process, in the middle of a race too."""
    try:
        while True:
            asked.put(pickle.load(asking))
    except (EOFError, OSError, pickle.UnpicklingError):
        os._exit(0)


def _answer(answers: BinaryIO, what: object) -> None:
    try:
        pickle.dump(what, answers, pickle.HIGHEST_PROTOCOL)
        answers.flush()
    except OSError:
        os._exit(0)


if __name__ == "__main__":
    main()
