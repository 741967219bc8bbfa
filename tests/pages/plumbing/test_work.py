"""Presses on what is plumbed: how far a run is, caps, the test of a circuit; each with Undo."""

import re

import pytest

from tests.pages.conftest import NOW, Shop
from webapp.build.by_key import get_by_key
from webapp.build.plumbing import Run
from webapp.build.verbs.components import port_at

TODAY = NOW.date()


def run_of(shop: Shop, key: str) -> Run:
    return get_by_key(shop.stored().plumbing.runs, key)


def clamps_lying(shop: Shop, low: float, high: float) -> int:
    shelf = shop.stored().plumbing.shelf
    return sum(thing.count for thing in shelf if thing.range_mm == (low, high))


def undo(shop: Shop, text: str) -> tuple[int, str]:
    """Press Undo in the notice of a page."""
    form = re.search(r'<form[^>]*class="undo".*?</form>', text, re.S)
    assert form is not None
    address = re.search(r'action="/builds/the-heron/([^"]+)"', form[0])
    assert address is not None
    fields = dict(re.findall(r'name="(first|last|back)" value="([^"]*)"', form[0]))
    return shop.post(address[1], **fields)


def test_a_run_is_cut_fitted_and_clamped_press_by_press_and_off_again(shop: Shop) -> None:
    before = clamps_lying(shop, 40, 60)
    page = shop.page("runs/w_top")
    for does, words in (("cut", "It is cut"), ("fitted", "It is fitted"), ("clamped", "clamped")):
        assert f'name="does" value="{does}"' in page
        assert words in page
        status, page = shop.post("run-work", about="w_top", does=does, run="w_top")
        assert status == 200
        assert "<h1>" in page
        assert 'class="undo"' in page
    run = run_of(shop, "w_top")
    assert (run.cut_on, run.fitted_on, run.clamped_on) == (TODAY, TODAY, TODAY)
    assert clamps_lying(shop, 40, 60) == before - 2  # a hose has a clamp at each end
    status, page = shop.post("run-work", about="w_top", does="off", run="w_top")
    assert status == 200
    run = run_of(shop, "w_top")
    assert (run.cut_on, run.fitted_on, run.clamped_on) == (TODAY, None, None)
    assert clamps_lying(shop, 40, 60) == before


def test_a_press_is_taken_back_by_the_notice(shop: Shop) -> None:
    plumbing = shop.stored().plumbing
    status, page = shop.post("run-work", about="w_top", does="cut", circuit="coolant")
    assert status == 200
    assert "Coolant" in page
    assert shop.stored().plumbing != plumbing
    assert undo(shop, page)[0] == 200
    assert shop.stored().plumbing == plumbing


def test_a_press_that_was_made_already_stores_nothing(shop: Shop) -> None:
    assert shop.post("run-work", about="w_top", does="cut", run="w_top")[0] == 200
    stored = shop.stored()
    status, page = shop.post("run-work", about="w_top", does="cut", run="w_top")
    assert status == 200
    assert 'class="undo"' not in page
    assert "Nothing was changed: it stands as it did." in page
    assert shop.stored().plumbing == stored.plumbing


def test_what_is_out_of_order_is_refused_with_what_to_do(shop: Shop) -> None:
    plumbing = shop.stored().plumbing
    status, page = shop.post("run-work", about="w_top", does="clamped", run="w_top")
    assert status == 422
    assert "That was not stored" in page
    assert "Upper hose" in page
    assert shop.stored().plumbing == plumbing


def test_a_cover_under_a_run_comes_off_from_the_circuit_and_from_the_run(shop: Shop) -> None:
    for does in ("cut", "fitted"):
        assert shop.post("run-work", about="in2", does=does, run="in2")[0] == 200
    for page in ("plumbing/intake", "runs/in2"):
        assert 'name="does" value="cover-off"' in shop.page(page)
    status, page = shop.post("port-work", about="turbo.compressor in", does="cover-off", run="in2")
    assert status == 200
    assert "<h1>" in page
    assert "its cover is still on" not in shop.page("plumbing/intake")
    assert 'value="cover-off"' not in shop.page("runs/in2")


def test_a_run_leads_to_the_ports_at_its_ends(shop: Shop) -> None:
    page = shop.page("runs/w_core")
    assert 'href="/builds/the-heron/port?key=heat_core.in"' in page


def test_a_cap_is_put_on_from_the_page_of_its_circuit(shop: Shop) -> None:
    page = shop.page("plumbing/coolant")
    assert 'name="about" value="rad.drain"' in page
    status, page = shop.post("port-work", about="rad.drain", does="capped", circuit="coolant")
    assert status == 200
    found = port_at(shop.stored(), "rad.drain")
    assert found is not None
    assert found[1].stop is not None
    assert found[1].stop.on == TODAY
    assert 'name="about" value="rad.drain"' not in page
    assert undo(shop, page)[0] == 200
    assert 'name="about" value="rad.drain"' in shop.page("plumbing/coolant")


