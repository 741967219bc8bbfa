"""What a circuit holds is asked about at Begin: told why, and begun where it is meant."""

import html

from tests.pages.conftest import Shop
from webapp.build.by_key import get_by_key


def test_a_fill_of_an_open_circuit_is_asked_about_with_what_is_open(shop: Shop) -> None:
    status, text = shop.post("bench/begin", task="coolant_fill")
    text = html.unescape(text)
    assert status == 422
    # With the flow from the thermostat: the upper hose is on hand, the radiator's drain has no cap.
    assert "Coolant is open: Upper hose (to make), Radiator, re-cored drain (cap is not on)" in text
    assert "Begin it all the same?" in text
    assert get_by_key(shop.stored().tasks, "coolant_fill").begun_on is None
    status, _ = shop.post("bench/begin", task="coolant_fill", sure="on")
    assert status == 200
    assert get_by_key(shop.stored().tasks, "coolant_fill").begun_on is not None


def test_work_that_no_circuit_holds_is_begun_without_a_question(shop: Shop) -> None:
    status, text = shop.post("bench/begin", task="coolant_fit")
    assert status == 200
    assert "all the same?" not in text
    assert get_by_key(shop.stored().tasks, "coolant_fit").begun_on is not None
