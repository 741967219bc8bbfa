"""Circuits, components, ports and the shelf drawn by forms, from an empty build on."""

import html
import re
from urllib.parse import quote_plus

import pytest

from tests.pages.conftest import NOW, Shop
from tests.pages.plumbing.test_work import undo
from tests.pages.test_two_windows import opened, saved
from webapp.build.by_key import get_by_key
from webapp.build.plumbing import Component, Port, Waiver
from webapp.build.verbs.components import port_at
from webapp.services.seed_builds import usual_components

COOLANT = {
    "name": "Coolant",
    "medium": "water",
    "begins": "new:engine_coolant",
    "ends": "",
    "hose": "coolant",
    "tube": "steel",
}


def port_of(shop: Shop, address: str) -> Port:
    found = port_at(shop.stored(), address)
    assert found is not None
    return found[1]


def component_of(shop: Shop, key: str) -> Component:
    return get_by_key(shop.stored().plumbing.components, key)


def said(page: str) -> str:
    return html.unescape(page)


def test_every_usual_component_is_offered_with_its_ports() -> None:
    usual = usual_components()
    assert len(usual) == 48  # as the list says that they were taken from
    for one in usual:
        assert len({port.name for port in one.ports}) == len(one.ports) > 0
        assert all("." not in port.name for port in one.ports)


def test_a_first_circuit_is_drawn_in_an_empty_build(unplumbed: Shop) -> None:
    assert "/new-circuit" in unplumbed.page("plumbing")
    assert "new: Engine water jacket" in unplumbed.page("new-circuit")
    status, page = unplumbed.post("new-circuit", **COOLANT)
    assert status == 200
    circuit = unplumbed.stored().plumbing.circuits[0]
    jacket = "Engine water jacket"
    assert circuit.from_port == f"{jacket}.out (thermostat)"  # the first outlet of the jacket
    assert circuit.to_port == f"{jacket}.in (pump)"  # a loop comes back to it
    assert (circuit.hose, circuit.tube) == ("coolant", "steel")

    offered = unplumbed.page("new-component?circuit=Coolant")
    assert offered.index("Radiator") < offered.index("Of other media") < offered.index("Fuel tank")
    form = unplumbed.page("new-component?circuit=Coolant&kind=radiator")
    assert "usually 28-45 mm OD; crossflow: upper side tank" in form
    sizes = {"port_size-0": "1 1/2 in", "port_size-1": "38", "port_size-3": "G1/4"}
    usual = dict(
        re.findall(r'name="((?:end|of_circuit)-\d)".*?value="([^"]*)" selected', form, re.S)
    )
    status, page = unplumbed.post(
        "new-component?circuit=Coolant&kind=radiator",
        name="Radiator",
        litres="5.2",
        **sizes,
        **usual,
    )
    assert status == 200
    ports = {
        port.name: (port.end, port.size, port.role)
        for port in component_of(unplumbed, "Radiator").ports
    }
    assert ports["top"] == ("bead", 38.1, None)  # 1.5 x 25.4
    assert ports["drain"] == ("female", "G1/4", "drain")
    assert ports["vent"] == ("spigot", None, "vent")  # not measured yet
    assert "its size is not measured" in page
    assert component_of(unplumbed, "Radiator").volumes[0].litres == 5.2


def test_no_circuit_is_offered_to_begin_at_the_seat_of_a_sender(shop: Shop) -> None:
    text = shop.page("new-circuit")
    assert '<option value="port:header.vent b"' in text
    for address in ("engine.water sender", "rad.fan switch"):  # nothing flows through either
        assert f'value="port:{address}"' not in text


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"name": ""}, "The name of the circuit is missing"),
        ({"medium": ""}, "Coolant, medium: none is picked"),
        ({"begins": ""}, "Where it begins: nothing is picked"),
        ({"begins": "new:unheard"}, "this is not in the list"),
        ({"begins": "new:outlet", "ends": "new:radiator"}, "nothing flows out of “End of a pipe"),
    ],
)
def test_a_circuit_that_says_too_little_is_refused_and_kept(
    unplumbed: Shop, typed: dict[str, str], says: str
) -> None:
    fields = {**COOLANT, **typed}
    status, page = unplumbed.post("new-circuit", **fields)
    assert status == 422
    assert says in said(page)
    assert 'value="coolant"' in page
    assert unplumbed.stored().plumbing.circuits == ()


