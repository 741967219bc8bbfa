"""The switch, the code and the devices: at the machine; of a device no more than itself."""

import html
import re

import pytest

from tests.pages.conftest import Shop
from tests.pages.test_door import device, is_the_page, paired, services_of
from webapp.services.shop_network import CannotListenError

ROOM = "/builds/the-heron/shop/network"


def page_at(shop: Shop, address: str = "/network") -> str:
    answer = shop.client.get(address)
    assert answer.status_code == 200
    return html.unescape(answer.text)


def pressed(shop: Shop, address: str, **fields: str) -> str:
    answer = shop.client.post(f"/network/{address}", data=fields)
    assert answer.status_code == 200, answer.text
    return html.unescape(answer.text)


@pytest.mark.parametrize("build", ["", "the-heron"])
def test_it_is_turned_on_a_device_paired_and_turned_away(shop: Shop, build: str) -> None:
    assert "Only this machine can open the program now" in page_at(shop, ROOM)
    page = pressed(shop, "switch", turn="on", build=build)
    assert ("The Heron" in page) == bool(build), "the page that the press was made on"
    assert "http://" in page
    assert ":8643/" in page
    assert "plain HTTP" in page
    page = pressed(shop, "code", build=build)
    (code,) = re.findall(r'class="code">([A-Z2-9]{4}-[A-Z2-9]{4})<', page)
    assert "for the camera of the device" in page
    phone = device(shop)
    assert phone.post("/pair", data={"code": code, "name": "Bench phone"}).status_code == 303
    page = page_at(shop, ROOM if build else "/network")
    assert "“Bench phone” is paired." in page
    assert code not in page
    assert "last used" in page
    (key,) = re.findall(r'name="device" value="(\d+)"', page)
    page = pressed(shop, "turn-away", device=key, build=build)
    assert "That device is turned away." in page
    assert "Bench phone" not in page
    assert is_the_page(phone.get("/"))
    page = pressed(shop, "switch", turn="off", build=build)
    assert "Only this machine can open the program now" in page


def test_a_second_press_on_the_same_device_says_that_it_is_gone(shop: Shop) -> None:
    services_of(shop).network.open()
    for key in ("1", "", "x", "9" * 30):
        answer = shop.client.post("/network/turn-away", data={"device": key})
        assert answer.status_code == 404
        assert "There is no such device any more." in answer.text


def test_while_it_is_off_no_code_is_shown(shop: Shop) -> None:
    pressed(shop, "code")
    assert services_of(shop).devices.shown_code() is None


def test_where_it_can_not_listen_it_says_why_and_stays_off(shop: Shop) -> None:
    class Taken:
        port = 8643

        def open(self) -> None:
            raise CannotListenError("Cannot listen in the network on port 8643: in use.")

        def close(self) -> None:
            raise AssertionError("it never was open")

    services_of(shop).network.listener = Taken()
    answer = shop.client.post("/network/switch", data={"turn": "on"})
    assert answer.status_code == 422
    assert "on port 8643: in use" in answer.text
    assert not services_of(shop).network.is_open


def test_a_machine_without_a_network_says_so(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("webapp.services.shop_network.ShopNetwork.addresses", lambda _: ())
    page = pressed(shop, "switch", turn="on")
    assert "in no network just now" in page
    assert "A picture of" not in pressed(shop, "code")


def test_a_device_lets_nobody_in_and_turns_nobody_away_but_itself(shop: Shop) -> None:
    services_of(shop).network.open()
    phone = device(shop, token=paired(shop, "Phone"))
    tablet = device(shop, token=paired(shop, "Tablet"))
    for address in ("/network", ROOM):
        page = html.unescape(phone.get(address).text)
        assert "This device is “Phone”" in page
        assert "Tablet" not in page
        assert "Show a code" not in page
    key = next(each.key for each in services_of(shop).devices.all() if each.name == "Tablet")
    for name, fields in (
        ("switch", {"turn": "off"}),
        ("code", {}),
        ("turn-away", {"device": str(key)}),
    ):
        answer = phone.post(f"/network/{name}", data=fields)
        assert answer.status_code == 403
        assert "at the machine that Keyturn runs on" in answer.text
    assert phone.post("/copies/elsewhere", data={"folder": "/tmp"}).status_code == 403
    assert services_of(shop).network.is_open
    assert services_of(shop).devices.shown_code() is None
    assert tablet.get("/").status_code == 200
    assert phone.post("/network/leave").status_code == 303
    assert is_the_page(phone.get("/"))
    assert tablet.get("/").status_code == 200


def test_who_is_let_in_and_opens_the_address_of_a_code_goes_on(shop: Shop) -> None:
    services_of(shop).network.open()
    phone = device(shop, token=paired(shop))
    for client in (phone, shop.client):
        answer = client.get("/pair?code=ABCD-EFGH", follow_redirects=False)
        assert (answer.status_code, answer.headers["location"]) == (303, "/")


def test_the_rooms_that_hang_on_no_build_are_reached_without_one(bare: Shop) -> None:
    for room, leads_to in (("copies", "/copies"), ("network", "/network"), ("week", "/")):
        answer = bare.client.get(f"/shop/{room}", follow_redirects=False)
        assert (answer.status_code, answer.headers["location"]) == (303, leads_to)
    first = bare.client.get("/").text
    assert 'href="/network"' in first
    assert 'href="/copies"' in first
