"""Which change a page tells of: the number of the revision before it, and after it.

The address of the page after a change carries it: "7" for the change from revision 7 to 8, "7-9"
where two changes were made by one press, "7-7" where nothing was to be changed, "7-8-undo" where
a change was taken back.
"""

import re
from dataclasses import dataclass
from typing import Self

_WRITTEN = re.compile(r"(\d{1,12})(?:-(\d{1,12}))?(-undo)?", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Since:
    """Revisions before and after what was done, and whether that was taking something back."""

    before: int
    after: int
    is_undo: bool = False

    @classmethod
    def read(cls, text: str) -> Self | None:
        """What an address says; None where it says nothing that can be."""
        found = _WRITTEN.fullmatch(text)
        if found is None:
            return None
        before = int(found[1])
        after = int(found[2]) if found[2] else before + 1
        return cls(before=before, after=after, is_undo=bool(found[3])) if after >= before else None

    def __str__(self) -> str:
        if self.is_undo:
            return f"{self.before}-{self.after}-undo"
        return f"{self.before}" if self.after == self.before + 1 else f"{self.before}-{self.after}"