@pytest.mark.parametrize(
    ("size", "says"),
    [
        ("0", "0 mm is no size of a bead: from 1 to 500 mm"),
        ("10000", "10,000 mm is no size of a bead"),
        ("M16x1.5", "is a thread, and a bead has a size"),
    ],
)
def test_a_port_is_measured_or_refused_with_what_was_typed(
    shop: Shop, size: str, says: str
) -> None:
    form = opened(shop, "port?key=rad.top")
    status, page = saved(shop, form, port_size=size)
    assert status == 422
    assert says in said(page)
    assert f'value="{size}"' in page
    assert port_of(shop, "rad.top").size == 38


def test_a_port_is_measured_named_anew_and_two_windows_are_asked(shop: Shop) -> None:
    one, other = opened(shop, "port?key=rad.top"), opened(shop, "port?key=rad.top")
    assert saved(shop, one, port_size="40", name="upper")[0] == 200
    assert port_of(shop, "rad.upper").size == 40
    assert get_by_key(shop.stored().plumbing.runs, "w_top").to_port == "rad.upper"
    assert saved(shop, other, port_size="41")[0] == 422  # it is called otherwise by now
    one, other = opened(shop, "port?key=rad.upper"), opened(shop, "port?key=rad.upper")
    assert saved(shop, one, port_size="38")[0] == 200
    status, page = saved(shop, other, port_size="41")
    assert status == 422
    assert "it says “38” now, and you typed “41”" in said(page)


def test_a_cap_goes_on_with_a_day_and_comes_off_by_a_press(shop: Shop) -> None:
    page = shop.page("port?key=rad.drain")
    assert "It is capped" in page
    day = NOW.date().replace(day=1).isoformat()
    press = {"about": "rad.drain", "port": "rad.drain"}
    assert shop.post("port-work", **press, does="capped", on=day)[0] == 200
    stop = port_of(shop, "rad.drain").stop
    assert stop is not None
    assert str(stop.on) == day
    assert "The cap is off" in shop.page("port?key=rad.drain")
    lying = sum(thing.count for thing in shop.stored().plumbing.shelf if thing.piece == "cap")
    assert shop.post("port-work", **press, does="uncapped")[0] == 200
    assert port_of(shop, "rad.drain").stop is None
    shelf = shop.stored().plumbing.shelf
    assert sum(thing.count for thing in shelf if thing.piece == "cap") == lying + 1
    status, page = shop.post("port-work", **press, does="capped", on=f"{NOW.year + 1}-01-01")
    assert status == 422
    assert "still to come" in page


def test_a_cover_comes_off_by_a_press(shop: Shop) -> None:
    form = opened(shop, "port?key=rad.drain")
    assert saved(shop, form, stop="cover")[0] == 200
    press = {"about": "rad.drain", "port": "rad.drain", "does": "cover-off"}
    assert "The cover is off" in shop.page("port?key=rad.drain")
    assert shop.post("port-work", **press)[0] == 200
    assert port_of(shop, "rad.drain").stop is None


def test_a_component_that_runs_hang_on_says_which(shop: Shop) -> None:
    plumbing = shop.stored().plumbing
    for status, page in (
        (200, shop.page("remove-component?key=intercooler")),
        shop.post("remove-component?key=intercooler"),
    ):
        assert status in (200, 422)
        assert "runs hang on it: " in said(page)
        assert "Cold side" in said(page)
    assert shop.stored().plumbing == plumbing


