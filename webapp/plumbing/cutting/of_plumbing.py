"""Cut lists of a build: what its drawn runs need cut, from what lies there and what is sold.

And what lies there once it was cut: the pieces, each for its run, and what is left of the bars.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from webapp.build.plumbing import Plumbing, ShelfThing
from webapp.plumbing.buy_list import CutGroup
from webapp.plumbing.cutting.cut_list import CutJob, CutList, Stock, WantedPiece
from webapp.plumbing.names import is_by_length, piece_name
from webapp.plumbing.run_work import LEAST_LEFTOVER_MM
from webapp.plumbing.sizes import mm_words

LEFTOVER = "leftover"


def cut_job_of(
    group: CutGroup, plumbing: Plumbing, sold: Sequence[Stock], *, square_end: bool = False
) -> CutJob:
    """The job of one group of `plumbed(build).cut`: lengths on the shelf cost nothing and are
    counted, `sold` is what can be bought of it."""
    return CutJob(
        stock=(*leftovers_of(plumbing, group.what), *sold),
        pieces=tuple(
            WantedPiece(name=f"{piece.run}, piece {piece.number}", length_mm=piece.length_mm)
            for piece in group.pieces
        ),
        kerf_mm=group.kerf_mm,
        square_end=square_end,
    )


def leftovers_of(plumbing: Plumbing, what: str) -> tuple[Stock, ...]:
    """The lengths of one name that lie on the shelf, the shortest first."""
    there: Counter[float] = Counter()
    for thing in plumbing.shelf:
        if is_by_length(thing) and piece_name(thing) == what:
            there[thing.length_mm or 0.0] += thing.count
    return tuple(
        Stock(name=f"{LEFTOVER} {mm_words(length)}", length_mm=length, count=there[length])
        for length in sorted(there)
        if there[length] and length > 0
    )


def is_leftover(stock: Stock) -> bool:
    """Whether a stock of a job lies on the shelf, and is not sold."""
    return stock.name.startswith(f"{LEFTOVER} ")


def left_for_the_shelf(
    answer: CutList, like: ShelfThing, *, least_mm: float = LEAST_LEFTOVER_MM
) -> tuple[ShelfThing, ...]:
    """What an accepted cut list leaves, as things on the shelf, the longest first.

    `like` says what they are (kind, size, what of); ends shorter than `least_mm` are thrown away.
    """
    left = Counter(bar.left_mm for bar in answer.bars if bar.left_mm >= least_mm)
    return tuple(
        replace(like, length_mm=length, count=left[length]) for length in sorted(left, reverse=True)
    )


def shelf_after(
    shelf: Iterable[ShelfThing], answer: CutList, like: ShelfThing
) -> tuple[ShelfThing, ...]:
    """The shelf once a cut list was cut: leftovers that were cut from are gone; the pieces lie
    there as lengths until their runs are cut, which takes them, and so does what is left of the
    bars."""
    what = piece_name(like)
    gone = Counter(bar.stock.length_mm for bar in answer.bars if is_leftover(bar.stock))
    after = []
    for thing in shelf:
        taken = 0
        if is_by_length(thing) and piece_name(thing) == what and thing.length_mm is not None:
            taken = min(gone[thing.length_mm], thing.count)
            gone[thing.length_mm] -= taken
        if taken < thing.count:
            after.append(replace(thing, count=thing.count - taken))
    cut = Counter(piece.length_mm for bar in answer.bars for piece in bar.pieces)
    pieces = (
        replace(like, length_mm=length, count=cut[length]) for length in sorted(cut, reverse=True)
    )
    return (*after, *pieces, *left_for_the_shelf(answer, like))
