"""Runs drawn by forms: two ports joined, pieces one after the other, changed, taken out."""

import html
import re

import pytest

from tests.pages.conftest import Shop
from tests.pages.plumbing.test_work import run_of, undo
from tests.pages.test_two_windows import opened, saved
from webapp.build.by_key import find_by_key
from webapp.build.plumbing import Piece
from webapp.pages.plumbing.next_piece_form import pieces_seen
from webapp.pages.plumbing.piece_forms import digest_of

TOKEN = "once"
"""A form that is sent again with it is not taken twice; these are several windows' forms."""


def pieces(shop: Shop, key: str) -> list[tuple[str, object, float | None]]:
    return [(one.piece, one.size, one.length_mm) for one in run_of(shop, key).pieces]


def next_form(shop: Shop, key: str) -> dict[str, str]:
    """What the form of the next piece is opened with."""
    text = shop.page(f"runs/{key}").partition('class="next-piece"')[2].partition("</form>")[0]
    fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', text))
    kind = re.search(r'name="piece" value="(\w+)" checked', text)
    assert kind is not None
    fields.pop(TOKEN)
    return {**fields, "piece": kind[1]}


@pytest.fixture
def freed(shop: Shop) -> Shop:
    """The Heron with the upper hose taken out: two open ports."""
    assert shop.removed("remove-run?key=w_top")[0] == 200
    return shop


def test_a_removed_run_opens_exactly_its_two_ends(shop: Shop) -> None:
    said = html.unescape(shop.page("remove-run?key=w_top"))
    assert "Its two ends are open then: Engine, 2.2 turbo-diesel, stat out, and Radiator" in said
    before = run_of(shop, "w_top")
    joined = shop.page("plumbing/coolant").count("nothing is joined to it")
    status, page = shop.removed("remove-run?key=w_top")
    assert status == 200
    assert find_by_key(shop.stored().plumbing.runs, "w_top") is None
    assert page.count("nothing is joined to it") == joined + 2
    assert undo(shop, page)[0] == 200
    assert run_of(shop, "w_top") == before


def test_two_open_ports_are_joined_and_pieces_put_in_with_one_number_each(freed: Shop) -> None:
    text = html.unescape(freed.page("new-run?circuit=coolant&from=engine.stat+out"))
    offers = re.findall(r'<option value="([^"]*)"( selected)?>([^<]*)', text)
    labels = [words for _, _, words in offers]
    assert labels[1:3] == [  # those still open stand first, each with its size
        "Engine, 2.2 turbo-diesel, stat out (bead 38)",
        "Radiator, re-cored, top (bead 38)",
    ]
    assert ("engine.stat out", " selected", labels[1]) in offers
    status, page = freed.post(
        "new-run?circuit=coolant", from_port="engine.stat out", to_port="rad.top", name=""
    )
    assert status == 200
    assert 'name="number" value="" autocomplete="off" inputmode="decimal"' in page
    assert "autofocus" in page
    key = re.findall(
        r'action="/builds/the-heron/next-piece"[^>]*>.*?name="run" value="([^"]+)"', page
    )
    for number, kind, size in (("200", "hose", "38"), ("310", "tube", "38"), ("150", "hose", "38")):
        form = next_form(freed, key[0])
        assert (form["piece"], form["first_size"], form["number"]) == (kind, size, "")
        assert freed.post("next-piece", **{**form, "number": number})[0] == 200
    assert pieces(freed, key[0]) == [("hose", 38, 200), ("tube", 38, 310), ("hose", 38, 150)]
    assert "This end fits Radiator, re-cored, top (bead 38)" in freed.page(f"runs/{key[0]}")


@pytest.mark.parametrize(
    ("piece", "number", "stored"),
    [
        ("elbow", "90", Piece(piece="elbow", size=38, angle=90)),
        ("reducer", "1 1/2 in", Piece(piece="reducer", size=(40, 38.1))),  # 1.5 x 25.4
        ("coupler", "", Piece(piece="coupler", size=40)),
        ("bend", "45", Piece(piece="bend", size=38, angle=45)),
    ],
)
def test_each_kind_of_piece_takes_its_own_number(
    shop: Shop, piece: str, number: str, stored: Piece
) -> None:
    form = next_form(shop, "w_top")
    size = stored.size[0] if isinstance(stored.size, tuple) else stored.size
    typed = {"piece": piece, "number": number, "first_size": f"{size:g}" if size else ""}
    assert shop.post("next-piece", **{**form, **typed})[0] == 200
    assert run_of(shop, "w_top").pieces[-1] == stored


