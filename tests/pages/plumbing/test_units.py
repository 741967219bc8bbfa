"""The units of the shop: every page of plumbing in inches, and what is held as it was."""

import json
import re

import pytest

from tests.pages.conftest import Shop
from tests.pages.test_journal import undo_fields
from tests.pages.test_two_windows import opened, saved
from webapp.build.by_key import get_by_key
from webapp.build.plumbing import Circuit
from webapp.pages.words import sizes

PAGES = (
    *("plumbing", "buy-list", "joints", "shelf", "coolant?circuit=coolant&frost=-20"),
    *("sizing", "data-sheet", "wire?key=starter", "belt?key=belt"),
    *("limit?check=charge_speed&at=hot1", "limit?check=fuel_return&at=f4"),
)
METRIC = re.compile(r"\d\s*(?:mm|m|cm|l|ml|bar|°C)\b(?!²)")
"""A figure in mm, m, litres, bar or °C."""


def plumbing_pages(shop: Shop) -> dict[str, str]:
    """Every page of plumbing: the bay, each circuit, each run, the lists; tags taken out."""
    build = shop.stored().plumbing
    names = (
        *PAGES,
        *(f"plumbing/{circuit.key}" for circuit in build.circuits),
        *(f"runs/{run.key}" for run in build.runs),
    )
    said = [circuit.test for circuit in build.circuits if circuit.test]
    ports = (port for component in build.components for port in component.ports)
    said += [port.size for port in ports if isinstance(port.size, str)]  # "cap seat 1.0 bar"
    return {name: _words(shop.page(name), said) for name in names}


def _words(page: str, said: list[str]) -> str:
    """What stands on a page without its tags, and without the person's own words."""
    words = " ".join(re.sub(r"<[^>]+>", " ", page[page.index("<main") :]).split())
    for text in said:
        words = words.replace(text, "")
    return words


def document(shop: Shop) -> dict[str, object]:
    """The document of the build as it is exported."""
    found: dict[str, object] = json.loads(shop.client.get("/builds/the-heron/document").text)
    return found


def test_in_inches_no_page_of_plumbing_has_a_metric_figure_and_the_document_stays(
    shop: Shop,
) -> None:
    before = document(shop)
    assert any(METRIC.search(text) for text in plumbing_pages(shop).values())
    status, text = shop.post("shop/units", units="us")
    assert status == 200
    assert "inches, psi, °F, US gallons" in text
    for name, words in plumbing_pages(shop).items():
        found = METRIC.search(words)
        assert found is None, (name, words[max(0, found.start() - 60) : found.end() + 20])
    after = document(shop)
    assert after["build"] == before["build"] | {"units": "us"}  # type: ignore[operator]
    assert all(after[key] == before[key] for key in ("tasks", "parts", "plumbing"))
    # 38 and 1 1/2 in are one hose; 640 mm / 25.4 = 25.1969 in; 15.608 l / 3.785411784 = 4.12 gal
    coolant = shop.page("plumbing/coolant")
    assert "25.2 in of hose 1 1/2 in coolant" in coolant
    assert "4.12 US gal" in coolant


def test_the_units_are_taken_back_like_anything_else(shop: Shop) -> None:
    before = shop.stored()
    _, text = shop.post("shop/units", units="imperial")
    assert shop.stored().units == "imperial"
    shop.post("journal/take-back", **undo_fields(text))
    assert shop.stored().units == before.units == "metric"


def test_names_of_things_keep_their_threads_flanges_and_counts_in_inches() -> None:
    sizes.write_in("us")
    try:
        called = {
            name: sizes.called(name)
            for name in (
                "adapter bead 19 - flange 2-bolt 18",
                "bend 63.5 45° stainless",
                "plug G1/4",
                "plug 1-12",
                "reducer 76-60 silicone",
                "fuel hose quick_female 9.5 - quick_female 9.5",
            )
        }
    finally:
        sizes.write_in("metric")
    assert list(called.values()) == [
        "adapter bead 3/4 in - flange 2-bolt 18",  # 3/4 in is 19.05 mm
        "bend 2 1/2 in 45° stainless",
        "plug G1/4",
        "plug 1-12",  # a thread of twelve turns to the inch
        "reducer 3 to 2.36 in silicone",  # 76.2 mm is 3 in; 60 / 25.4 = 2.362
        "fuel hose quick end female 3/8 in - quick end female 3/8 in",  # 9.525 mm
    ]


def test_bare_numbers_are_read_in_the_units_of_the_shop(shop: Shop) -> None:
    shop.post("shop/units", units="us")
    form = opened(shop, "new-on-shelf")
    status, _ = saved(shop, form, piece="hose", first_size="1/2 in", length_mm="10", of="fuel")
    assert status == 200
    # Half an inch is 12.7 mm; ten inches are 254 mm.
    shelf = shop.stored().plumbing.shelf
    assert any((thing.size, thing.length_mm) == (12.7, 254) for thing in shelf)


def test_a_pressure_in_psi_that_nobody_touched_stays_to_the_last_digit(shop: Shop) -> None:
    def charge() -> Circuit:
        return get_by_key(shop.stored().plumbing.circuits, "charge")

    before = charge()
    shop.post("shop/units", units="us")
    form = opened(shop, "circuit-form?key=charge")
    assert form.sent["bar"] == ["20.3 psi"]  # 1.4 / 0.0689475729 = 20.305
    saved(shop, form, name="Charge pipes")
    assert (charge().name, charge().bar) == ("Charge pipes", before.bar)
    form = opened(shop, "circuit-form?key=charge")
    saved(shop, form, bar="15")
    assert charge().bar == pytest.approx(15 * 0.0689475729)
