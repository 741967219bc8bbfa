"""What became of what is stacked in a room, in words."""

from collections.abc import Iterator, Sequence

from webapp.build.room import InRoom
from webapp.pages.words import amounts as words
from webapp.pages.words import sizes
from webapp.pages.words.quoted import shown
from webapp.pages.words.steps import told_in_short


def held_words(one: InRoom) -> str:
    """So much give or take some: "32 mm ± 1", "1.25 in ± 0.04 in"."""
    if sizes.is_metric():
        either_way = f" ± {words.number(one.plus_minus_mm)}" if one.plus_minus_mm else ""
        return f"{words.number(one.mm)} mm{either_way}"
    either_way = f" ± {sizes.length_told(one.plus_minus_mm)}" if one.plus_minus_mm else ""
    return f"{sizes.length_told(one.mm)}{either_way}"


def held_told(was: Sequence[InRoom], now: Sequence[InRoom]) -> str:
    """What became of pieces and gaps: "“radiator” from 32 mm to 40 mm"."""
    return told_in_short(_held_told(was, now), "pieces and gaps")


def _held_told(was: Sequence[InRoom], now: Sequence[InRoom]) -> Iterator[str]:
    before, after = ({one.name: one for one in each} for each in (was, now))
    for name, one in after.items():
        there = before.get(name)
        if there is None:
            yield f"{one.kind} “{shown(name)}” of {held_words(one)} added"
        elif there != one:
            kind = "" if there.kind == one.kind else f", now a {one.kind}"
            yield f"“{shown(name)}” from {held_words(there)} to {held_words(one)}{kind}"
    yield from (f"“{shown(name)}” taken out" for name in before if name not in after)
