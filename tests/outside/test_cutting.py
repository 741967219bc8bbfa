"""Cut lists against published optima, and against every way of cutting there is.

The instances are open research data that are not part of this tree (Falkenauer 1996, from the
OR-Library; Scholl, Klein and Juergens 1997; Waescher and Gau 1996: CC0; random ones with the file
of proven optima: MIT, (c) 2021 Rafael Martinelli): the tests look for them in `cutting/` beside the
tree or where CUTTING_FOLDER says, and are skipped by name without them.
"""

import json
import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from tests.plumbing.cutting.cut_jobs import best_of_all, check, small_jobs
from webapp.plumbing.cutting.best_cut import cut_list
from webapp.plumbing.cutting.cut_list import CutJob, Stock, WantedPiece

TREE = Path(__file__).resolve().parents[2]
FOLDER = Path(os.environ.get("CUTTING_FOLDER", TREE.parent / "shared" / "cutting"))
INDEX = FOLDER / "index.json"
SECONDS = 10
FEW_SECONDS = 2
"""Most are proved in less. Where the price is best, no more goes into the search for a proof."""


def fewest_bars(length: int, pieces: list[tuple[int, int]]) -> CutJob:
    """Each bar for 1: the least price is the number of bars."""
    return CutJob(
        stock=(Stock(name="bar", length_mm=length, price=1),),
        pieces=tuple(
            WantedPiece(name=f"{one}", length_mm=one, count=count) for one, count in pieces
        ),
    )


PUBLISHED_5600 = (
    *((1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20)),
    *((2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20)),
)
"""The example of a paper machine of 5600 mm in the article on the cutting stock problem (read,
recomputed): 73 rolls."""


def test_the_published_example_of_5600_mm_takes_73_bars() -> None:
    of = fewest_bars(5600, [*PUBLISHED_5600])
    answer = cut_list(of, seconds=SECONDS)
    assert answer is not None
    check(of, answer)
    assert (answer.price, answer.bound_price, answer.proved_best) == (73, 73, True)


def instances() -> list[tuple[str, int | None]]:
    """File and proven optimum; None where none is published."""
    if not INDEX.exists():
        return []
    return [(one["file"], one.get("optimum")) for one in json.loads(INDEX.read_text("utf-8"))]


@pytest.mark.slow
@pytest.mark.skipif(not INDEX.exists(), reason=f"no cutting instances in {FOLDER}")
@pytest.mark.parametrize(("file", "optimum"), instances())
def test_instances_with_a_proven_optimum(file: str, optimum: int | None) -> None:
    lines = (FOLDER / file).read_text("utf-8").split("\n")
    pieces = [(int(a), int(b)) for a, b in (line.split() for line in lines[2:] if line.strip())]
    of = fewest_bars(int(lines[1]), pieces)
    answer = cut_list(of, seconds=FEW_SECONDS)
    if answer is not None and not answer.proved_best and answer.price != optimum:
        answer = cut_list(of, seconds=10 * SECONDS)  # on a machine that is busy with other work
    assert answer is not None
    check(of, answer)
    if optimum is None:
        assert answer.proved_best
        return
    assert answer.bound_price <= optimum == answer.price


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(small_jobs())
def test_up_to_seven_pieces_as_the_best_of_every_way_of_cutting(of: CutJob) -> None:
    """Every partition on every choice of bars, cut by cut with the kerf as at the saw."""
    answer = cut_list(of, seconds=10 * SECONDS)  # none of them takes a tenth of a second
    assert answer is not None
    check(of, answer)
    best = best_of_all(of)
    assert best is not None
    price, bars, left = best
    assert answer.proved_best
    assert (round(answer.price, 6), len(answer.bars)) == (price, bars)
    assert answer.longest_left_mm == pytest.approx(-left)
