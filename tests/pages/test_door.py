"""Who is not paired sees how to pair, and nothing else, whatever is asked for and however."""

import datetime as dt
import re

import httpx
import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from tests.pages.client import Client
from tests.pages.conftest import Shop, opened
from tests.pages.test_bad_requests import routes
from webapp.pages.frame.pairing_page import pairing_page
from webapp.services.devices import Paired
from webapp.services.pairing import TRIES_OF_ONE
from webapp.services.program import Services
from webapp.services.shop_network import FROM_NETWORK
from webapp.storage.devices import devices_by_hash
from webapp.storage.trouble import UnusableDatabaseError

PEER = "192.0.2.77"
MEANT = ("GET", "POST")
"""What pages and forms ask with."""
OTHER = ("HEAD", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "PROPFIND", "BREW", "get")
PAGE = pairing_page(403).body


@pytest.fixture
def network(shop: Shop) -> Shop:
    """The Heron, with paired devices let in."""
    services_of(shop).network.open()
    return shop


def services_of(shop: Shop) -> Services:
    assert isinstance(shop.client.app, FastAPI)
    found = shop.client.app.state.services
    assert isinstance(found, Services)
    return found


def device(
    shop: Shop,
    *,
    peer: str = PEER,
    token: str = "",
    host: str = "192.0.2.2:8643",
    scheme: str = "http",
) -> Client:
    """A device in the network; with a token where it has one."""
    client = Client(
        shop.client.app, base_url=f"{scheme}://{host}", peer=peer, follow_redirects=False
    )
    if token:
        client.headers["cookie"] = f"{services_of(shop).network.cookie}={token}"
    return client


def paired(shop: Shop, name: str = "Phone") -> str:
    """A device that was paired, by its token."""
    devices = services_of(shop).devices
    done = devices.pair(devices.show_code().text, name=name, by="10.0.0.1")
    assert isinstance(done, Paired)
    return done.token


def addresses() -> list[str]:
    """Every address of the program that a route has, every kind of file, and what is none."""
    files = ("/static/x/look.css", "/static/../webapp/app.py", "/favicon.ico", "/feed.ics")
    return sorted({path for _, path in routes()} | {*files, "/nothing", "//", "/pair/", "/PAIR"})


def is_the_page(answer: httpx.Response) -> bool:
    """Whether an answer is the page that says how to pair, to the byte."""
    return (
        answer.status_code == 403
        and answer.content == (b"" if answer.request.method == "HEAD" else PAGE)
        and "set-cookie" not in answer.headers
    )


def test_the_crawl_has_every_route() -> None:
    found = addresses()
    assert len(found) > 150
    for known in ("/", "/copies", "/network", "/network/code", "/builds/the-heron/document"):
        assert known in found


@pytest.mark.parametrize("method", [*MEANT, *OTHER])
def test_without_a_token_every_address_shows_the_page(network: Shop, method: str) -> None:
    """Every address with what it may be meant for, and with one of the other methods."""
    stranger, before = device(network), network.stored()
    bodies = {"wish": "A lamp", "name": "x", "turn": "off", "code": "AAAA-AAAA"}
    all_of_them = addresses()
    asked = all_of_them if method in MEANT else all_of_them[OTHER.index(method) :: len(OTHER)]
    for path in asked:
        if path == "/pair":
            continue
        body = bodies if method in ("POST", "PUT", "PATCH") else None
        answer = stranger.request(method, path, data=body)
        assert is_the_page(answer), (method, path, answer.status_code)
    static = re.findall(r'"(/static/[^"]+)"', network.client.get("/").text)
    assert static
    for path in static:
        assert is_the_page(stranger.request(method, path)), path
    assert network.stored() == before


def test_no_made_up_old_or_stolen_token_shows_more(network: Shop) -> None:
    services = services_of(network)
    known = paired(network)
    old = paired(network, "Old phone")
    (turned,) = (each for each in services.devices.all() if each.name == "Old phone")
    services.devices.turn_away(turned.key)
    with network.database.reading() as session:
        (stored_hash,) = devices_by_hash(session)
    cookie = services.network.cookie
    tries = [
        *(f"{cookie}={token}" for token in ("", "x", old, stored_hash, known[:-1], known.upper())),
        *(f"{cookie}={known}; {cookie}=x", f"{cookie}=x; {cookie}={known}", f"other={known}"),
        *(f"{cookie}-2={known}", f"{cookie}=\u00e9\u0000", f"{cookie}={'x' * 60_000}", known),
    ]
    stranger = device(network)
    for place, path in enumerate(addresses()):
        if path == "/pair":
            continue
        for value in tries if path in ("/", "/copies") else tries[place % 4 : place % 4 + 1]:
            answer = stranger.get(path, headers={b"cookie": value.encode("utf-8", "replace")})
            assert is_the_page(answer), (path, value[:80])
    answer = stranger.get("/", headers={"authorization": f"Bearer {known}", "x-token": known})
    assert is_the_page(answer)
    assert device(network, token=known).get("/").status_code == 200


