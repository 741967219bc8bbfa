"""Cut lists of a build: its pieces and leftovers go in, and what is left lies on the shelf."""

from dataclasses import replace

from tests.plumbing.heron import heron
from tests.plumbing.small import DAY, build, circuit, component, hose, lying, port, run, tube
from webapp.plumbing.cutting.best_cut import cut_list
from webapp.plumbing.cutting.cut_list import Stock
from webapp.plumbing.cutting.faults import cut_faults
from webapp.plumbing.cutting.of_plumbing import cut_job_of, left_for_the_shelf, shelf_after
from webapp.plumbing.plumbed import plumbed
from webapp.plumbing.run_work import cut_run

LIKE = lying("tube", size=38, length_mm=1, of="steel")
SHELF = (
    lying("tube", 2, size=38, length_mm=450, of="steel"),
    lying("tube", size=38.1, length_mm=300, of="steel"),
    lying("tube", size=51, length_mm=900, of="steel"),
    lying("hose", size=38, length_mm=700, of="rubber"),
)
DRAWN = run("r", "a.out", "b.in", tube(38, 400), hose(38, 90), tube(38, 700), hose(38, 90))
SHOP = build(
    (component("a", port("out", "out")), component("b", port("in", "in"))),
    (circuit("a.out", "b.in"),),
    (DRAWN,),
    SHELF,
)


def test_the_pieces_of_a_group_and_the_lengths_of_its_name_make_a_job() -> None:
    group = next(one for one in plumbed(SHOP).cut if one.what == "tube 38 steel")
    of = cut_job_of(group, SHOP.plumbing, [Stock(name="1 m", length_mm=1000, price=9)])
    assert [(one.name, one.length_mm, one.count) for one in of.stock] == [
        ("leftover 300", 300, 1),
        ("leftover 450", 450, 2),
        ("1 m", 1000, None),
    ]
    assert [(one.name, one.length_mm) for one in of.pieces] == [
        ("r, piece 3", 700),
        ("r, piece 1", 400),
    ]
    assert of.kerf_mm == 3


def test_what_is_left_lies_on_the_shelf_and_what_was_cut_from_does_not() -> None:
    """400 off a 450: 47 with the cut; 700 off the metre: 297."""
    group = next(one for one in plumbed(SHOP).cut if one.what == "tube 38 steel")
    of = cut_job_of(group, SHOP.plumbing, [Stock(name="1 m", length_mm=1000, price=9)])
    answer = cut_list(of, seconds=5)
    assert answer is not None
    assert answer.price == 9
    assert [one.length_mm for one in left_for_the_shelf(answer, LIKE)] == [297, 47]
    assert [one.length_mm for one in left_for_the_shelf(answer, LIKE, least_mm=50)] == [297]
    after = shelf_after(SHELF, answer, LIKE)
    assert [(one.size, one.length_mm, one.count) for one in after] == [
        (38, 450, 1),
        (38.1, 300, 1),
        (51, 900, 1),
        (38, 700, 1),
        (38, 700, 1),
        (38, 400, 1),
        (38, 297, 1),
        (38, 47, 1),
    ]
    # and now the run lacks no tube, and cutting it takes what was cut for it, to the millimetre
    cut = replace(SHOP, plumbing=replace(SHOP.plumbing, shelf=after))
    assert "tube 38 steel" not in [line.need.what for line in plumbed(cut).buy]
    left = cut_run(cut, "r", on=DAY).plumbing.shelf
    assert [one.length_mm for one in left if one.piece == "tube" and one.size == 38] == [
        *(450, 297, 47),
    ]


def test_every_group_of_the_demo_can_be_cut_from_six_metres() -> None:
    demo = heron()
    groups = plumbed(demo).cut
    assert groups
    for group in groups:
        of = cut_job_of(group, demo.plumbing, [Stock(name="6 m", length_mm=6000, price=40)])
        assert not cut_faults(of)
        answer = cut_list(of, seconds=5)
        assert answer is not None
        assert answer.proved_best
