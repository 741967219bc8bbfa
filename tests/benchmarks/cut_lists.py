"""Cut lists of a shop: tube, hose and wire from three stocks, half of them with leftovers."""

from random import Random
from statistics import median

from tests.benchmarks.timing import Table, best_of
from webapp.plumbing.cutting.best_cut import cut_list
from webapp.plumbing.cutting.cut_list import CutJob, CutList, Stock, WantedPiece

LISTS = 50
SECONDS = 10.0
STOCKS = {
    # lengths in mm with the range of a price, the pieces from and to, kerf
    "tube": (((1000, 9, 14), (3000, 24, 30), (6000, 41, 52)), (60, 990), 3),
    "hose": (((500, 6, 9), (1000, 11, 15), (2000, 20, 26)), (40, 480), 0),
    "wire": (((2000, 3, 5), (5000, 7, 10), (10000, 13, 18)), (200, 1900), 0),
}


def shop_list(pieces: int, seed: int) -> CutJob:
    """One list, the same for the same seed."""
    luck = Random(f"{pieces} {seed}")
    stocks, (shortest, longest), kerf = STOCKS[luck.choice([*STOCKS])]
    stock = [
        Stock(name=f"{length}", length_mm=length, price=round(luck.uniform(low, high), 1))
        for length, low, high in stocks
    ]
    if luck.random() < 0.5:
        shelf = (luck.randint(stocks[0][0] // 3, stocks[0][0]) for _ in range(2))
        stock += [Stock(name=f"leftover {one}", length_mm=one, count=1) for one in shelf]
    return CutJob(
        stock=tuple(stock),
        pieces=tuple(
            WantedPiece(name=f"p{n}", length_mm=luck.randint(shortest, longest))
            for n in range(pieces)
        ),
        kerf_mm=kerf,
    )


def cut_lists_of_a_shop(table: Table) -> None:
    """Share proved within ten seconds, and the median time, by the number of pieces."""
    cut_list(shop_list(10, -1), seconds=SECONDS)  # the solver is loaded
    for pieces in (10, 20, 30, 60):
        answers: list[CutList] = []
        for seed in range(LISTS):
            answer = cut_list(shop_list(pieces, seed), seconds=SECONDS)
            assert answer is not None
            answers.append(answer)
        times = [answer.seconds for answer in answers]
        proved = sum(answer.proved_best for answer in answers)
        what = f"cut list of {pieces} pieces, three stocks, at most {SECONDS:g} s"
        measured = f"{proved} of {LISTS} proved, median {median(times):.2f} s"
        table.row(what, measured, median(times), "98 %, 0.5 s" if pieces == 30 else "")


def thousand_pieces_to_cut(table: Table) -> None:
    """A thousand pieces within the ten seconds that are usual."""
    seconds = best_of(1, lambda: cut_list(shop_list(1000, 0), seconds=SECONDS))
    table.row("cut list of 1,000 pieces", f"{seconds:.1f} s", seconds, "10 s")