def test_a_part_that_closes_a_port_is_said_to_be_in(shop: Shop) -> None:
    about = "engine.water sender"
    status, page = shop.post("port-work", about=about, does="part-in", circuit="coolant")
    assert status == 200
    assert "water sender (female thread M12x1.5)</b>" not in page
    found = port_at(shop.stored(), about)
    assert found is not None
    assert found[1].stop is not None
    assert (found[1].stop.kind, found[1].stop.on) == ("part", TODAY)


def test_a_mend_is_put_into_its_run(shop: Shop) -> None:
    page = shop.page("plumbing/charge")
    seen = re.search(
        r'name="joint" value="6"><input type="hidden" name="seen" value="([^"]+)"', page
    )
    assert seen is not None
    fields = {"about": "cold1", "does": "mend", "joint": "6", "circuit": "charge"}
    status, page = shop.post("run-work", **fields, seen=seen[1])
    assert status == 200
    assert "do not fit" not in page
    pieces = [(piece.piece, piece.size) for piece in run_of(shop, "cold1").pieces]
    assert pieces[-1] == ("reducer", (60, 63))
    # the same once more, from another window: the joint fits, and nothing changes
    assert shop.post("run-work", **fields, seen=seen[1])[0] == 200
    assert [(piece.piece, piece.size) for piece in run_of(shop, "cold1").pieces] == pieces


def test_a_run_that_does_not_fit_is_not_offered_to_be_cut(shop: Shop) -> None:
    page = shop.page("runs/cold1")
    assert 'name="does" value="cut"' not in page
    assert page.count('class="do"') == 1  # the mend is the thing to do next
    assert 'name="does" value="mend"' in page


@pytest.mark.parametrize("joint", ["", "x", "0", "99", "9" * 40, "\N{SUPERSCRIPT TWO}"])
def test_a_mend_of_no_joint_is_refused(shop: Shop, joint: str) -> None:
    pieces = run_of(shop, "cold1").pieces
    status, page = shop.post("run-work", about="cold1", does="mend", joint=joint, seen="coupler 60")
    assert status == 422
    assert "Look at it again" in page
    assert run_of(shop, "cold1").pieces == pieces


def test_a_circuit_that_is_open_is_not_tested(shop: Shop) -> None:
    status, page = shop.post("circuit-tested", about="coolant", does="tested", circuit="coolant")
    assert status == 422
    assert "Close it first" in page


def test_a_circuit_is_worked_off_until_it_is_tested(shop: Shop) -> None:
    """Brake vacuum: three runs, nothing wrong in the drawing, and a test."""
    for key in ("v1", "v2", "v3"):
        for does in ("cut", "fitted", "clamped"):
            assert shop.post("run-work", about=key, does=does, run=key)[0] == 200
    page = shop.page("plumbing/vacuum")
    assert "Closed: nothing is open." in page
    assert "It is tested" in page
    status, page = shop.post("circuit-tested", about="vacuum", does="tested", circuit="vacuum")
    assert status == 200
    assert "tested Tue 10 February" in page
    assert "It is tested" not in page
    # what is taken off opens it, and its test no longer holds
    assert shop.post("run-work", about="v3", does="off", run="v3")[0] == 200
    page = shop.page("plumbing/vacuum")
    assert "One thing is open" in page
    assert "tested Tue 10 February" not in page


@pytest.mark.parametrize(
    ("address", "fields"),
    [
        ("run-work", {"about": "nowhere", "does": "cut"}),
        ("run-work", {"about": "w_top", "does": "painted"}),
        ("run-work", {}),
        ("port-work", {"about": "nowhere.at all", "does": "capped"}),
        ("port-work", {"about": "rad.drain", "does": "painted"}),
        ("circuit-tested", {"about": "nowhere"}),
    ],
)
def test_what_is_not_there_is_answered_by_name(
    shop: Shop, address: str, fields: dict[str, str]
) -> None:
    plumbing = shop.stored().plumbing
    assert shop.post(address, **fields)[0] == 404
    assert shop.stored().plumbing == plumbing


@pytest.mark.parametrize("address", ["run-work", "port-work", "circuit-tested"])
def test_a_reload_of_a_press_leads_to_plumbing(shop: Shop, address: str) -> None:
    answer = shop.client.get(f"/builds/the-heron/{address}", follow_redirects=False)
    assert answer.headers["location"] == "/builds/the-heron/plumbing"
