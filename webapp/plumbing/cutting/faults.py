"""Every fault of a cut list at once: what no bar can be, and pieces that come off none."""

import re
from collections.abc import Iterator

from webapp.build.build_input import Fault
from webapp.build.checks.fault_words import Thing, number_words
from webapp.build.limits import (
    LEAST_LENGTH_MM,
    MOST_CUT_LENGTH_MM,
    MOST_CUT_PIECES,
    MOST_KERF_MM,
    MOST_ON_THE_SHELF,
    MOST_STOCK_LINES,
    MOST_STOCK_PRICE,
)
from webapp.plumbing.cutting.bounds import total_load, total_room
from webapp.plumbing.cutting.cut_list import MICRONS_IN_A_MM, CutJob, Stock, WantedPiece, microns
from webapp.plumbing.cutting.grid import Grid

CUT_LIST, STOCK, PIECE = "cut list", "stock", "piece"
THE_LIST = Thing(kind=CUT_LIST, key="")


def stock_thing(name: str, number: int) -> Thing:
    """What faults call a stock: by its name, else by its place from 1."""
    return Thing(kind=STOCK, key="", name=name, number=number)


def piece_thing(name: str, number: int) -> Thing:
    """What faults call a piece to cut."""
    return Thing(kind=PIECE, key="", name=name, number=number)


def cut_faults(job: CutJob) -> tuple[Fault, ...]:
    """What keeps a cut list from being worked out; none: it can be."""
    faults = [*_whole_faults(job)]
    for number, stock in enumerate(job.stock, start=1):
        faults += _stock_faults(stock_thing(stock.name, number), stock)
    for number, piece in enumerate(job.pieces, start=1):
        faults += _piece_faults(piece_thing(piece.name, number), piece)
    if not faults:
        faults += _too_long(job)
    if not faults:
        faults += _too_little(job)
    return tuple(faults)


def not_enough_fault() -> Fault:
    """Where no way was found to cut every piece from bars that are counted."""
    return THE_LIST.fault(
        "stock",
        "no way was found to cut every piece from the stock that there is. "
        "Add stock, or leave the count of one out.",
    )


def _whole_faults(job: CutJob) -> Iterator[Fault]:
    yield from THE_LIST.number_faults("kerf_mm", "the kerf in mm", job.kerf_mm, most=MOST_KERF_MM)
    pieces = sum(max(piece.count, 0) for piece in job.pieces)
    if pieces > MOST_CUT_PIECES:
        yield THE_LIST.fault(
            "pieces",
            f"it has {pieces:,} pieces, and {MOST_CUT_PIECES:,} is the most. Make it in two lists.",
        )
    if len(job.stock) > MOST_STOCK_LINES:
        yield THE_LIST.fault(
            "stock",
            f"it has {len(job.stock):,} kinds of stock, and {MOST_STOCK_LINES:,} is the most. "
            "Leave some out.",
        )
    if job.pieces and not any(stock.count != 0 for stock in job.stock):
        yield THE_LIST.fault("stock", "there is no stock. Enter what the pieces come off.")


def _stock_faults(thing: Thing, stock: Stock) -> Iterator[Fault]:
    yield from thing.text_faults("name", stock.name, required=True)
    yield from _length_faults(thing, stock.length_mm)
    yield from thing.number_faults("price", "its price", stock.price, most=MOST_STOCK_PRICE)
    yield from thing.number_faults("count", "how many", stock.count, most=MOST_ON_THE_SHELF)


def _piece_faults(thing: Thing, piece: WantedPiece) -> Iterator[Fault]:
    yield from thing.text_faults("name", piece.name, required=True)
    yield from _length_faults(thing, piece.length_mm)
    yield from thing.number_faults("count", "how many", piece.count, least=1, most=MOST_CUT_PIECES)


def _length_faults(thing: Thing, length_mm: float) -> Iterator[Fault]:
    yield from thing.number_faults(
        "length_mm",
        "its length in mm",
        length_mm,
        least=LEAST_LENGTH_MM,
        most=MOST_CUT_LENGTH_MM,
    )


_LENGTH_LAST = re.compile(r"\d ?(mm|cm|m|in|ft)$")
"""The end of a name that says how long the stock is: "2 m", "leftover 600 mm"."""


def _too_long(job: CutJob) -> Iterator[Fault]:
    """Pieces that no bar is long enough for."""
    stocks = [stock for stock in job.stock if stock.count != 0]
    longest = max(stocks, key=lambda stock: stock.length_mm, default=None)
    if longest is None:
        return
    squared = microns(job.kerf_mm) if job.square_end else 0
    most = microns(longest.length_mm) - squared
    less = f" less {number_words(job.kerf_mm)} to square its end" if squared else ""
    called = longest.name
    if not _LENGTH_LAST.search(called):
        called += f" of {number_words(longest.length_mm)} mm"
    for number, piece in enumerate(job.pieces, start=1):
        if microns(piece.length_mm) > most:
            yield piece_thing(piece.name, number).fault(
                "length_mm",
                f"{number_words(piece.length_mm)} mm is longer than every stock: the longest is "
                f"{called}{less}. "
                "Make it in two with a coupler, or add a longer stock.",
            )


def _too_little(job: CutJob) -> Iterator[Fault]:
    """More to cut than all bars are long that there are."""
    grid = Grid(job)
    if not grid.count or total_load(grid) <= total_room(grid):
        return
    lengths = (one.length_mm * one.count for one in job.stock if one.count is not None)
    there_mm = sum(lengths)
    wanted_mm = total_load(grid) * grid.unit / MICRONS_IN_A_MM
    if wanted_mm <= there_mm:
        yield not_enough_fault()
        return
    yield THE_LIST.fault(
        "stock",
        f"the pieces take {number_words(round(wanted_mm, 3))} mm with the cuts, and all the stock "
        f"is {number_words(round(there_mm, 3))} mm. Add stock, or leave the count of one out.",
    )
