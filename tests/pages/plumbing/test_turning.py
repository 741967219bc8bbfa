"""Runs, pieces and components turned round, a piece put in between, ways inside, ports removed."""

import html
import re

from tests.pages.conftest import Shop
from tests.pages.plumbing.test_drawing_runs import pieces
from tests.pages.plumbing.test_work import run_of, undo
from tests.pages.test_two_windows import opened, saved
from webapp.build.by_key import get_by_key
from webapp.build.plumbing import Component, Piece
from webapp.build.verbs.components import port_at
from webapp.pages.plumbing.piece_forms import digest_of
from webapp.plumbing.plumbed import plumbed


def component_of(shop: Shop, key: str) -> Component:
    return get_by_key(shop.stored().plumbing.components, key)


def flows(shop: Shop, key: str) -> dict[str, str]:
    return {port.name: port.flow for port in component_of(shop, key).ports}


def press(page: str, action: str) -> dict[str, str]:
    """The hidden fields of the first form that posts there."""
    form = page.partition(f'action="/builds/the-heron/{action}"')[2].partition("</form>")[0]
    fields = dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', form))
    fields.pop("once", None)
    return fields


# --- round ------------------------------------------------------------------------------------
def test_a_run_is_turned_round_once_and_turned_back_by_undo(shop: Shop) -> None:
    before = run_of(shop, "cold1")
    page = shop.page("runs/cold1")
    assert "Turn it round" in page
    fields = {"about": "cold1", "does": "turn", "seen": before.from_port, "run": "cold1"}
    status, page = shop.post("run-work", **fields)
    assert status == 200
    turned = run_of(shop, "cold1")
    assert turned.ports == before.ports[::-1]
    assert [one.piece for one in turned.pieces] == [one.piece for one in before.pieces][::-1]
    # the same press from another window, which shows it as it was: nothing is turned back
    status, again = shop.post("run-work", **fields)
    assert "Nothing was changed" in again
    assert run_of(shop, "cold1") == turned
    assert undo(shop, page)[0] == 200
    assert run_of(shop, "cold1") == before


def test_a_component_is_turned_round_in_one_of_its_circuits(shop: Shop) -> None:
    before = flows(shop, "intercooler")
    assert before["in"] == "in"
    fields = press(shop.page("component?key=intercooler"), "turn-component")
    assert shop.post("turn-component", **fields)[0] == 200
    assert flows(shop, "intercooler")["in"] == "out"
    # both of its runs stand against the flow then
    joined = {r.key for r in shop.stored().plumbing.runs if "intercooler" in "".join(r.ports)}
    charge = next(one for one in plumbed(shop.stored()).circuits if one.circuit.key == "charge")
    assert {one.what for one in charge.open if one.why == "against the flow"} == joined
    assert "Nothing was changed" in shop.post("turn-component", **fields)[1]  # the other window
    assert flows(shop, "intercooler")["in"] == "out"
    fields = press(shop.page("component?key=intercooler"), "turn-component")
    assert shop.post("turn-component", **fields)[0] == 200
    assert flows(shop, "intercooler") == before


def test_a_component_of_several_circuits_keeps_the_others_as_they_are(shop: Shop) -> None:
    turbo = component_of(shop, "turbo")
    page = shop.page("component?key=turbo")
    assert page.count("Turn it round: ") > 1
    assert shop.post("turn-component", **press(page, "turn-component"))[0] == 200
    now = component_of(shop, "turbo")
    own = {
        one.circuit or turbo.circuit
        for one, two in zip(turbo.ports, now.ports, strict=True)
        if one != two
    }
    assert len(own) == 1


def test_a_reducer_in_a_run_is_turned_round(shop: Shop) -> None:
    run = next(
        run
        for run in shop.stored().plumbing.runs
        if any(one.piece == "reducer" for one in run.pieces) and not run.clamped_on
    )
    at = next(n for n, one in enumerate(run.pieces, start=1) if one.piece == "reducer")
    piece = run.pieces[at - 1]
    about = {"run": run.key, "at": str(at), "piece_seen": digest_of(piece)}
    assert "Turn it round" in shop.page(f"piece?run={run.key}&at={at}")
    assert shop.post("piece-work", **about, does="turn")[0] == 200
    assert isinstance(piece.size, tuple)
    assert run_of(shop, run.key).pieces[at - 1].size == piece.size[::-1]
    hose = shop.page("piece?run=w_top&at=1")
    assert "Turn it round" not in hose  # its two ends are alike