def test_a_component_gets_a_port_and_goes_when_nothing_hangs_on_it(unplumbed: Shop) -> None:
    assert unplumbed.post("new-circuit", **COOLANT)[0] == 200
    place = "new-component?circuit=Coolant&kind=tee"
    ends = {
        f"{stem}-{n}": value
        for n in range(3)
        for stem, value in (("end", "bead"), ("of_circuit", "Coolant"))
    }
    assert unplumbed.post(place, name="T. left", litres="", **ends)[0] == 200
    key = component_of(unplumbed, "T left").key  # no dot in a key
    form = opened(unplumbed, f"new-port?component={quote_plus(key)}")
    assert saved(unplumbed, form, name="a", end="bead", flow="both")[0] == 422  # there is one
    assert saved(unplumbed, form, name="tap", end="female", port_size="G1/4")[0] == 200
    assert port_of(unplumbed, "T left.tap").size == "G1/4"
    assert unplumbed.post("remove-port?key=T left.tap")[0] == 200
    before = unplumbed.stored().plumbing
    status, page = unplumbed.removed(f"remove-component?key={key}")
    assert status == 200
    assert len(unplumbed.stored().plumbing.components) == 1
    assert undo(unplumbed, page)[0] == 200
    assert unplumbed.stored().plumbing == before


def test_a_circuit_is_changed_goes_without_and_is_kept_while_things_hang_on_it(
    shop: Shop,
) -> None:
    one, other = opened(shop, "circuit-form?key=vacuum"), opened(shop, "circuit-form?key=vacuum")
    assert saved(shop, one, name="Vacuum", bar="15 psi", test="hold 10 min")[0] == 200
    circuit = get_by_key(shop.stored().plumbing.circuits, "vacuum")
    assert (circuit.name, circuit.test) == ("Vacuum", "hold 10 min")
    assert circuit.bar == pytest.approx(1.0342, abs=0.0001)  # 15 x 0.0689476
    status, page = saved(shop, other, name="Brakes")
    assert status == 422
    assert "it says “Vacuum” now" in said(page)

    waive = {"circuit": "coolant", "why": "no drain"}
    assert shop.post("circuit-waived", **waive, reason="")[0] == 422
    assert shop.post("circuit-waived", **waive, reason="The hose comes off")[0] == 200
    circuit = get_by_key(shop.stored().plumbing.circuits, "coolant")
    assert Waiver(why="no drain", reason="The hose comes off") in circuit.waived
    assert shop.post("circuit-waived", **waive, does="no more")[0] == 200

    page = said(shop.page("remove-circuit?key=coolant"))
    assert "“Coolant” can not be removed yet" in page
    assert "belong to it. Remove them, or put them into another circuit first." in page
    assert shop.post("remove-circuit?key=coolant")[0] == 422


def test_a_circuit_of_two_ends_goes_with_them(unplumbed: Shop) -> None:
    assert unplumbed.post("new-circuit", **COOLANT)[0] == 200
    assert unplumbed.removed("remove-circuit?key=Coolant")[0] == 200
    assert unplumbed.stored().plumbing.components == ()


def test_a_thing_on_the_shelf_is_added_changed_and_taken_away(shop: Shop) -> None:
    form = opened(shop, "new-on-shelf")
    status, page = saved(shop, form, piece="hose", first_size="55", length_mm="-4", of="coolant")
    assert status == 422
    assert "-4 mm is no length" in said(page)
    assert 'value="55"' in page
    status, page = saved(shop, form, piece="hose", first_size="55", length_mm="900", of="coolant")
    assert status == 200
    assert "Undo" in page
    place = len(shop.stored().plumbing.shelf) - 1
    found = re.findall(rf'/builds/the-heron/(shelf-thing\?at={place}&[^"]+)"', said(page))
    one, other = opened(shop, found[0]), opened(shop, found[0])
    assert saved(shop, one, length_mm="850")[0] == 200
    status, page = saved(shop, other, length_mm="800")
    assert status == 422
    assert "it says “850” now, and you typed “800”" in said(page)
    clamp = {"piece": "clamp", "low": "40", "first_size": ""}
    status, page = saved(shop, form, **clamp)
    assert status == 422
    assert "from which to which diameter" in said(page)
    assert saved(shop, form, **clamp, high="60", count="4")[0] == 200
    page = said(shop.page("shelf"))
    address = re.findall(rf'/builds/the-heron/(shelf-thing\?at={place}&key=(\w+)&[^"]*)"', page)[0]
    assert shop.post("take-from-shelf", at=str(place), key=address[1])[0] == 200
    assert all(thing.size != 55 for thing in shop.stored().plumbing.shelf)
