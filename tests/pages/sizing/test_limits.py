"""Limits: the person's own with its source, the usual one beside it, and the way back to it."""

import re

import pytest

from tests.pages.conftest import Shop
from tests.pages.test_journal import undo_fields
from tests.pages.test_two_windows import opened, saved
from webapp.build.data_sheet import LIMIT_UNITS, LIMITED, OwnLimit

HOT1 = "limit?check=charge_speed&at=hot1"


def limits(shop: Shop) -> dict[tuple[str, str], OwnLimit]:
    return {(one.check, one.at): one for one in shop.stored().data_sheet.limits}


def line_of(shop: Shop, at: str) -> str:
    """The line of the sizing page whose limit is changed at that address."""
    page = re.sub(r"\s+", " ", shop.page("sizing").replace("&amp;", "&"))
    return next(line for line in page.split("<li>") if at in line)


def test_every_limit_of_the_page_leads_to_its_form(shop: Shop) -> None:
    page = shop.page("sizing").replace("&amp;", "&")
    found = re.findall(r'href="(/builds/the-heron/limit\?[^"]*)"', page)
    assert len(found) > 15
    for address in found:
        assert shop.client.get(address).status_code == 200


def test_every_limited_check_has_its_unit() -> None:
    assert set(LIMIT_UNITS) == set(LIMITED)


def test_an_own_limit_goes_before_the_usual_one_which_stands_beside_it(shop: Shop) -> None:
    assert "Usual: ok to 61 m/s, tight to 91" in shop.page(HOT1)
    form = opened(shop, HOT1)
    status, page = saved(shop, form, ok="30", tight="40", source="turbo maker's sheet 4")
    assert status == 200
    assert limits(shop)["charge_speed", "hot1"] == OwnLimit(
        check="charge_speed", at="hot1", ok=30, tight=40, source="turbo maker's sheet 4"
    )
    line = line_of(shop, HOT1)
    assert ">tight</span>" in line  # 36.5 m/s
    assert "ok to 30 m/s, tight to 40" in line
    assert "typed in: turbo maker's sheet 4" in line
    assert "Usual: ok to 61 m/s, tight to 91" in line
    shop.post("journal/take-back", **undo_fields(page))
    assert ("charge_speed", "hot1") not in limits(shop)
    assert ">ok</span>" in line_of(shop, HOT1)


def test_a_limit_is_given_back_to_the_usual_one(shop: Shop) -> None:
    saved(shop, opened(shop, HOT1), ok="30", source="turbo maker")
    form = opened(shop, HOT1)
    status, _ = saved(shop, form, usual="on")
    assert status == 200
    assert ("charge_speed", "hot1") not in limits(shop)
    line = line_of(shop, HOT1)
    assert ">ok to 61 m/s, tight to 91</a>: a turbo maker's published note" in line
    assert "Usual:" not in line


def test_a_limit_for_everywhere_and_one_of_a_place_before_it(shop: Shop) -> None:
    saved(shop, opened(shop, HOT1), ok="30", source="turbo maker", where="everywhere")
    assert set(limits(shop)) == {("exhaust_loss", ""), ("charge_speed", "")}
    cold = "limit?check=charge_speed&at=cold1"
    assert "ok to 30 m/s" in line_of(shop, cold)
    saved(shop, opened(shop, cold), ok="20", source="a race shop", where="here")
    assert set(limits(shop)) >= {("charge_speed", ""), ("charge_speed", "cold1")}
    assert "ok to 20 m/s" in line_of(shop, cold)
    assert "ok to 30 m/s" in line_of(shop, HOT1)
    # the one of the place is made the one of everywhere: there are not two
    saved(shop, opened(shop, cold), where="everywhere")
    assert limits(shop)["charge_speed", ""].ok == 20
    assert ("charge_speed", "cold1") not in limits(shop)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"ok": "", "source": "x"}, "nothing is typed"),
        ({"ok": "30", "source": ""}, "source"),
        ({"ok": "fast", "source": "x"}, "is no number"),
        ({"ok": "40", "tight": "30", "source": "x"}, "Tight is what comes after ok"),
        ({"ok": "30 bar", "source": "x"}, "is no unit here"),
    ],
)
def test_a_limit_that_is_none_is_refused(shop: Shop, typed: dict[str, str], says: str) -> None:
    before = shop.stored().data_sheet
    status, page = saved(shop, opened(shop, HOT1), **typed)
    assert status == 422
    assert says in page
    assert shop.stored().data_sheet == before


def test_a_limit_at_least_is_tight_below_ok(shop: Shop) -> None:
    address = "limit?check=expansion&at=coolant"
    assert "Ok from, %" in shop.page(address)
    status, _ = saved(shop, opened(shop, address), ok="4", tight="6", source="x")
    assert status == 422
    status, _ = saved(shop, opened(shop, address), ok="4.4", tight="4", source="tank maker")
    assert status == 200
    assert ">ok</span>" in line_of(shop, address)


def test_the_drop_of_a_starter_is_in_volts_of_a_feed_in_percent_and_of_one_wire_alone(
    shop: Shop,
) -> None:
    assert "Ok to, V" in shop.page("limit?check=voltage_drop&at=starter")
    feed = shop.page("limit?check=voltage_drop&at=fan")
    assert "Ok to, %" in feed
    assert 'name="where"' not in feed
    saved(shop, opened(shop, "limit?check=voltage_drop&at=fan"), ok="6", source="fan maker")
    assert ("voltage_drop", "fan") in limits(shop)


def test_in_psi_and_feet_one_limit_is_the_same(shop: Shop) -> None:
    shop.post("shop/units", units="us")
    form = opened(shop, HOT1)
    status, _ = saved(shop, form, ok="200", tight="90 m/s", source="turbo maker")
    assert status == 200
    stored = limits(shop)["charge_speed", "hot1"]
    assert stored.ok == pytest.approx(60.96)
    assert stored.tight == 90


def test_two_windows_on_one_limit_ask(shop: Shop) -> None:
    one, other = opened(shop, HOT1), opened(shop, HOT1)
    saved(shop, one, ok="30", source="turbo maker")
    status, page = saved(shop, other, ok="50", source="a race shop")
    assert status == 422
    assert "30" in page
    assert limits(shop)["charge_speed", "hot1"].ok == 30


@pytest.mark.parametrize(
    "address",
    ["limit?check=mixture&at=coolant", "limit?check=nothing", "limit?check=charge_speed&at=moon"],
)
def test_what_has_no_limit_is_not_there(shop: Shop, address: str) -> None:
    assert shop.client.get(f"/builds/the-heron/{address}").status_code == 404
    posted = shop.client.post(
        f"/builds/the-heron/{address}", data={"ok": "3", "source": "x"}, follow_redirects=False
    )
    assert posted.status_code == 404
