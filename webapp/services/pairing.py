"""The one code that pairs a device, and how often it may be tried."""

import datetime as dt
import hmac
import secrets
import time
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"
"""Nothing that reads like something else: no I, no O, no 0, no 1."""
CODE_LETTERS = 8
"""32 letters in 8 places: 1.1 million million codes, of which some 3,000 can be tried in time."""
VALID = dt.timedelta(minutes=10)
WINDOW_SECONDS = 60.0
TRIES_OF_ONE, TRIES_OF_ALL = 5, 300
"""So many wrong codes are looked at in a minute, from one address and from all together."""

Outcome = Literal["right", "wrong", "too often"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownCode:
    """A code as it is shown; `until` is in UTC."""

    text: str
    until: dt.datetime


class Pairing:
    """At most one code at a time, in memory alone. Not safe to share: its owner has the lock.

    Wrong tries are counted by address and together. A new code begins the count anew, so that
    whoever floods the program with tries keeps nobody out for longer than a press.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._shown: ShownCode | None = None
        self._ends = 0.0
        self._wrong: deque[tuple[float, str]] = deque()

    def show(self) -> ShownCode:
        """A new code; the one before it is none any more."""
        letters = "".join(secrets.choice(LETTERS) for _ in range(CODE_LETTERS))
        half = CODE_LETTERS // 2
        self._shown = ShownCode(
            text=f"{letters[:half]}-{letters[half:]}", until=dt.datetime.now(dt.UTC) + VALID
        )
        self._ends = self._clock() + VALID.total_seconds()
        self._wrong.clear()
        return self._shown

    def shown(self) -> ShownCode | None:
        """The code that is valid now, None where there is none."""
        if self._shown is not None and self._clock() >= self._ends:
            self.put_away()
        return self._shown

    def put_away(self) -> None:
        """No code is valid from now on."""
        self._shown = None

    def tried(self, typed: str, *, by: str) -> Outcome:
        """Whether what was typed is the code; `by` is the address that it came from.

        Where it may not be tried now, it is not looked at, right or wrong.
        """
        now = self._clock()
        while self._wrong and self._wrong[0][0] <= now - WINDOW_SECONDS:
            self._wrong.popleft()
        of_one = sum(address == by for _, address in self._wrong)
        if of_one >= TRIES_OF_ONE or len(self._wrong) >= TRIES_OF_ALL:
            return "too often"
        shown = self.shown()
        given = _letters_of(typed).encode()
        # compared in either case, and in a time that tells nothing of the code
        wanted = _letters_of(shown.text if shown else "-" * CODE_LETTERS).encode()
        if hmac.compare_digest(given, wanted) and shown is not None:
            return "right"
        self._wrong.append((now, by))
        return "wrong"


def _letters_of(typed: str) -> str:
    """What was typed, without the stroke and the spaces, in capitals."""
    return "".join(letter for letter in typed.upper() if letter.isalnum())
