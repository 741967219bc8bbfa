"""Coolant for a frost, over HTTP: kept with its circuit, in Parts in one press and in step."""

import datetime as dt
import json
import re
from dataclasses import replace

import pytest

from tests.pages.conftest import Shop
from tests.pages.plumbing.test_work import undo
from tests.pages.test_two_windows import opened, saved
from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.plumbing import Circuit
from webapp.pages.words import coolant as said

PAGE = "coolant?circuit=coolant"
PART = "pour-coolant"
CONCENTRATE = "ethylene glycol concentrate"


def figures(page: str) -> dict[str, str]:
    """What is drained, bought and poured, by its name."""
    return dict(re.findall(r"<dt>([^<]+)</dt><dd data-figure=\"coolant\">([^<]+)</dd>", page))


def mixed(shop: Shop, **typed: str) -> tuple[int, str]:
    """The form of the page, opened anew, with some fields typed over."""
    return saved(shop, opened(shop, PAGE), **{"press": "", **typed})


def circuit(shop: Shop) -> Circuit:
    return get_by_key(shop.stored().plumbing.circuits, "coolant")


def litres(build: BuildInput) -> dict[str, dict[str, float | None]]:
    """By part what it brings by the litre."""
    found: dict[str, dict[str, float | None]] = {}
    for line in build.plumbing.ordered:
        if line.litres is not None:
            found.setdefault(line.part, {})[line.what] = line.litres
    return found


def with_part(shop: Shop, **fields: object) -> None:
    """The part of the coolant as it is after what its own page does."""
    build = shop.stored()
    part = replace(get_by_key(build.parts, PART), **fields)  # type: ignore[arg-type]
    shop.become(replace(build, parts=replaced_by_key(build.parts, part)))


def test_a_frost_makes_a_mixture_what_to_buy_and_how_a_half_full_system_comes_to_it(
    shop: Shop,
) -> None:
    assert "Coolant for a frost" in shop.page("plumbing/coolant")
    status, page = mixed(shop, frost="-25")
    assert status == 200
    # 40 % freezes at -24.8, 45 % at -30.5: 0.40 + 0.05 * 0.2 / 5.7 = 0.4018 of 15.608 l is 6.27 l.
    assert "40 % concentrate and 60 % water by volume: it begins to freeze at -25 °C." in page
    assert figures(page) == {
        "Concentrate to buy and pour in": "6.3 l",
        "Water to pour in": "9.3 l",
        "Full": "15.6 l",
    }
    # 6 l of 30 % are 1.8 l of concentrate: 6.27 - 1.8 = 4.47, 15.608 - 6 - 4.47 = 5.14 of water;
    # with the mixture alone (1.8 + 9.608 * 0.4018) / 15.608 = 36.3 %, at -19.9 - 4.9 * 1.3 / 5.
    half = figures(mixed(shop, there="6", share="30")[1])
    assert half["Concentrate to buy and pour in"] == "4.5 l"
    assert half["Water to pour in"] == "5.1 l"
    assert half["Filled up with the new mixture alone"] == "36 %, begins to freeze at -21 °C"
    for caution in (said.THE_LABEL_FIRST, *said.CAUTIONS):
        assert caution in page


def test_a_frost_in_fahrenheit_is_the_same_frost(shop: Shop) -> None:
    shop.post("shop/units", units="us")
    page = mixed(shop, frost="-13")[1]
    assert "it begins to freeze at -13 °F" in page
    # 6.27 l / 3.785411784 = 1.66 US gallons
    assert figures(page)["Concentrate to buy and pour in"] == "1.66 US gal"
    assert circuit(shop).frost_c == pytest.approx(-25)


def test_what_can_not_be_mixed_is_refused_with_its_reason_and_nothing_is_kept(shop: Shop) -> None:
    before = shop.stored()
    for wrong, told in (
        ({"frost": "-60"}, said.NO_MIXTURE["too cold"]),
        ({"frost": "25"}, said.no_frost()),
        ({"frost": "cold"}, "“cold” is no number. Enter one, in °C."),
        ({"frost": "-25", "share": "300"}, "100 is the most"),
        ({"frost": "-25", "there": "9 bar"}, "is no unit here"),
        ({"frost": "-25", "there": "40", "share": "30"}, said.NO_MIXTURE["more than it holds"]),
        ({"frost": "", "press": "parts"}, said.NAME_A_FROST),
        ({"frost": "-25", "lead_days": "soon", "press": "parts"}, "Days until they come"),
    ):
        status, page = mixed(shop, **wrong)
        assert (status, told in page) == (422, True), wrong
    assert shop.stored() == before
    assert shop.client.get("/builds/the-heron/coolant?circuit=charge").status_code == 404
    assert shop.post("coolant?circuit=charge", frost="-25")[0] == 404
    assert shop.post("coolant?circuit=none", frost="-25")[0] == 404


