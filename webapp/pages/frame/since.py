"""Which change a page tells of: the number of the revision before it, and after it.

The address of the page after a change carries it: "7" for the change from revision 7 to 8, "7-9"
where two changes were made by one press, "7-7" where nothing was to be changed, "7-8-undo" where
a change was taken back, "7-8-again" where the same form was sent once more after it.
"""

import re
from dataclasses import dataclass, replace
from typing import Self

_WRITTEN = re.compile(r"(\d{1,12})(?:-(\d{1,12}))?(-undo)?(-again)?", re.ASCII)
_IN_ADDRESS = re.compile(r"(?<=[?&]since=)[\w-]+", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Since:
    """Revisions before and after what was done, and whether that was taking something back.

    is_again : the form that did it was sent once more, and nothing was done then
    """

    before: int
    after: int
    is_undo: bool = False
    is_again: bool = False

    @classmethod
    def read(cls, text: str) -> Self | None:
        """What an address says; None where it says nothing that can be."""
        found = _WRITTEN.fullmatch(text)
        if found is None:
            return None
        before = int(found[1])
        after = int(found[2]) if found[2] else before + 1
        if after < before:
            return None
        return cls(before=before, after=after, is_undo=bool(found[3]), is_again=bool(found[4]))

    def __str__(self) -> str:
        marks = f"{'-undo' if self.is_undo else ''}{'-again' if self.is_again else ''}"
        if not marks and self.after == self.before + 1:
            return f"{self.before}"
        return f"{self.before}-{self.after}{marks}"


def sent_again(address: str) -> str:
    """The address that a form led to, once the same form was sent again and nothing was done."""

    def marked(found: re.Match[str]) -> str:
        which = Since.read(found[0])
        return found[0] if which is None else str(replace(which, is_again=True))

    return _IN_ADDRESS.sub(marked, address)
