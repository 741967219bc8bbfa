"""The buy list as parts: once, in step with what is drawn, and what was ordered left as it is."""

import datetime as dt
from dataclasses import replace
from typing import Any

from tests.plumbing.small import build, circuit, clamp, hose, lying, run, through, tube
from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.plumbing import Ordered, Piece
from webapp.build.three_point import ThreePoint
from webapp.plumbing.arrivals import brought_to_shelf
from webapp.plumbing.in_step import with_parts_following
from webapp.plumbing.lacking import Lacking
from webapp.plumbing.parts_to_buy import over_ordered, put_into_parts, wanted_parts
from webapp.plumbing.plumbed import plumbed

WORK = tuple(
    Task(key=key, name=key, hours=ThreePoint.certain(1.0)) for key in ("cut", "fit", "clamp")
)
TASKS = ("cut", "fit", "clamp")
METRE = Piece(piece="hose", size=38.0, length_mm=1040)


def shop(*pieces: Piece, shelf: tuple[Any, ...] = (), tasks: tuple[str, ...] = TASKS) -> BuildInput:
    """One run between two beads of 38."""
    return replace(
        build(
            (through("a"), through("b")),
            (circuit("a.out", "b.in"),),
            (run("r", "a.out", "b.in", *(pieces or (METRE,)), tasks=tasks),),
            shelf=shelf,
        ),
        tasks=WORK,
    )


def lines(of: BuildInput) -> list[tuple[str, str, float | None]]:
    return [(one.part, one.what, one.count or one.metres) for one in of.plumbing.ordered]


def in_parts(of: BuildInput) -> BuildInput:
    done = put_into_parts(of, lead_days=5)
    assert not done.faults
    return done.build


def longer(of: BuildInput, mm: float) -> BuildInput:
    """The run with one hose of another length."""
    piece = replace(METRE, length_mm=mm)
    runs = (replace(of.plumbing.runs[0], pieces=(piece,)),)
    return replace(of, plumbing=replace(of.plumbing, runs=runs))


def ordered(of: BuildInput) -> BuildInput:
    part = replace(of.parts[0], ordered_on=dt.date(2026, 2, 1))
    return replace(of, parts=replaced_by_key(of.parts, part))


def test_what_lacks_becomes_a_part_of_the_circuit_and_is_not_made_twice() -> None:
    made = in_parts(shop())
    part = get_by_key(made.parts, "buy-c")
    assert (part.name, part.lead_days) == ("Circuit: pieces, clamps and seals", 5)
    assert part.serves == TASKS
    # 1040 mm in steps of 100 is 1.1 m; a hose of 38 with walls of 5 over 38 is 48 outside
    assert lines(made) == [("buy-c", "clamp 40-60", 2), ("buy-c", "hose 38 rubber", 1.1)]
    assert [line.ordered for line in plumbed(made).buy] == [2, 1.04]
    again = put_into_parts(made, lead_days=9)
    assert (again.build, again.made) == (made, ())


def test_clamps_alone_hold_the_last_task_and_nothing_holds_one_that_is_finished() -> None:
    there = shop(shelf=(replace_length(2000),))
    assert [one.serves for one in wanted_parts(Lacking(there))] == [("clamp",)]
    done = replace(WORK[2], begun_on=there.now, finished_on=there.now)
    finished = replace(there, tasks=(*WORK[:2], done))
    assert [one.serves for one in wanted_parts(Lacking(finished))] == [("fit",)]


def replace_length(mm: float) -> Any:
    return lying("hose", size=38, length_mm=mm, of="rubber")


def test_tube_is_bought_with_its_cuts() -> None:
    pieces = (tube(38, 450), hose(38, 60), tube(38, 447))
    found = {one.what: one.metres for one in wanted_parts(Lacking(shop(*pieces)))[0].lines}
    # 450 + 3 + 447 + 3 = 903 mm: ten steps of 100, where the lengths alone would be nine
    assert found["tube 38 steel"] == 1.0
    made = in_parts(shop(*pieces))
    here = replace(made, parts=(replace(made.parts[0], arrived=True),))
    assert plumbed(brought_to_shelf(here, "buy-c").build).buy == ()


def test_a_part_that_is_not_ordered_follows_a_change() -> None:
    made = in_parts(shop())
    followed = with_parts_following(made, longer(made, 1320))
    assert lines(followed)[1] == ("buy-c", "hose 38 rubber", 1.4)
    assert put_into_parts(followed, lead_days=5).made == ()
    # the task that somebody took out of the part stays out of it
    out = replace(made, parts=(replace(made.parts[0], serves=("cut",)),))
    assert with_parts_following(out, longer(out, 900)).parts[0].serves == ("cut",)


def test_what_was_ordered_stays_and_the_rest_comes_with_another_part() -> None:
    made = ordered(in_parts(shop()))
    assert with_parts_following(made, longer(made, 1320)) == longer(made, 1320)
    more = in_parts(longer(made, 1320))
    # 1.32 m less the 1.1 m that are ordered: 220 mm, three steps
    assert lines(more)[2:] == [("buy-c-2", "hose 38 rubber", 0.3)]
    assert over_ordered(Lacking(longer(made, 1040))) == ()
    over = over_ordered(Lacking(longer(made, 400)))
    assert [(one.what, one.ordered, one.wanted) for one in over] == [("hose 38 rubber", 1100, 400)]


def test_a_part_goes_where_nothing_lacks_unless_somebody_wrote_into_it() -> None:
    made = in_parts(shop())
    shelf = (replace_length(1100), clamp(40, 60, 2))
    there = replace(made, plumbing=replace(made.plumbing, shelf=shelf))
    gone = with_parts_following(made, there)
    assert (gone.parts, gone.plumbing.ordered) == ((), ())
    bought = replace(there, parts=(replace(made.parts[0], supplier="Hose shop"),))
    kept = with_parts_following(made, bought)
    assert [part.key for part in kept.parts] == ["buy-c"]
    assert kept.plumbing.ordered == ()


def test_a_part_of_ones_own_counts_and_is_never_changed() -> None:
    own = Part(key="parcel", name="Parcel")
    line = Ordered(part="parcel", what="hose 38 rubber", metres=1.0)
    of = replace(shop(), parts=(own,))
    of = replace(of, plumbing=replace(of.plumbing, ordered=(line,)))
    made = in_parts(of)
    assert lines(made)[0] == ("parcel", "hose 38 rubber", 1.0)
    # 40 mm more than the parcel brings: one step
    assert ("buy-c", "hose 38 rubber", 0.1) in lines(made)


def test_what_came_and_is_not_on_the_shelf_yet_is_not_bought_again() -> None:
    made = in_parts(shop())
    here = replace(made, parts=(replace(made.parts[0], arrived=True),))
    assert put_into_parts(here, lead_days=5).made == ()