def test_a_paired_device_has_every_page_and_can_log_a_wish(network: Shop) -> None:
    phone = device(network, token=paired(network))
    for name in ("", "builds/the-heron/bench", "builds/the-heron/document", "copies", "network"):
        assert phone.get(f"/{name}").status_code == 200
    sheet = re.findall(r'"(/static/[^"]+\.css)"', phone.get("/").text)[0]
    assert phone.get(sheet).status_code == 200
    headers = {"origin": "http://192.0.2.2:8643"}
    answer = phone.post("/builds/the-heron/wishes", data={"wish": "A lamp"}, headers=headers)
    assert answer.status_code == 303
    assert network.stored().wishes[-1].text == "A lamp"


# --- calendars ------------------------------------------------------------------------------
def test_a_calendar_is_let_in_to_its_own_address_and_to_nothing_else(network: Shop) -> None:
    feeds = services_of(network).feeds.addresses
    secret = feeds.make("Phone", build="", today=dt.date(2026, 2, 10))
    calendar = device(network)
    assert calendar.get(f"/feed/{secret}.ics").text.startswith("BEGIN:VCALENDAR")
    assert calendar.head(f"/feed/{secret}.ics").status_code == 200
    for other in (
        *(f"/feed/{secret[:-1]}.ics", f"/feed/{secret}", f"/feed/{secret}.ics/", "/feed/.ics"),
        *(f"/feed/{secret}.ics/../../copies", f"/copies?x=/feed/{secret}.ics", "/feeds", "/"),
    ):
        assert is_the_page(calendar.get(other)), other
    for method in ("POST", "PUT", "DELETE", "OPTIONS"):
        assert is_the_page(calendar.request(method, f"/feed/{secret}.ics")), method
    assert calendar.get(f"/feed/{secret}.ics", headers={"host": "evil.example"}).status_code == 400
    services_of(network).network.close()
    assert is_the_page(calendar.get(f"/feed/{secret}.ics"))


def test_the_addresses_that_were_made_on_a_device_go_with_it(network: Shop) -> None:
    """Else a phone that is lost goes on reading what it made itself a way to."""
    phone = device(network, token=paired(network))
    feeds = services_of(network).feeds.addresses
    own = feeds.make("Laptop", build="", today=dt.date(2026, 2, 10))
    taken_over = feeds.make("Taken over", build="", today=dt.date(2026, 2, 10))
    made = phone.get(
        phone.post("/feeds/new", data={"name": "Phone", "build": ""}).headers["location"]
    )
    (theirs,) = re.findall(r'id="new-address">[^<]*(/feed/[^<]+)', made.text)
    key = next(each.key for each in feeds.all() if each.name == "Taken over")
    changed = phone.get(phone.post(f"/feeds/change?key={key}").headers["location"])
    (also_theirs,) = re.findall(r'id="new-address">[^<]*(/feed/[^<]+)', changed.text)
    for address in (theirs, also_theirs, f"/feed/{own}.ics"):
        assert device(network).get(address).status_code == 200
    assert is_the_page(device(network).get(f"/feed/{taken_over}.ics"))
    (turned,) = services_of(network).devices.all()
    answer = network.client.post("/network/turn-away", data={"device": str(turned.key)})
    assert answer.status_code == 200
    for address in (theirs, also_theirs):
        assert is_the_page(device(network).get(address))
    assert device(network).get(f"/feed/{own}.ics").status_code == 200


# --- names, origins, proxies ----------------------------------------------------------------
@pytest.mark.parametrize(
    "host", ["evil.example", "vm.evil.example", "local", "192.0.2.2@x", "", "x"]
)
def test_by_another_name_nobody_is_let_in(network: Shop, host: str) -> None:
    token = paired(network)
    for path in ("/", "/pair", "/builds/the-heron/bench"):
        for client in (device(network), device(network, token=token)):
            answer = client.get(path, headers={"host": host})
            assert answer.status_code == 400
            assert "does not answer to that name" in answer.text
            assert "Heron" not in answer.text