def test_an_adapter_names_its_first_end_by_what_stands_before_it(shop: Shop) -> None:
    form = {**next_form(shop, "w_top"), "piece": "adapter", "other_end": "male"}
    assert shop.post("next-piece", **{**form, "number": "M16x1.5"})[0] == 200
    ends = [(end.kind, end.size) for end in run_of(shop, "w_top").pieces[-1].ends]
    assert ends == [("bead", 38), ("male", "M16x1.5")]  # a bead goes into the hose before it


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"first_size": "0", "number": "640"}, "0 is no bore or diameter: from 1 to 500 mm"),
        ({"first_size": "10000", "number": "640"}, "10,000 is no bore or diameter"),
        ({"number": "-640"}, "-640 mm is no length: from 1 to 20,000 mm"),
        ({"number": "900000"}, "900,000 mm is no length"),
        ({"number": "long"}, "“long” is no number"),
        ({"number": ""}, "its length is missing"),
        ({"piece": "reducer", "number": "38"}, "the same size at both ends: that is a coupler"),
        ({"piece": "elbow", "number": "360"}, "360° is no bend"),
    ],
)
def test_a_size_that_can_not_be_is_refused_and_kept(
    shop: Shop, typed: dict[str, str], says: str
) -> None:
    before = run_of(shop, "w_top")
    form = {**next_form(shop, "w_top"), "piece": "hose", "first_size": "38", **typed}
    status, page = shop.post("next-piece", **form)
    assert status == 422
    assert says in html.unescape(page)
    for name in ("first_size", "number"):
        assert f'name="{name}" value="{form[name]}"' in page
    assert run_of(shop, "w_top") == before


@pytest.mark.parametrize(
    ("to_port", "says"),
    [
        ("rad.bottom", "it is joined already, by "),
        ("engine.stat out", "into itself"),
        ("servo.vacuum", "one run carries one circuit"),
        ("", "no port is picked"),
        ("nowhere.port", "is not in the list"),
    ],
)
def test_ports_that_can_not_be_joined_are_refused_by_name(
    freed: Shop, to_port: str, says: str
) -> None:
    shop = freed
    if to_port == "servo.vacuum":  # every port of the demo's vacuum is joined: this one is freed
        hose = next(run for run in shop.stored().plumbing.runs if to_port in run.ports)
        assert shop.removed(f"remove-run?key={hose.key}")[0] == 200
    plumbing = shop.stored().plumbing
    status, page = shop.post(
        "new-run?circuit=coolant", from_port="engine.stat out", to_port=to_port, name="My hose"
    )
    assert status == 422
    assert says in html.unescape(page)
    assert 'value="My hose"' in page
    assert shop.stored().plumbing == plumbing


@pytest.mark.parametrize(
    ("to_port", "says"),
    [
        (
            "rad.bottom",
            "Port Radiator, re-cored, bottom: it is joined already, by Lower hose to the T: put a T"
            " into that run, or choose another port.",
        ),
        (
            "engine.stat out",
            "The run: it runs from Engine, 2.2 turbo-diesel, stat out into itself: choose the port"
            " where it ends.",
        ),
        ("rad.drain", "The run: Radiator, re-cored, drain is capped. Take that off first"),
        (
            "catch.drain",
            "The run: it joins Coolant (Engine, 2.2 turbo-diesel, stat out) to Crankcase vent"
            " (Catch tank, drain): one run carries one circuit.",
        ),
    ],
)
def test_a_refusal_calls_ports_and_circuits_as_the_page_does(
    freed: Shop, to_port: str, says: str
) -> None:
    status, page = freed.post(
        "new-run?circuit=coolant", from_port="engine.stat out", to_port=to_port, name=""
    )
    assert status == 422
    assert says in html.unescape(page)


