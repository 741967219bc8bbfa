"""What a command says when it cannot do what it was asked."""

from collections.abc import Iterable


class RefusedError(Exception):
    """The command cannot be carried out; each of `lines` says what is wrong and the remedy."""

    def __init__(self, lines: Iterable[str]) -> None:
        self.lines = tuple(lines)
        super().__init__("\n".join(self.lines))