@pytest.mark.parametrize("host", ["192.0.2.2:8643", "bench.local", "BENCH.local:8643", "[fd00::2]"])
def test_addresses_and_local_names_are_answered_once_it_is_on(network: Shop, host: str) -> None:
    token = paired(network)
    assert device(network, token=token).get("/", headers={"host": host}).status_code == 200
    assert network.client.get("/", headers={"host": host}).status_code == 400, "at the machine"


def test_the_machine_has_its_own_name_in_the_network(
    network: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("socket.gethostname", lambda: "Bench.example.org")
    phone = device(network, token=paired(network))
    for host in ("bench", "bench.example.org", "bench.local"):
        assert phone.get("/", headers={"host": host}).status_code == 200
    assert phone.get("/", headers={"host": "example.org"}).status_code == 400


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://192.0.2.2:9999"])
def test_no_other_site_pairs_or_changes_anything(network: Shop, origin: str) -> None:
    code = services_of(network).devices.show_code().text
    answer = device(network).post("/pair", data={"code": code}, headers={"origin": origin})
    assert answer.status_code == 403
    assert "set-cookie" not in answer.headers
    assert services_of(network).devices.shown_code() is not None
    phone, before = device(network, token=paired(network)), network.stored()
    answer = phone.post(
        "/builds/the-heron/wishes", data={"wish": "A lamp"}, headers={"origin": origin}
    )
    assert answer.status_code == 403
    assert network.stored() == before


@pytest.mark.parametrize("peer", ["127.0.0.1", "127.8.8.8", "::1", "::ffff:127.0.0.1"])
def test_the_machine_itself_needs_no_pairing(shop: Shop, peer: str) -> None:
    at_it = device(shop, peer=peer, host="127.0.0.1:8642")
    assert at_it.get("/builds/the-heron/bench").status_code == 200


@pytest.mark.parametrize(
    "peer",
    [
        *("192.0.2.2", "::ffff:192.0.2.2", "fe80::1%eth0", "::", "0.0.0.0", "testclient", ""),
        *("::ffff:0:127.0.0.1", "2002:7f00:1::", "127.0.0.1.evil.example", "127.1", "0177.0.0.1"),
    ],
)
def test_nobody_else_is_the_machine(network: Shop, peer: str) -> None:
    for host in ("127.0.0.1:8642", "localhost", "192.0.2.2:8643"):
        answer = device(network, peer=peer, host=host).get("/builds/the-heron/bench")
        assert is_the_page(answer), host


@pytest.mark.parametrize(
    "name", ["x-forwarded-for", "Forwarded", "X-Real-IP", "via", "x-forwarded-host"]
)
def test_no_header_makes_a_device_the_machine_and_a_proxy_is_not_it(
    network: Shop, name: str
) -> None:
    headers = {name: "127.0.0.1"}
    assert is_the_page(device(network).get("/", headers=headers))
    at_it = device(network, peer="127.0.0.1", host="127.0.0.1:8642")
    assert is_the_page(at_it.get("/", headers=headers))


def test_what_came_in_by_the_network_is_not_the_machine_whatever_its_address(network: Shop) -> None:
    """A tunnel that ends on this machine comes from its loopback."""
    inner = network.client.app

    async def by_network(scope, receive, send):  # type: ignore[no-untyped-def]
        await inner({**scope, FROM_NETWORK: True}, receive, send)

    client = TestClient(by_network, base_url="http://127.0.0.1:8642", client=("127.0.0.1", 1))
    assert is_the_page(client.get("/builds/the-heron/bench"))


# --- the code -------------------------------------------------------------------------------
def test_a_code_lets_one_device_in_and_its_cookie_is_for_no_script(network: Shop) -> None:
    code = services_of(network).devices.show_code().text
    first, second = device(network), device(network, peer="192.0.2.78")
    form = first.get(f"/pair?code={code}")
    assert form.status_code == 200
    assert f'value="{code}"' in form.text
    origin = {"origin": "http://192.0.2.2:8643"}
    answer = first.post("/pair", data={"code": code, "name": " Bench \n phone "}, headers=origin)
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    cookie = answer.headers["set-cookie"]
    assert re.fullmatch(
        r"keyturn-[0-9a-f]{8}=[\w-]{43}; Path=/; Max-Age=34560000; HttpOnly; SameSite=Strict",
        cookie,
    )
    assert first.get("/").status_code == 200
    assert [each.name for each in services_of(network).devices.all()] == ["Bench phone"]
    replayed = second.post("/pair", data={"code": code, "name": "Another"})
    assert replayed.status_code == 422
    assert "set-cookie" not in replayed.headers
    assert is_the_page(second.get("/"))


def test_over_tls_the_cookie_is_for_tls_alone(network: Shop) -> None:
    code = services_of(network).devices.show_code().text
    answer = device(network, scheme="https").post("/pair", data={"code": code})
    assert answer.headers["set-cookie"].endswith("; Secure")


def test_an_expired_code_is_no_code(network: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    devices = services_of(network).devices
    code = devices.show_code().text
    monkeypatch.setattr(devices._pairing, "_clock", lambda: devices._pairing._ends)
    answer = device(network).post("/pair", data={"code": code})
    assert answer.status_code == 422
    assert "ten minutes" in answer.text


def test_a_flood_is_slowed_and_neither_keeps_the_owner_nor_the_paired_out(network: Shop) -> None:
    devices = services_of(network).devices
    phone = device(network, token=paired(network))
    code = devices.show_code().text
    stranger = device(network)
    statuses = [stranger.post("/pair", data={"code": "AAAA-AAAA"}).status_code for _ in range(200)]
    assert statuses == [422] * TRIES_OF_ONE + [429] * (200 - TRIES_OF_ONE)
    late = stranger.post("/pair", data={"code": code})
    assert (late.status_code, late.headers["retry-after"]) == (429, "60")
    assert network.client.get("/network").status_code == 200
    assert phone.get("/").status_code == 200
    fresh = device(network, peer="192.0.2.90").post("/pair", data={"code": code})
    assert fresh.status_code == 303


@pytest.mark.parametrize(
    "body",
    [
        *(b"", b"code", b"code=%ff%fe", b"code=" + b"x" * 3000, b"&" * 3000, b"code=%00&name=%00"),
        *(b"code=a&code=b", b"\xff\xfe\x00", b"name=%F0%9F%9A", b"=&=" * 500),
    ],
)
def test_whatever_is_sent_as_a_code_gets_the_page(network: Shop, body: bytes) -> None:
    for kind in ("application/x-www-form-urlencoded", "multipart/form-data", "text/plain", ""):
        answer = device(network).post("/pair", content=body, headers={"content-type": kind})
        assert answer.status_code in (422, 429)
        assert "Pair this device" in answer.text


def test_what_is_too_long_for_a_code_is_not_read(network: Shop) -> None:
    answer = device(network).post("/pair", content=b"x" * 100_000)
    assert answer.status_code == 413
    assert answer.content == PAGE


def test_what_stands_in_the_way_of_storing_is_not_told_to_a_stranger(
    network: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_given: object, **_named: object) -> None:
        raise UnusableDatabaseError(f"The disk that holds {network.data_file} is full.", "full")

    code = services_of(network).devices.show_code().text
    monkeypatch.setattr("webapp.services.devices.add_device", refuse)
    answer = device(network).post("/pair", data={"code": code})
    assert answer.status_code == 503
    assert str(network.data_file) not in answer.text


def test_a_name_with_markup_is_shown_as_text(network: Shop) -> None:
    name = '"><script>alert(1)</script>'
    answer = device(network).post("/pair", data={"code": name, "name": name})
    assert "<script" not in answer.text
    code = services_of(network).devices.show_code().text
    device(network, peer="192.0.2.78").post("/pair", data={"code": code, "name": name})
    page = network.client.get("/network").text
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page


def test_the_page_asks_for_nothing_that_is_not_in_it(network: Shop) -> None:
    answer = device(network).get("/")
    policy = answer.headers["content-security-policy"]
    assert "unsafe" not in policy
    assert "default-src 'none'" in policy
    assert not re.search(r'(?:src|href)="(?!data:,|/")', answer.text)
    assert not re.search(r"<script|\sstyle=|\son[a-z]+=|@import|url\(", answer.text)
    assert answer.headers["cache-control"] == "no-store"


# --- the switch -----------------------------------------------------------------------------
def test_while_it_is_off_nobody_is_let_in_and_no_code_is_good(network: Shop) -> None:
    token = paired(network)
    code = services_of(network).devices.show_code().text
    services_of(network).network.close()
    for client in (device(network), device(network, token=token)):
        assert is_the_page(client.get("/"))
        assert client.post("/pair", data={"code": code}).status_code == 403
    services_of(network).network.open()
    assert device(network, token=token).get("/").status_code == 200


def test_a_restart_finds_the_switch_and_the_devices_as_they_were(
    network: Shop,
) -> None:
    token = paired(network)
    for again in opened(network.data_file):
        assert device(again, token=token).get("/").status_code == 200
