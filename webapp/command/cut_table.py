"""A cut list for a person at a terminal: bar by bar, then what it costs and how sure that is."""

from collections import Counter
from collections.abc import Iterator

from webapp.build.checks.fault_words import number_words, shown
from webapp.pages.words import cut_lists as said
from webapp.plumbing.cutting.cut_list import CutBar, CutJob, CutList

NOTHING = "There is nothing to cut."


def cut_table(job: CutJob, answer: CutList) -> str:
    """What comes off which bar, what is left of it, the price and the distance from the best."""
    if not answer.bars:
        return NOTHING
    return "\n".join([*_sums(answer), "", *_rows(job, answer)])


def _sums(answer: CutList) -> Iterator[str]:
    yield said.sums_said(answer)
    yield said.verdict_said(answer)
    yield said.longest_said(answer)


def _rows(job: CutJob, answer: CutList) -> Iterator[str]:
    alike = Counter(map(_row_key, answer.bars))
    width = max(len(shown(bar.stock.name)) for bar in answer.bars)
    told = set()
    for bar in answer.bars:
        key = _row_key(bar)
        if key in told:
            continue
        told.add(key)
        pieces = "  ".join(
            f"{shown(piece.name)} {number_words(piece.length_mm)}" for piece in bar.pieces
        )
        yield (
            f"{alike[key]:3} x {shown(bar.stock.name):{width}}  "
            f"{number_words(bar.left_mm):>9} mm left{_tight(job, bar)}  {pieces}"
        )


def _row_key(bar: CutBar) -> tuple[object, ...]:
    return bar.stock, bar.pieces


def _tight(job: CutJob, bar: CutBar) -> str:
    """Marks a bar that one slip of the saw would cost."""
    return " (tight)" if said.is_tight(job, bar) else ""
