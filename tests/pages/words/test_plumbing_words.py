"""What of the plumbing goes with tasks and parts, and what became of it, in words."""

from dataclasses import replace

from tests.pages.conftest import Shop
from tests.plumbing.heron import heron
from webapp.build.plumbing import End, Ordered, Piece, Port, ShelfThing, Stop, Volume, Waiver
from webapp.pages.words.plumbed_fields import (
    brought_words,
    lying_words,
    pieces_told,
    ports_told,
    volumes_told,
    waived_told,
)
from webapp.pages.words.plumbing_gone import gone_with_part, gone_with_task


def test_what_goes_with_a_task_or_a_part_is_told_by_name() -> None:
    assert gone_with_task(heron(), "turbo_oil") == (
        "It makes or fits 2 runs: “Turbo oil feed” and “Turbo oil drain”. They do without it then."
    )
    assert gone_with_task(heron(), "oil_fill") == (
        "It waits for 1 circuit: “Turbo oil”. They do without it then."
    )
    assert gone_with_part(heron(), "drain_gasket") == (
        "What it brings for the plumbing goes with it: “gasket 2-bolt 18” and “washer M12x1.5”."
    )
    assert gone_with_task(heron(), "strip_engine_bay") == ""


def test_a_task_that_goes_takes_itself_out_of_its_runs_and_undo_brings_it_back(shop: Shop) -> None:
    before = shop.stored()
    status, _ = shop.removed("remove-task?key=turbo_oil", keep_order="on")
    assert status == 200
    after = shop.stored()
    assert all("turbo_oil" not in run.tasks for run in after.plumbing.runs)
    assert replace(after.plumbing, runs=()) == replace(before.plumbing, runs=())
    assert "Turbo oil feed" in shop.page("journal")


def test_what_became_of_the_plumbing_is_told_thing_by_thing() -> None:
    hose = Piece(piece="hose", size=38.0, length_mm=640.0)
    assert pieces_told((hose,), (replace(hose, length_mm=600.0),)) == (
        "piece 1 from “hose 38, 640 mm” to “hose 38, 600 mm”"
    )
    assert pieces_told((), (hose,)) == "“hose 38, 640 mm” added"
    assert pieces_told((hose,), ()) == "“hose 38, 640 mm” taken out"
    top = Port(name="top", end="bead", flow="in")
    measured = replace(top, size=38.0, stop=Stop(kind="cap"))
    assert ports_told((top,), (measured,)) == (
        "end of “top” from bead, not measured to bead 38; what shuts “top” from nothing to cap"
    )
    assert ports_told((), (top,)) == "port “top” added"
    assert volumes_told((), (Volume(circuit="c", litres=5.2),)) == (
        "what it holds of c from not known to 5.2 l"
    )
    assert waived_told((Waiver(why="no vent", reason="flat"),), ()) == (
        "may not go with no vent any more"
    )
    assert lying_words(ShelfThing(piece="clamp", range_mm=(40.0, 60.0), count=6)) == (
        "6 of clamp 40-60"
    )
    cap = ShelfThing(piece="cap", ends=(End(kind="bead", size=38.0),))
    assert lying_words(cap) == "cap 38"
    assert brought_words(Ordered(part="p", what="hose 38", metres=2.0)) == "2 m of hose 38"