# --- in between -------------------------------------------------------------------------------
def test_a_piece_is_put_in_between_two_others(shop: Shop) -> None:
    before = pieces(shop, "cold1")
    page = shop.page("runs/cold1")
    address = re.findall(r'href="/builds/the-heron/(runs/cold1\?[^"]*before=2)"', page)
    assert len(address) == 1
    page = shop.page(html.unescape(address[0]))
    assert "A piece before piece 2" in page
    assert "autofocus" in page
    fields = press(page, "next-piece")
    assert fields["before"] == "2"
    status, page = shop.post("next-piece", **fields, piece="coupler", first_size="60", number="")
    assert status == 200
    assert pieces(shop, "cold1") == [before[0], ("coupler", 60, None), *before[1:]]
    assert "A piece before piece 3" in page  # the next one goes behind it


def test_a_piece_put_in_before_one_that_another_window_took_out_is_asked_about(shop: Shop) -> None:
    fields = press(shop.page("runs/cold1?typing=piece&before=2"), "next-piece")
    last = run_of(shop, "cold1").pieces[-1]
    count = len(run_of(shop, "cold1").pieces)
    out = {"run": "cold1", "at": str(count), "piece_seen": digest_of(last), "does": "out"}
    assert shop.post("piece-work", **out)[0] == 200
    stored = run_of(shop, "cold1")
    typed = {"piece": "coupler", "first_size": "60", "number": ""}
    status, page = shop.post("next-piece", **fields, **typed)
    assert status == 422
    assert "changed elsewhere since this was shown" in page
    assert "before piece 2" in page
    assert run_of(shop, "cold1") == stored
    assert shop.post("next-piece", **press(page, "next-piece"), **typed)[0] == 200
    assert run_of(shop, "cold1").pieces[1] == Piece(piece="coupler", size=60)


# --- inside -----------------------------------------------------------------------------------
def test_the_ways_inside_a_component_are_said_and_taken_back(shop: Shop) -> None:
    key = "rad"
    before = component_of(shop, key)
    form = opened(shop, f"component?key={key}")
    inside = [name for name in form.sent if name.startswith("inside-")]
    assert form.sent["ways"] == ["all"]
    assert inside, "its way in leads to its way out"
    status, page = saved(shop, form, ways="some", **{inside[0].replace("-", "__"): ""})
    assert status == 200
    passages = component_of(shop, key).passages
    assert passages is not None
    assert len(passages) == len(inside) - 1
    assert 'name="ways"' in page
    assert undo(shop, page)[0] == 200
    assert component_of(shop, key) == before


def test_one_way_unticked_means_that_the_others_are_left(shop: Shop) -> None:
    form = opened(shop, "component?key=engine")
    inside = [name for name in form.sent if name.startswith("inside-")]
    assert len(inside) > 2
    fields = {name: texts for name, texts in form.sent.items() if name != inside[0]}
    answer = shop.client.post(form.action, data=fields)
    assert answer.status_code == 200
    passages = component_of(shop, "engine").passages
    assert passages is not None
    assert len(passages) == len(inside) - 1
    # and back to all of them
    form = opened(shop, "component?key=engine")
    assert form.sent["ways"] == ["some"]
    assert saved(shop, form, ways="all")[0] == 200
    assert component_of(shop, "engine").passages is None


# --- ports ------------------------------------------------------------------------------------
def test_a_port_that_something_hangs_on_is_asked_about(shop: Shop) -> None:
    key = "rad.drain"
    status, page = shop.post(f"remove-port?key={key}")
    assert status == 422
    assert "Its circuit has a drain less then." in page
    assert port_at(shop.stored(), key) is not None
    status, page = shop.removed(f"remove-port?key={key}")
    assert status == 200
    assert port_at(shop.stored(), key) is None
    assert undo(shop, page)[0] == 200
    assert port_at(shop.stored(), key) is not None


def test_the_highest_point_of_a_circuit_is_told_before_it_goes(shop: Shop) -> None:
    circuit = get_by_key(shop.stored().plumbing.circuits, "coolant")
    assert circuit.highest is not None
    page = shop.page(f"remove-port?key={circuit.highest}")
    assert "It is the highest point of “Coolant”" in page
    assert shop.removed(f"remove-port?key={circuit.highest}")[0] == 200
    assert get_by_key(shop.stored().plumbing.circuits, "coolant").highest is None


def test_a_port_that_nothing_hangs_on_goes_at_once(shop: Shop) -> None:
    form = opened(shop, "new-port?component=rad")
    assert saved(shop, form, name="spare", end="bead", flow="both")[0] == 200
    status, page = shop.post("remove-port?key=rad.spare")
    assert status == 200
    assert 'class="undo"' in page
    assert port_at(shop.stored(), "rad.spare") is None


def test_a_port_that_a_run_or_a_circuit_ends_at_says_what_to_do_first(shop: Shop) -> None:
    status, page = shop.post("remove-port?key=rad.top")
    assert status == 422
    assert "is joined by" in page
    assert port_at(shop.stored(), "rad.top") is not None
