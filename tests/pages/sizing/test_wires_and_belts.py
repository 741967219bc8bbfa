"""Wires and belts as forms: asked for where nothing of them is drawn."""

import pytest

from tests.pages.conftest import Shop
from tests.pages.test_journal import undo_fields
from tests.pages.test_two_windows import opened, saved
from webapp.build.by_key import get_by_key
from webapp.build.data_sheet import Belt, Pulley, Wire


def wires(shop: Shop) -> tuple[Wire, ...]:
    return shop.stored().data_sheet.wires


def belts(shop: Shop) -> tuple[Belt, ...]:
    return shop.stored().data_sheet.belts


def test_a_new_wire_is_stored_checked_and_taken_back(shop: Shop) -> None:
    status, page = saved(
        shop, opened(shop, "wire"), name="Winch", current_a="200", area_mm2="AWG 2",
        out_and_back_m="20 ft", carries_a="250", celsius="104 °F",
    )  # fmt: skip
    assert status == 200
    wire = get_by_key(wires(shop), "winch")
    # AWG 2 is 33.62 mm² (ASTM B258); 20 ft are 6.096 m; 104 °F 40 °C
    assert wire.area_mm2 == pytest.approx(33.62, abs=0.02)
    assert wire.out_and_back_m == pytest.approx(6.096)
    assert wire.celsius == pytest.approx(40)
    assert "Winch" in shop.page("sizing")
    shop.post("journal/take-back", **undo_fields(page))
    assert [one.key for one in wires(shop)] == ["starter", "fan", "glow"]


def test_a_wire_that_misses_its_seller_s_figure_leads_to_its_form(shop: Shop) -> None:
    page = shop.page("sizing")
    assert "the current that the wire carries where it lies is missing" in page
    assert 'href="/builds/the-heron/wire?key=glow">Glow plug feed: say it there</a>' in page
    saved(shop, opened(shop, "wire?key=glow"), carries_a="90")
    assert "where it lies is missing" not in shop.page("sizing")


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("current_a", "", "nothing is typed"),
        ("current_a", "0", "Enter a number from 0.01"),
        ("current_a", "-5", "Enter a number from 0.01"),
        ("area_mm2", "0", "Enter a number from 0.01"),
        ("area_mm2", "AWG 99", "is no gauge"),
        ("out_and_back_m", "-1", "Enter a number from 0.01"),
        ("celsius", "400", "Enter a number from -40 to 200"),
        ("name", "", "is missing"),
    ],
)
def test_a_wire_that_can_not_be_is_refused(shop: Shop, field: str, text: str, says: str) -> None:
    before = wires(shop)
    status, page = saved(shop, opened(shop, "wire?key=fan"), **{field: text})
    assert status == 422
    assert says in page
    assert 'class="mend"' in page
    assert wires(shop) == before


def test_a_wire_is_taken_out(shop: Shop) -> None:
    status, _ = saved(shop, opened(shop, "wire?key=glow"), remove="on")
    assert status == 200
    assert [one.key for one in wires(shop)] == ["starter", "fan"]
    assert shop.client.get("/builds/the-heron/wire?key=glow").status_code == 404


def test_two_windows_on_one_wire_keep_both_and_ask(shop: Shop) -> None:
    one, other = opened(shop, "wire?key=fan"), opened(shop, "wire?key=fan")
    saved(shop, one, area_mm2="6")
    saved(shop, other, fuse_a="30")
    fan = get_by_key(wires(shop), "fan")
    assert (fan.area_mm2, fan.fuse_a) == (6, 30)
    status, _ = saved(shop, other, area_mm2="10")
    assert status == 422


def test_a_belt_of_three_pulleys_is_measured(shop: Shop) -> None:
    """Radii 75, 35, 60: 1185.194 mm round (recomputed beside the program)."""
    status, _ = saved(
        shop, opened(shop, "belt"), name="Second belt", length="1190", take_up="10",
        pulley__0="crank", x__0="0", y__0="0", diameter__0="150", drives__0="crank",
        pulley__1="alternator", x__1="260", y__1="90", diameter__1="70", drives__1="alternator",
        pulley__2="pump", x__2="120", y__2="280", diameter__2="120",
    )  # fmt: skip
    assert status == 200
    belt = get_by_key(belts(shop), "second-belt")
    assert belt.pulleys[1] == Pulley(
        name="alternator", x_mm=260, y_mm=90, diameter_mm=70, drives="alternator"
    )
    page = shop.page("sizing")
    assert "Second belt" in page
    assert "length round the pulleys 1,185.2 mm" in page


def test_a_back_side_idler_is_ticked_and_unticked(shop: Shop) -> None:
    form = opened(shop, "belt?key=belt")
    assert get_by_key(belts(shop), "belt").pulleys[1].is_back
    fields = [(name, text) for name, text in form.fields if name != "back-1"]
    answer = shop.client.post(form.action, data=dict(fields))
    assert answer.status_code == 200
    assert not get_by_key(belts(shop), "belt").pulleys[1].is_back


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("diameter__0", "0", "diameter"),
        ("diameter__0", "-142", "diameter"),
        ("x__0", "", "nothing is typed"),
        ("pulley__1", "crank", "twice"),
        ("length", "-3", "Enter a number from 1"),
    ],
)
def test_a_belt_that_can_not_be_is_refused(shop: Shop, field: str, text: str, says: str) -> None:
    before = belts(shop)
    status, page = saved(shop, opened(shop, "belt?key=belt"), **{field: text})
    assert status == 422
    assert says in page
    assert belts(shop) == before


def test_an_emptied_row_goes_and_a_belt_is_taken_out(shop: Shop) -> None:
    saved(shop, opened(shop, "belt?key=belt"), pulley__3="", x__3="", y__3="", diameter__3="")
    assert [one.name for one in belts(shop)[0].pulleys] == ["crank", "idler", "alternator"]
    saved(shop, opened(shop, "belt?key=belt"), remove="on")
    assert belts(shop) == ()
    assert "No belt is typed in" in shop.page("sizing")