def test_two_windows_that_put_pieces_into_one_run_lose_none(shop: Shop) -> None:
    one, other = next_form(shop, "w_top"), next_form(shop, "w_top")
    assert shop.post("next-piece", **{**one, "piece": "tube", "number": "310"})[0] == 200
    status, page = shop.post("next-piece", **{**other, "piece": "tube", "number": "77"})
    assert status == 422
    assert "changed elsewhere since this was shown" in page
    assert 'name="number" value="77"' in page
    assert "310 mm" in page  # what the run has now stands above
    again = {**other, "piece": "tube", "number": "77", "seen": pieces_seen(run_of(shop, "w_top"))}
    assert f'name="seen" value="{again["seen"]}"' in page
    assert shop.post("next-piece", **again)[0] == 200
    assert [one.length_mm for one in run_of(shop, "w_top").pieces][-2:] == [310, 77]


PIECE_1, PIECE_2 = (f"piece?run=w_top&at={at}" for at in (1, 2))


def test_a_piece_is_changed_moved_and_taken_out(shop: Shop) -> None:
    form = next_form(shop, "w_top")
    assert shop.post("next-piece", **{**form, "piece": "tube", "number": "310"})[0] == 200
    assert saved(shop, opened(shop, PIECE_2), length_mm="300")[0] == 200
    assert pieces(shop, "w_top")[-1] == ("tube", 38, 300)
    about = {"run": "w_top", "at": "2", "piece_seen": digest_of(run_of(shop, "w_top").pieces[1])}
    assert shop.post("piece-work", **about, does="earlier")[0] == 200
    assert [one[0] for one in pieces(shop, "w_top")] == ["tube", "hose"]
    # the window still says that it is the second: it is found by what it is
    assert shop.post("piece-work", **about, does="out")[0] == 200
    assert [one[0] for one in pieces(shop, "w_top")] == ["hose"]
    status, page = shop.post("piece-work", **{**about, "at": "1"}, does="out")
    assert status == 422
    assert "changed or taken out elsewhere meanwhile" in page
    assert len(pieces(shop, "w_top")) == 1


def test_two_windows_that_change_one_piece_are_asked(shop: Shop) -> None:
    one, other, third = (opened(shop, PIECE_1) for _ in range(3))
    assert saved(shop, one, length_mm="600")[0] == 200
    status, page = saved(shop, other, length_mm="620")
    assert status == 422
    assert "it says “600” now, and you typed “620”" in html.unescape(page)
    assert pieces(shop, "w_top") == [("hose", 38, 600)]
    # one that changed something else is kept with the other's
    assert saved(shop, third, wall_mm="4")[0] == 200
    assert run_of(shop, "w_top").pieces[0].wall_mm == 4
    assert pieces(shop, "w_top") == [("hose", 38, 600)]


def test_a_branch_parts_a_hose_and_leaves_an_open_port(shop: Shop) -> None:
    about = {"run": "w_top", "at": "1", "piece_seen": digest_of(run_of(shop, "w_top").pieces[0])}
    status, _ = shop.post("piece-work", **about, does="branch", at_mm="200", tee="T for the heater")
    assert status == 200
    plumbing = shop.stored().plumbing
    assert plumbing.components[-1].name == "T for the heater"
    halves = [run for run in plumbing.runs if run.name == "Upper hose"]
    assert [run.pieces[0].length_mm for run in halves] == [200, 440]  # 640 in all


def test_a_shop_in_inches_types_and_reads_inches(shop: Shop) -> None:
    units = opened(shop, "shop/units", "shop/units")
    assert saved(shop, units, units="us")[0] == 200
    assert "Length, in" in shop.page("runs/w_top")
    form = next_form(shop, "w_top")
    assert form["first_size"] == "1.496 in"  # 38 / 25.4, and 38 again where it is left so
    assert shop.post("next-piece", **{**form, "piece": "tube", "number": "12 1/2"})[0] == 200
    assert pieces(shop, "w_top")[-1][2] == pytest.approx(317.5)  # 12.5 x 25.4
    assert run_of(shop, "w_top").pieces[-1].size == 38
    assert saved(shop, opened(shop, PIECE_2), length_mm="10")[0] == 200
    assert pieces(shop, "w_top")[-1][2] == pytest.approx(254)