def test_the_mixture_is_kept_told_in_the_journal_and_taken_back(shop: Shop) -> None:
    before = shop.stored()
    page = mixed(shop, frost="\N{MINUS SIGN}25", kind="propylene", there="6", share="30")[1]
    kept = circuit(shop)
    assert (kept.frost_c, kept.antifreeze) == (-25, "propylene")
    assert (kept.full_litres, kept.there_litres, kept.there_percent) == (None, 6, 30)
    again = shop.page(PAGE)
    assert 'name="frost" value="-25"' in again
    assert 'value="propylene" selected' in again
    journal = shop.page("journal")
    assert "frost its coolant stands" in journal
    document = json.loads(shop.client.get("/builds/the-heron/document").text)
    written = next(one for one in document["plumbing"]["circuits"] if one["key"] == "coolant")
    assert (written["frost_c"], written["antifreeze"]) == (-25, "propylene")
    assert "full_litres" not in written
    assert undo(shop, page)[0] == 200
    assert shop.stored() == before


def test_what_the_data_sheet_has_holds_until_it_is_mixed_here_and_fill_day_agrees(
    shop: Shop,
) -> None:
    # 45 % of 15.608 l is 7.02 l, and 8.58 l of water
    assert figures(shop.page(PAGE))["Concentrate to buy and pour in"] == "7 l"
    day = figures(shop.page("fill-day"))
    assert (day["Concentrate"], day["Soft water"]) == ("7 l", "8.6 l")
    page = mixed(shop, frost="-25", there="6", share="30")[1]
    assert "It is kept with this circuit" in page
    day = figures(shop.page("fill-day"))
    assert (day["Concentrate"], day["Soft water"]) == ("4.5 l", "5.1 l")
    assert "coolant?circuit=coolant" in shop.page("fill-day")
    # a volume of one's own is that of fill day too: 0.4018 * 20 - 1.8 = 6.24 l
    mixed(shop, full="20")
    assert figures(shop.page("fill-day"))["Concentrate"] == "6.2 l"


def test_one_press_makes_a_part_that_the_fill_waits_for_and_undo_takes_it_back(
    shop: Shop,
) -> None:
    before = shop.stored()
    status, page = mixed(shop, frost="-25", press="parts", lead_days="4")
    assert status == 200
    build = shop.stored()
    part = get_by_key(build.parts, PART)
    assert (part.name, part.lead_days) == ("Coolant: coolant to pour in", 4)
    assert part.serves == circuit(shop).holds
    # 0.401754 * 15.608 = 6.2706, the rest is 9.3374
    assert litres(build) == {PART: {CONCENTRATE: 6.27, "soft water": 9.34}}
    assert "6.3 l of ethylene glycol concentrate, to order" in page
    assert 'value="parts"' not in page
    assert "brings 6.3 l of ethylene glycol concentrate and 9.3 l of soft water" in shop.page(
        "parts"
    )
    assert part.name in shop.page("fill-day")
    assert part.name not in shop.page("buy-list")
    # a second press finds nothing to do
    assert mixed(shop, press="parts")[0] == 200
    assert shop.stored() == build
    assert undo(shop, page)[0] == 200
    assert shop.stored() == before


def test_a_mixture_of_the_data_sheet_goes_into_parts_as_it_stands(shop: Shop) -> None:
    mixed(shop, press="parts")
    # 0.45 * 15.608 = 7.0236
    assert litres(shop.stored())[PART][CONCENTRATE] == 7.02
    assert circuit(shop).frost_c == -30.5


def test_the_part_follows_the_frost_the_volume_and_the_drawing(shop: Shop) -> None:
    mixed(shop, frost="-25", press="parts")
    # 30 % freezes at -15.7: thinner than that nothing is mixed. 0.3 * 15.608 = 4.6824
    mixed(shop, frost="-10")
    assert litres(shop.stored())[PART] == {CONCENTRATE: 4.68, "soft water": 10.93}
    mixed(shop, full="20")
    assert litres(shop.stored())[PART] == {CONCENTRATE: 6.0, "soft water": 14.0}
    mixed(shop, full="", kind="propylene", frost="-13.1")
    assert litres(shop.stored())[PART] == {
        "propylene glycol concentrate": 4.68,
        "soft water": 10.93,
    }
    # another litre in the radiator, on its own form: 0.3 * 16.608
    rad = get_by_key(shop.stored().plumbing.components, "rad")
    held = next(one.litres for one in rad.volumes if one.circuit == "coolant") or 0.0
    form = opened(shop, "component?key=rad")
    field = next(name for name, text in form.fields if name.startswith("litres"))
    assert saved(shop, form, **{field: f"{held + 1}"})[0] == 200
    assert litres(shop.stored())[PART]["propylene glycol concentrate"] == 4.98
    # no frost, no mixture: the part goes
    mixed(shop, frost="")
    assert PART not in {part.key for part in shop.stored().parts}
    assert litres(shop.stored()) == {}


