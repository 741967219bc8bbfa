"""Names that a misspelt one may have meant."""

import difflib
from collections.abc import Sequence
from itertools import takewhile

LONGEST = 100
CLOSE_BY = 0.85
"""Share of letters in common; 0.80 has "location" and "caution", 0.77 "person" and "version"."""


def close_names(typed: str, names: Sequence[str]) -> list[str]:
    """Those one slip away; else the one most alike, if close; else those of the same words."""
    typed = typed[:LONGEST].casefold()
    return (
        [name for name in names if _is_one_slip(typed, name)]
        or difflib.get_close_matches(typed, names, n=1, cutoff=CLOSE_BY)
        or [name for name in names if len(typed) > 2 and _is_in_words(typed, name)]
    )


def _is_one_slip(typed: str, name: str) -> bool:
    """One letter left out, added or changed, or two side by side swapped."""
    head = _in_common(typed, name)
    typed, name = typed[head:][::-1], name[head:][::-1]
    tail = _in_common(typed, name)
    typed, name = typed[tail:], name[tail:]
    return max(len(typed), len(name)) < 2 or (len(typed) == 2 and typed == name[::-1])


def _in_common(one: str, other: str) -> int:
    """How many letters they begin with alike."""
    return sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False)))


def _is_in_words(typed: str, name: str) -> bool:
    """The one begins the other, or is made of words of it: lead, and days, of lead_days."""
    words, others = set(typed.split("_")), set(name.split("_"))
    return name.startswith(typed) or words <= others or others <= words
