"""Coolant for a frost, over HTTP: in the address, in any units, refused with a reason."""

import re

from tests.pages.conftest import Shop
from webapp.pages.words import coolant as said


def figures(page: str) -> dict[str, str]:
    """What is drained, bought and poured, by its name."""
    return dict(re.findall(r"<dt>([^<]+)</dt><dd data-figure=\"coolant\">([^<]+)</dd>", page))


def test_a_frost_makes_a_mixture_what_to_buy_and_how_a_half_full_system_comes_to_it(
    shop: Shop,
) -> None:
    assert "Coolant for a frost" in shop.page("plumbing/coolant")
    page = shop.page("coolant?circuit=coolant&frost=-25")
    # 40 % freezes at -24.8, 45 % at -30.5: 0.40 + 0.05 * 0.2 / 5.7 = 0.4018 of 15.608 l is 6.27 l.
    assert "40 % concentrate and 60 % water by volume: it begins to freeze at -25 °C." in page
    assert figures(page) == {
        "Concentrate to buy and pour in": "6.3 l",
        "Water to pour in": "9.3 l",
        "Full": "15.6 l",
    }
    # 6 l of 30 % are 1.8 l of concentrate: 6.27 - 1.8 = 4.47, 15.608 - 6 - 4.47 = 5.14 of water;
    # with the mixture alone (1.8 + 9.608 * 0.4018) / 15.608 = 36.3 %, at -19.9 - 4.9 * 1.3 / 5.
    half = figures(shop.page("coolant?circuit=coolant&frost=-25&there=6&share=30"))
    assert half["Concentrate to buy and pour in"] == "4.5 l"
    assert half["Water to pour in"] == "5.1 l"
    assert half["Filled up with the new mixture alone"] == "36 %, begins to freeze at -21 °C"
    for caution in (said.THE_LABEL_FIRST, *said.CAUTIONS):
        assert caution in page


def test_a_frost_in_fahrenheit_is_the_same_frost(shop: Shop) -> None:
    shop.post("shop/units", units="us")
    page = shop.page("coolant?circuit=coolant&frost=-13")
    assert "it begins to freeze at -13 °F" in page
    # 6.27 l / 3.785411784 = 1.66 US gallons
    assert figures(page)["Concentrate to buy and pour in"] == "1.66 US gal"


def test_what_can_not_be_mixed_is_refused_with_its_reason(shop: Shop) -> None:
    assert said.NO_MIXTURE["too cold"] in shop.page("coolant?circuit=coolant&frost=-60")
    for wrong, told in (
        ("frost=25", said.no_frost()),
        ("frost=cold", "“cold” is no number. Enter one, in °C."),
        ("frost=-25&share=300", "100 is the most"),
        ("frost=-25&there=9 bar", "is no unit here"),
    ):
        answer = shop.client.get(f"/builds/the-heron/coolant?circuit=coolant&{wrong}")
        assert (answer.status_code, told in answer.text) == (422, True), wrong
    assert said.NO_MIXTURE["more than it holds"] in shop.page(
        "coolant?circuit=coolant&frost=-25&there=40&share=30"
    )
    assert shop.client.get("/builds/the-heron/coolant?circuit=charge").status_code == 404
