"""Which setups are out: those last in use, as many at once as there are people.

What is out stays where it is, and whoever is free works with it. Where another is got out and as
many are out already as there are people, the one that has lain unused longest is put away.
"""

from collections.abc import Collection, Iterable

SetupKeys = tuple[str, ...]
"""Keys of setups, the one last used last."""


def out_after(out: SetupKeys, used: Iterable[str], people: int) -> SetupKeys:
    """The setups that are out once some were used, one after the other."""
    for setup in used:
        out = (*(other for other in out if other != setup), setup)
    return out[-people:]


def out_with(out: SetupKeys, setup: str, people: int, *, in_use: Collection[str]) -> SetupKeys:
    """The setups that are out once one more is; what is `in_use` is not put away if another can."""
    resting = tuple(other for other in out if other not in in_use)
    return out_after((*resting, *(other for other in out if other in in_use)), (setup,), people)