def test_what_was_ordered_stays_is_told_and_the_rest_comes_with_another_part(shop: Shop) -> None:
    mixed(shop, frost="-25", press="parts")
    with_part(shop, ordered_on=dt.date(2026, 2, 1))
    # 30 %: 4.68 l of concentrate where 6.27 l are ordered, 10.93 l of water where 9.34 l are
    page = mixed(shop, frost="-10")[1]
    assert litres(shop.stored())[PART] == {CONCENTRATE: 6.27, "soft water": 9.34}
    assert "Ethylene glycol concentrate: ordered already 6.3 l, wanted now 4.7 l." in page
    assert "6.3 l of ethylene glycol concentrate, ordered" in page
    mixed(shop, press="parts")
    # 10.9256 - 9.34
    assert litres(shop.stored())[f"{PART}-2"] == {"soft water": 1.59}


def test_what_came_counts_until_it_is_poured_in(shop: Shop) -> None:
    mixed(shop, frost="-25", press="parts")
    with_part(shop, arrived=True)
    page = shop.page(PAGE)
    assert "6.3 l of ethylene glycol concentrate, here, not poured in yet" in page
    assert 'value="parts"' not in page
    assert "coolant to pour in" not in shop.page("shelf")
    status, page = shop.post(PAGE, press="poured")
    assert status == 200
    kept = circuit(shop)
    assert (kept.there_litres, kept.there_percent) == (15.608, 40.18)
    assert litres(shop.stored()) == {}
    assert figures(page)["Concentrate to buy and pour in"] == "0 l"
    assert "It is poured in" not in page
    # a harder frost: 50 % at -37.1. Of 15.608 l at 40.18 %, 15.608 * (0.5 - 0.4018) / 0.5982
    # = 2.56 l make room for as much concentrate
    page = mixed(shop, frost="-37.1")[1]
    assert (
        figures(page)["Drain first"] == figures(page)["Concentrate to buy and pour in"] == "2.6 l"
    )
    assert undo(shop, page)[0] == 200


def test_coolant_that_is_said_to_be_here_waits_to_be_poured_and_is_not_bought_again(
    shop: Shop,
) -> None:
    mixed(shop, frost="-25", press="parts")
    # 0.401754 * 15.608 = 6.2706, the rest is 9.3374
    brings = {PART: {CONCENTRATE: 6.27, "soft water": 9.34}}
    assert shop.post("part-here", key=PART)[0] == 200
    assert get_by_key(shop.stored().parts, PART).arrived
    assert litres(shop.stored()) == brings
    page = shop.page(PAGE)
    assert "6.3 l of ethylene glycol concentrate, here, not poured in yet" in page
    assert "It is poured in" in page
    assert 'value="parts"' not in page  # nothing is left to buy
    assert shop.post("onto-shelf", key=PART)[0] == 200
    assert litres(shop.stored()) == brings


def test_a_part_of_coolant_is_said_to_be_poured_in_on_its_own_page(shop: Shop) -> None:
    mixed(shop, frost="-25", press="parts")
    page = shop.page(f"parts/{PART}")
    assert "It brings 6.3 l of ethylene glycol concentrate and 9.3 l of soft water." in page
    assert "It is poured in" not in page
    with_part(shop, arrived=True)
    page = shop.page(f"parts/{PART}")
    assert "9.3 l of soft water, here, not poured in yet." in page
    press = re.search(
        r'action="/builds/the-heron/([^"]+)"[^>]*>(?:(?!</form>).)*poured', page, re.S
    )
    assert press is not None
    assert shop.post(press[1], press="poured")[0] == 200
    assert (circuit(shop).there_litres, circuit(shop).there_percent) == (15.608, 40.18)
    page = shop.page(f"parts/{PART}")
    assert "It is poured in" not in page
    assert "It brings" not in page


def test_a_part_that_brings_no_coolant_is_not_poured_in(shop: Shop) -> None:
    for part in shop.stored().parts:
        page = shop.page(f"parts/{part.key}")
        assert "It is poured in" not in page
        assert "Coolant for a frost" not in page


def test_two_windows_on_one_mixture_are_asked(shop: Shop) -> None:
    one, other = opened(shop, PAGE), opened(shop, PAGE)
    assert saved(shop, one, frost="-20", press="")[0] == 200
    status, page = saved(shop, other, frost="-30", press="")
    assert status == 422
    assert "it says “-20” now, and you typed “-30”" in page
    assert circuit(shop).frost_c == -20
    # what only one of them touched stays as each of them left it
    one, other = opened(shop, PAGE), opened(shop, PAGE)
    assert saved(shop, one, frost="-25", press="")[0] == 200
    assert saved(shop, other, there="5", share="30", press="")[0] == 200
    assert (circuit(shop).frost_c, circuit(shop).there_litres) == (-25, 5)
