"""Money over HTTP: what is typed is summed, shown with one currency, paid and taken back."""

import re
from dataclasses import replace

import pytest

from tests.pages.conftest import Shop
from tests.pages.test_journal import undo_fields
from webapp.build.by_key import get_by_key
from webapp.build.money import cents_of, money_items, sums_of
from webapp.pages.words.money import cents, write_money_in


def plain(text: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", text).split())


def paid(shop: Shop, kind: str, key: str) -> tuple[int, str]:
    return shop.post("money/paid", kind=kind, key=key)


@pytest.mark.parametrize(
    ("sum_of", "currency", "written"),
    [
        (124_050, "kr", "1,240.50 kr"),
        (124_000, "", "1,240"),
        (-5, "€", "\N{MINUS SIGN}0.05 €"),
        (0, "kr", "0 kr"),
    ],
)
def test_a_sum_is_written_to_the_cent(sum_of: int, currency: str, written: str) -> None:
    write_money_in(currency)
    assert cents(sum_of) == written
    write_money_in("")


def test_the_currency_stands_behind_every_sum_on_every_page(shop: Shop) -> None:
    assert shop.post("money", currency="Rb", money_limit="")[0] == 200
    part = next(one for one in shop.stored().parts if one.cost)
    sum_of = cents(cents_of(part.cost or 0))
    assert f"costs {sum_of} Rb" in plain(shop.page("parts"))
    for page in ("money", "parts", "parts-list", "wishes"):
        assert re.search(r"\d Rb\b", plain(shop.settled(page))), page


def test_one_press_pays_as_estimated_and_undo_takes_it_back(shop: Shop) -> None:
    before = shop.stored()
    part = next(one for one in before.parts if one.cost and not one.arrived)
    was = sums_of(money_items(before))
    status, text = paid(shop, "part", part.key)
    assert status == 200
    stored = get_by_key(shop.stored().parts, part.key)
    assert stored == replace(part, paid=part.cost)
    now = sums_of(money_items(shop.stored()))
    assert now.spent == was.spent + cents_of(part.cost or 0)
    assert now.total == was.total
    assert shop.post("journal/take-back", **undo_fields(text))[0] == 200
    assert shop.stored() == before
    assert "paid from nothing to" in shop.page("journal")


def test_a_press_about_nothing_and_about_what_has_no_price_is_answered(shop: Shop) -> None:
    before = shop.stored()
    assert paid(shop, "part", "not-there")[0] == 404
    assert paid(shop, "engine", "x")[0] == 422
    task = next(one for one in before.tasks if one.is_open)
    status, text = paid(shop, "task", task.key)
    assert status == 422
    assert "nothing is estimated for it" in text
    assert shop.stored() == before


@pytest.mark.parametrize(
    ("typed", "stored"),
    [("12,50", 12.5), ("-25.40", -25.4), ("\N{MINUS SIGN}3", -3.0), ("0", 0.0), ("", None)],
)
def test_what_was_paid_may_have_come_back(shop: Shop, typed: str, stored: float | None) -> None:
    part = shop.stored().parts[0]
    assert shop.post(f"parts/{part.key}", paid=typed)[0] == 200
    assert get_by_key(shop.stored().parts, part.key).paid == stored


@pytest.mark.parametrize("typed", ["x", "--3", "1e99", "-2000000000", "3-"])
def test_what_is_no_sum_is_refused_and_kept(shop: Shop, typed: str) -> None:
    part = shop.stored().parts[0]
    status, text = shop.post(f"parts/{part.key}", paid=typed)
    assert status == 422
    assert 'id="paid-wrong"' in text
    assert f'value="{typed}"' in text
    status, text = shop.post(f"parts/{part.key}", cost="-1")
    assert status == 422
    assert 'id="cost-wrong"' in text


def test_a_limit_is_a_stick_and_too_much_is_said(shop: Shop) -> None:
    total = sums_of(money_items(shop.stored())).total
    assert "money-dip-title" not in shop.page("money")
    assert shop.post("money", currency="", money_limit=str(total / 100 + 250.25))[0] == 200
    text = shop.page("money")
    assert "250.25 are left of the limit of" in text
    assert "money-dip-title" in text
    assert shop.post("money", currency="", money_limit=str(total / 100 - 10))[0] == 200
    assert "The build comes to 10 more than the limit" in shop.page("money")
    status, text = shop.post("money", currency="kroner and more", money_limit="much")
    assert status == 422
    assert 'id="currency-wrong"' in text
    assert 'id="money_limit-wrong"' in text


def test_money_grows_beside_hours_in_the_scope_ledger(shop: Shop) -> None:
    shop.post("scope")
    first = sums_of(money_items(shop.stored())).total
    task = next(one for one in shop.stored().tasks if one.is_open)
    assert shop.post(f"tasks/{task.key}", cost="123.45")[0] == 200
    assert shop.post("parts/new", name="Gasket", cost="10.05")[0] == 200
    ledger = plain(shop.page("scope"))
    row = re.search(r"The build now \S+ \S+ h ([\d,.]+)", ledger)
    assert row is not None
    assert row[1] == cents(first + 12_345 + 1_005)
    said = plain(shop.page("money"))
    assert f"The first sum was {cents(first)} (baseline" in said
    assert f"it is {cents(first + 12_345 + 1_005)} now" in said


def test_what_an_hour_saved_costs_stands_on_money(shop: Shop) -> None:
    build = shop.stored()
    task = next(
        one for one in build.tasks if one.is_open and not one.begun_on and not one.outside_days
    )

    fields = {"offer_cost": "300", "offer_days": "12", "likely": "8", "certain": "on"}
    assert shop.post(f"tasks/{task.key}", well="", fights="", **fields)[0] == 200
    said = plain(shop.page("money"))
    assert f"{task.name} 300 12 days 8 h 37.50" in said
    assert "300 over 8 h is 37.50 an hour" in said
