"""What a command says when it cannot do what it was asked."""

from collections.abc import Iterable

from webapp.storage.trouble import UnusableDatabaseError


class RefusedError(Exception):
    """The command cannot be carried out; each of `lines` says what is wrong and the remedy."""

    def __init__(self, lines: Iterable[str]) -> None:
        self.lines = tuple(lines)
        super().__init__("\n".join(self.lines))


def lines_of(refusal: RefusedError | UnusableDatabaseError) -> tuple[str, ...]:
    """What to print of whatever keeps a command from being carried out."""
    return refusal.lines if isinstance(refusal, RefusedError) else (str(refusal),)


REFUSALS = (RefusedError, UnusableDatabaseError)
"""What a command may raise: the person can mend it."""
