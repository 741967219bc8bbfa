"""Sentences about cut lists: how good one is, what is left, how it was worked out."""

from collections import Counter

from webapp.pages.words import amounts as words
from webapp.pages.words import sizes
from webapp.pages.words.how import TIMES, How
from webapp.plumbing.cutting.cut_list import CutBar, CutJob, CutList
from webapp.plumbing.cutting.of_plumbing import is_leftover
from webapp.plumbing.run_work import LEAST_LEFTOVER_MM

TIGHT_KERFS = 3
"""With less than so many kerfs left one slip costs the bar: common practice, no source."""
OUTGROWN = (
    "What is to be cut, or what lies on the shelf, has changed since this was worked out, or it"
    " lies there already. Work it out again."
)
NOT_FOUND = (
    "No way was found to cut every piece from the stock that there is. Add stock, or leave the"
    " count of one out."
)
FAILED = "The search broke off: the program made a mistake. The log of the program says more."
SHELF_ALONE = "What lies on the shelf is enough: nothing is to be bought."
FIRST = "This is the first answer; a better one is being looked for."
NOT_THERE = "What was worked out is not at hand any more: work it out again."


def sums_said(answer: CutList) -> str:
    """ "2 bars, price 82.00." """
    bars = len(answer.bars)
    return f"{bars:,} bar{'' if bars == 1 else 's'}, price {answer.price:,.2f}."


def verdict_said(answer: CutList) -> str:
    """How near the best possible it is; never more than was proved."""
    if answer.proved_best:
        return "The cheapest possible, and none as cheap takes fewer bars."
    if answer.bound_price < answer.price:
        more = answer.price - answer.bound_price
        return f"At most {more:,.2f} dearer than the cheapest possible."
    return "The cheapest possible; it was not proved that none as cheap takes fewer bars."


def longest_said(answer: CutList) -> str:
    """The longest single leftover."""
    return f"Longest leftover: {sizes.length(answer.longest_left_mm)}."


def is_tight(job: CutJob, bar: CutBar) -> bool:
    """Whether one slip of the saw would cost the bar."""
    return bool(job.kerf_mm) and bar.left_mm < TIGHT_KERFS * job.kerf_mm


def left_said(job: CutJob, bar: CutBar) -> str:
    """What is left of a bar: "118 mm left"."""
    tight = ", tight: one slip costs the bar" if is_tight(job, bar) else ""
    return f"{sizes.length(bar.left_mm) if bar.left_mm else 'nothing'} left{tight}"


def cut_how(name: str, job: CutJob, answer: CutList | None) -> How:
    """How this cut list comes about: what is to be cut from what, its first bar, its price."""
    texts = [
        "The least price first, of those the fewest bars, then the longest single leftover. What"
        f" lies on the shelf costs nothing. The saw takes {sizes.length(job.kerf_mm)} between two"
        " pieces" + (" and once more to square the end of each bar." if job.square_end else ".")
    ]
    texts.append(_asked(name, job))
    if answer is not None and answer.bars:
        texts.append(_example(job, answer.bars[0]))
        texts += _priced(answer)
    texts.append(f"Ends below {sizes.length(LEAST_LEFTOVER_MM)} are thrown away.")
    return How(figures=("cut",), of="a cut list", sentences=tuple(texts))


def _asked(name: str, job: CutJob) -> str:
    """What this list is about: its pieces, and what they may be cut from."""
    pieces = sum(one.count for one in job.pieces)
    whole = sizes.length(sum(one.length_mm * one.count for one in job.pieces))
    there = sum(one.count or 0 for one in job.stock if is_leftover(one))
    sold = [
        f"{sizes.length(one.length_mm)} at {one.price:,.2f}"
        for one in job.stock
        if not is_leftover(one)
    ]
    lengths = words.count(there, "length") if there else "no length"
    from_shop = f" and from what is sold: {words.listed(sold)}" if sold else ""
    return (
        f"This list: {words.count(pieces, 'piece')} of {name}, {whole} together, from {lengths} on"
        f" the shelf{from_shop}."
    )


def _priced(answer: CutList) -> list[str]:
    """How its price is made, where anything is to be bought."""
    bought = Counter(bar.stock for bar in answer.bars if bar.stock.price)
    if not bought:
        return []
    sums = " + ".join(f"{many} {TIMES} {one.price:,.2f}" for one, many in bought.items())
    return [f"Its price: {sums} = {answer.price:,.2f}."]


def _example(job: CutJob, bar: CutBar) -> str:
    pieces = " + ".join(sizes.bare(piece.length_mm) for piece in bar.pieces)
    cuts = len(bar.pieces) + job.square_end
    saw = sizes.bare(job.kerf_mm)
    less = f" - {f'{cuts} cuts' if cuts > 1 else 'a cut'} of {saw}" if job.kerf_mm else ""
    return (
        f"The first bar: {sizes.bare(bar.stock.length_mm)} - ({pieces}){less} leaves"
        f" {sizes.bare(bar.left_mm)} {sizes.unit('length')}; nothing where the saw takes the rest."
    )


def groups_how() -> How:
    """How the list of kinds comes about."""
    return How(
        figures=("cut",),
        of="what is to be cut",
        sentences=(
            "Every length of a run that is drawn and not cut yet, by the name of its hose or tube;"
            " beside it the lengths of that name on the shelf.",
        ),
    )
