"""The rooms of the shop: an address each, a fault in the room where it was typed."""

import re

import pytest

from tests.pages.conftest import Shop
from webapp.pages import addresses
from webapp.pages.shop.kinds import FORMS
from webapp.pages.shop.rooms import FIRST, ROOM_OF_FORM, ROOMS, address_of

HERON = "/builds/the-heron"


def here(shop: Shop, address: str) -> str:
    """The path that an address leads to in the end."""
    answer = shop.client.get(address)
    assert answer.status_code == 200, address
    return str(answer.url.path)


def test_every_form_stands_in_one_room_and_every_room_has_its_address(shop: Shop) -> None:
    assert ROOM_OF_FORM.keys() == FORMS.keys()
    for room in ROOMS:
        address = address_of("the-heron", room)
        text = shop.client.get(address).text
        found = set(re.findall(r'id="form-(\w+)"', text))
        assert found == set(room.forms)
        for other in ROOMS:  # the way to every other room stands in each
            assert f'href="{address_of("the-heron", other)}"' in text


@pytest.mark.parametrize("form", list(FORMS))
def test_an_address_that_only_takes_changes_leads_to_the_room_of_its_form(
    shop: Shop, form: str
) -> None:
    room = ROOM_OF_FORM[form]
    assert here(shop, f"{HERON}/shop/{form}") == address_of("the-heron", room)


def test_the_first_room_is_the_shop_week_and_the_old_places_lead_to_the_rooms(shop: Shop) -> None:
    text = shop.page("shop")
    assert text.index('id="form-week"') < text.index("Days that are different")
    for anchor in ("t-hands", "t-setups", "t-subsystems", "t-facts"):
        assert f'<li id="{anchor}"><b><a href="{HERON}/shop/' in text
    assert here(shop, f"{HERON}/shop/no-such-room") == f"{HERON}/shop"


@pytest.mark.parametrize(
    ("form", "fields", "wrong"),
    [
        ("people", {"people": "none"}, "people-people"),
        ("setups", {"key-0": "", "name-0": "Lathe", "hours-0": "some"}, r"setups-hours-\d"),
        ("stations", {"key-0": "", "name-0": "Bench", "count-0": "-2"}, r"stations-count-\d"),
        ("facts", {"wanted_by": "soon"}, "facts-wanted_by"),
        ("units", {"units": "cubits"}, "units-units"),
        ("day", {"date": "soon"}, "day-date"),
    ],
)
def test_a_fault_is_shown_in_the_room_where_it_was_typed(
    shop: Shop, form: str, fields: dict[str, str], wrong: str
) -> None:
    before = shop.stored()
    status, text = shop.post(f"shop/{form}", **fields)
    assert status == 422
    assert re.search(f'id="{wrong}-wrong"', text)
    assert set(re.findall(r'id="form-(\w+)"', text)) == set(ROOM_OF_FORM[form].forms)
    assert shop.stored() == before
    if form == "day":  # it stands folded else
        assert '<details class="more" id="t-day" open>' in text


def test_a_change_stays_in_its_room(shop: Shop) -> None:
    answer = shop.client.post(f"{HERON}/shop/people", data={"people": "2"})
    assert answer.url.path == f"{HERON}/shop/people"
    assert "Saved." in answer.text
    answer = shop.client.post(
        f"{HERON}/shop/stations", data={"key-0": "", "name-0": "Bench", "count-0": "2"}
    )
    assert answer.url.path == f"{HERON}/shop/setups"
    answer = shop.client.post(f"{HERON}/shop/facts", data={"end_name": "First drive"})
    assert answer.url.path == f"{HERON}/shop/build"
    assert shop.stored().end_name == "first drive"
    assert "First drive" in answer.text


def test_a_fault_of_the_build_leads_to_the_room_where_it_is_mended() -> None:
    for kind, room in (("setup", "setups"), ("station", "setups"), ("build", "build")):
        assert addresses.mend("x", kind, "") == f"/builds/x/shop/{room}"
    assert addresses.mend("x", "subsystem", "air") == "/builds/x/shop/subsystems"
    assert addresses.mend("x", "shop", "mon") == "/builds/x/shop"
    assert address_of("x", FIRST) == "/builds/x/shop"
