"""Sentences about the buy list as parts: what they bring, what would be made, what differs."""

from collections.abc import Iterable

from webapp.build.plumbing import Ordered
from webapp.pages.words import amounts as words
from webapp.pages.words import sizes
from webapp.plumbing.needs import MM_IN_A_METRE, Need
from webapp.plumbing.parts_to_buy import USUAL_LEAD_DAYS, OverOrdered

TO_ORDER, ON_ORDER = "to order", "ordered"
LEAD_HINT = "Each part can be given its own days on its page."
NOT_ON_SHELF = "It is here, and what it brings was not put on the shelf yet"
WRONG_DAYS = "Days until they come"
UPDATES = "What is drawn has changed since the parts were made, and they are not ordered yet."
NOTHING_MORE = "brings nothing any more, and goes where it has no supplier and no cost"
ALL_IN_PARTS = "All of it stands in Parts."


def need_of(line: Ordered) -> Need:
    """What a part brings, as so much of a thing."""
    length_mm = (line.metres or 0.0) * MM_IN_A_METRE
    return Need(what=line.what, count=line.count or 0, length_mm=length_mm)


def brings_said(lines: Iterable[Ordered]) -> str:
    """ "brings 0.7 m of hose 8 coolant and 4 clamps 60-80"; "" for nothing."""
    told = [
        f"{sizes.litres(line.litres)} of {line.what}"
        if line.litres is not None
        else sizes.so_many(need_of(line))
        for line in lines
    ]
    return f"brings {words.listed(told)}" if told else ""


def amount_in_part(line: Ordered, *, is_ordered: bool) -> str:
    """How much of a thing a part brings: "700 mm, to order"."""
    how_much = sizes.amount(need_of(line)) if line.litres is None else sizes.litres(line.litres)
    return f"{how_much}, {ON_ORDER if is_ordered else TO_ORDER}"


def lead_said(usual: float | None) -> str:
    """Where the days until they come are from."""
    if usual is None:
        return f"{words.days(USUAL_LEAD_DAYS)} is assumed. {LEAD_HINT}"
    return f"{words.days(usual)} is the middle one of your parts. {LEAD_HINT}"


def over_said(one: OverOrdered) -> str:
    """That more of a thing is ordered than is wanted by now."""
    name = sizes.called(one.what)
    if one.is_length:
        ordered, wanted = sizes.length(one.ordered), sizes.length(one.wanted)
    else:
        ordered, wanted = f"{one.ordered:g}", f"{one.wanted:g}"
    return f"{name}: ordered already {ordered}, wanted now {wanted}. The rest goes on the shelf."


def made_said(count: int) -> str:
    """What one press would make of the buy list."""
    each = "a part" if count == 1 else f"{count} parts, one a circuit"
    step = (
        "a tenth of a metre" if sizes.is_metric() else f"{sizes.length(MM_IN_A_METRE / 10)} steps"
    )
    return f"One press makes {each}. Lengths are rounded up to {step}."
