"""Stretches of time as pairs of whole numbers: from one minute, or second, to another."""

from collections.abc import Iterable

Stretch = tuple[int, int]


def joined(stretches: Iterable[Stretch]) -> list[Stretch]:
    """Stretches in order, those that touch joined; one that ends before it begins is none."""
    found: list[Stretch] = []
    for begins, ends in sorted(stretches):
        if begins >= ends:
            continue
        if found and begins <= found[-1][1]:
            found[-1] = found[-1][0], max(found[-1][1], ends)
        else:
            found.append((begins, ends))
    return found
