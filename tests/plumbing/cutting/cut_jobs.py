"""Cut lists to try: by hand, at random, and a search through every way of cutting."""

from collections import Counter
from collections.abc import Iterator, Sequence

from hypothesis import strategies as st

from webapp.plumbing.cutting.cut_list import CutBar, CutJob, CutList, Stock, WantedPiece


def stock(length_mm: float, price: float = 0.0, count: int | None = None) -> Stock:
    return Stock(name=f"{length_mm:g} at {price:g}", length_mm=length_mm, price=price, count=count)


def job(
    stocks: Sequence[Stock], lengths: Sequence[float], kerf_mm: float = 0.0, *, square: bool = False
) -> CutJob:
    pieces = tuple(WantedPiece(name=f"p{n}", length_mm=one) for n, one in enumerate(lengths))
    return CutJob(stock=tuple(stocks), pieces=pieces, kerf_mm=kerf_mm, square_end=square)


def sawn_mm(lengths: Sequence[float], kerf_mm: float, *, square: bool) -> float:
    """What the pieces take of a bar, cut by cut as at the saw: a cut at its end where it is
    squared, one between two pieces; the last piece may end with the bar."""
    used = kerf_mm if square else 0.0
    for number, length in enumerate(lengths):
        used += length + (kerf_mm if number else 0.0)
    return used


def left_mm(bar_mm: float, lengths: Sequence[float], kerf_mm: float, *, square: bool) -> float:
    """What lies there once the last piece is cut off too."""
    return max(bar_mm - sawn_mm(lengths, kerf_mm, square=square) - kerf_mm, 0.0)


def check(of: CutJob, answer: CutList) -> None:
    """Every piece is cut once, no bar is overfull, no stock is used more often than there is."""
    wanted = Counter({piece.name: 0 for piece in of.pieces})
    for piece in of.pieces:
        wanted[piece.name] += piece.count
    assert Counter(piece.name for bar in answer.bars for piece in bar.pieces) == wanted
    lengths_of = {piece.name: piece.length_mm for piece in of.pieces}
    for bar in answer.bars:
        lengths = [lengths_of[piece.name] for piece in bar.pieces]
        assert [piece.length_mm for piece in bar.pieces] == lengths
        assert lengths == sorted(lengths, reverse=True)
        assert sawn_mm(lengths, of.kerf_mm, square=of.square_end) <= bar.stock.length_mm + 1e-6
        left = left_mm(bar.stock.length_mm, lengths, of.kerf_mm, square=of.square_end)
        assert abs(bar.left_mm - left) < 1e-6
    for one, used in Counter(bar.stock for bar in answer.bars).items():
        assert one.count is None or used <= sum(
            other.count or 0 for other in of.stock if other == one
        )
    assert abs(sum(bar.stock.price for bar in answer.bars) - answer.price) < 1e-6
    assert answer.bound_price <= answer.price + 1e-9


def partitions(items: Sequence[int]) -> Iterator[list[list[int]]]:
    """Every way to part some things into heaps."""
    if not items:
        yield []
        return
    first, *rest = items
    for heaps in partitions(rest):
        yield [[first], *heaps]
        for number, heap in enumerate(heaps):
            yield [*heaps[:number], [first, *heap], *heaps[number + 1 :]]


def best_of_all(of: CutJob) -> tuple[float, int, float] | None:
    """Least price, then fewest bars, then longest leftover, of every way of cutting there is."""
    lengths = [piece.length_mm for piece in of.pieces for _ in range(piece.count)]
    stocks = [one for one in of.stock for _ in range(len(lengths) if one.count is None else 1)]
    best: tuple[float, int, float] | None = None
    for heaps in partitions(range(len(lengths))):
        cut = [sorted(lengths[i] for i in heap) for heap in heaps]
        for price, left in _laid(of, tuple(stocks), cut):
            rank = (round(price, 6), len(cut), -left)
            best = rank if best is None or rank < best else best
    return best


def _laid(
    of: CutJob, stocks: tuple[Stock, ...], heaps: list[list[float]]
) -> Iterator[tuple[float, float]]:
    """Price and longest leftover of each way to lay heaps on bars."""
    if not heaps:
        yield 0.0, 0.0
        return
    tried = set()
    for number, one in enumerate(stocks):
        if one in tried:
            continue
        tried.add(one)
        if sawn_mm(heaps[0], of.kerf_mm, square=of.square_end) > one.length_mm:
            continue
        left = left_mm(one.length_mm, heaps[0], of.kerf_mm, square=of.square_end)
        rest = stocks if one.count is None else stocks[:number] + stocks[number + 1 :]
        for price, longest in _laid(of, rest, heaps[1:]):
            yield price + one.price, max(left, longest)


@st.composite
def small_jobs(draw: st.DrawFn, most: int = 7) -> CutJob:
    """Up to seven pieces, a kerf, two stocks and perhaps a leftover."""
    kerf = draw(st.sampled_from([0, 0, 1, 2.5, 3, 5]))
    square = draw(st.booleans())
    lengths = draw(st.lists(st.integers(20, 480), min_size=1, max_size=most))
    long = draw(st.integers(490, 900))
    stocks = [stock(long, draw(st.sampled_from([10, 10.5, 12])))]
    if draw(st.booleans()):
        stocks.append(stock(draw(st.integers(901, 1500)), draw(st.sampled_from([15, 17.25, 19]))))
    for _ in range(draw(st.integers(0, 2))):
        stocks.append(stock(draw(st.integers(60, 480)), 0.0, 1))
    return job(stocks, lengths, kerf, square=square)


def used_by_first_fit(of: CutJob, only: Stock) -> list[CutBar]:
    """First fit, the longest first, on one stock alone: written piece by piece."""
    bars: list[list[WantedPiece]] = []
    pieces = sorted(
        (piece for piece in of.pieces for _ in range(piece.count)), key=lambda one: -one.length_mm
    )
    for piece in pieces:
        for bar in bars:
            lengths = [one.length_mm for one in (*bar, piece)]
            if sawn_mm(lengths, of.kerf_mm, square=of.square_end) <= only.length_mm:
                bar.append(piece)
                break
        else:
            bars.append([piece])
    return [CutBar(stock=only, pieces=(), left_mm=0.0) for _ in bars]
