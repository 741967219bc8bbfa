"""The units of the shop: every page of plumbing in inches, and what is held as it was."""

import html
import json
import re
from collections.abc import Iterator
from fractions import Fraction
from urllib.parse import quote_plus

import pytest

from tests.pages.conftest import Shop
from tests.pages.plumbing.test_drawing_runs import next_form
from tests.pages.test_journal import undo_fields
from tests.pages.test_two_windows import opened, saved
from webapp.build.by_key import get_by_key
from webapp.build.limits import MOST_BAR
from webapp.build.plumbing import Circuit
from webapp.pages.words import sizes
from webapp.plumbing.sizes import TRADE_SIZES_MM, called_in_inches, trade_size

PAGES = (
    *("plumbing", "buy-list", "cut-list", "joints", "shelf", "coolant?circuit=coolant&frost=-20"),
    *("sizing", "data-sheet", "wire?key=starter", "belt?key=belt"),
    *("limit?check=charge_speed&at=hot1", "limit?check=fuel_return&at=f4"),
    *("new-circuit", "new-on-shelf", "room"),
)
METRIC = re.compile(r"\d\s*(?:mm|m|cm|l|ml|bar|°C)\b(?!²)")
"""A figure in mm, m, litres, bar or °C."""
NAMED = re.compile(r"(?:(clamps?) ([\d.]+) to )?(?<![\d.,])([\d.]+) mm\b")
"""A size in the name of a thing."""


def plumbing_pages(shop: Shop) -> Iterator[tuple[str, str]]:
    """Every page of plumbing by name: the bay, circuits, runs and their pieces, components and
    their ports, the lists, the forms; tags taken out, what stands in fields left in."""
    build = shop.stored().plumbing
    names = [*PAGES]
    for circuit in build.circuits:
        names += [f"plumbing/{circuit.key}", f"circuit-form?key={circuit.key}"]
        names += [f"new-run?circuit={circuit.key}", f"remove-circuit?key={circuit.key}"]
    for run in build.runs:
        names += [f"runs/{run.key}", f"run-form?key={run.key}", f"tasks-of-run?key={run.key}"]
        names += [f"piece?run={run.key}&at={at}" for at in range(1, len(run.pieces) + 1)]
    for component in build.components:
        names.append(f"component?key={component.key}")
        names += [f"port?key={quote_plus(f'{component.key}.{p.name}')}" for p in component.ports]
    for list_, link in (("cut-list", r"cut-list\?[^\"]+"), ("shelf", r"shelf-thing\?[^\"]+")):
        found = re.findall(rf'href="/builds/the-heron/({link})"', shop.page(list_))
        names += [html.unescape(one) for one in found]
    said = [circuit.test for circuit in build.circuits if circuit.test]
    ports = (port for component in build.components for port in component.ports)
    said += [port.size for port in ports if isinstance(port.size, str)]  # "cap seat 1.0 bar"
    said += [part.name for part in shop.stored().parts]  # "Coolant concentrate, 10 litres"
    yield from ((name, _words(shop.page(name), said)) for name in names)


def _words(page: str, said: list[str]) -> str:
    """What stands on a page and in its fields, without the person's own words."""
    page = page[page.index("<main") :]
    fields = re.findall(r'<input (?![^>]*type="hidden")[^>]*(?:value|placeholder)="([^"]*)"', page)
    words = " ".join(re.sub(r"<[^>]+>", " ", page).split()) + " | " + " | ".join(fields)
    for text in said:
        words = words.replace(text, "")
    return NAMED.sub(_without_a_name, words)


def _without_a_name(size: re.Match[str]) -> str:
    """A size that no inches go by stays in mm in a name: nobody sells a hose of 1.97 in."""
    is_name = size[1] is not None or called_in_inches(float(size[3])) is None
    return "" if is_name else size[0]


def document(shop: Shop) -> dict[str, object]:
    """The document of the build as it is exported."""
    found: dict[str, object] = json.loads(shop.client.get("/builds/the-heron/document").text)
    return found


def test_in_inches_no_page_of_plumbing_has_a_metric_figure_and_the_document_stays(
    shop: Shop,
) -> None:
    before = document(shop)
    assert any(METRIC.search(text) for _, text in plumbing_pages(shop))
    status, text = shop.post("shop/units", units="us")
    assert status == 200
    assert "inches, psi, °F, US gallons" in text
    for name, words in plumbing_pages(shop):
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
                "reducer 76-50 silicone",
                "hose 13 EPDM",
                "clamp 40-60",
                "clamp 38.1-50.8",
            )
        }
    finally:
        sizes.write_in("metric")
    assert list(called.values()) == [
        "adapter bead 3/4 in - flange 2-bolt 18",  # 3/4 in is 19.05 mm
        "bend 2 1/2 in 45° stainless",
        "plug G1/4",
        "plug 1-12",  # a thread of twelve turns to the inch
        "reducer 3 to 2 3/8 in silicone",  # 76.2 and 60.325 mm go by 76 and 60
        "fuel hose quick end female 3/8 in - quick end female 3/8 in",  # 9.525 mm
        "reducer 3 in to 50 mm silicone",  # 1 15/16 in is 49.2 mm, 2 in is 50.8: neither is 50
        "hose 13 mm EPDM",  # 1/2 in goes by 12.5
        "clamp 40 to 60 mm",  # a range, and no trade size
        "clamp 1 1/2 to 2 in",
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


def test_every_inch_size_has_one_name_and_no_two_sizes_share_it() -> None:
    names = {size: called_in_inches(size) for size in TRADE_SIZES_MM}
    told = [inches for inches in names.values() if inches is not None]
    assert len(told) == len(set(told))
    for size, inches in names.items():
        if inches is not None:  # what is typed so is called by that very size
            assert trade_size(float(inches) * 25.4) == size
    assert (names[38], names[50], names[12.5]) == (Fraction(3, 2), None, Fraction(1, 2))


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"number": "1000"}, "1,000 in is no length: from 0.04 in to 787.4 in."),  # 20 m / 25.4
        ({"number": "-2"}, "\N{MINUS SIGN}2 in is no length"),
        ({"first_size": "100 in"}, "100 in is no bore or diameter: from 0.04 in to 19.69 in."),
        ({"number": ""}, "its length is missing"),
    ],
)
def test_limits_are_told_in_the_units_of_the_shop(
    shop: Shop, typed: dict[str, str], says: str
) -> None:
    shop.post("shop/units", units="us")
    form = {**next_form(shop, "w_top"), "piece": "hose", **typed}
    status, page = shop.post("next-piece", **form)
    assert status == 422
    assert says in html.unescape(page)
    assert " mm" not in html.unescape(page).partition('class="faults"')[2].partition("</ul>")[0]


def test_limits_of_pressure_kerf_and_room_are_told_in_the_units_of_the_shop(shop: Shop) -> None:
    shop.post("shop/units", units="us")
    status, page = saved(shop, opened(shop, "circuit-form?key=charge"), bar="99999")
    assert status == 422
    # 99,999 psi, of at most MOST_BAR x 14.5038
    most = MOST_BAR / 0.0689475729
    assert f"its pressure in psi: 99999 psi. Enter from 0 psi to {most:.1f} psi" in said(page)
    status, page = saved(shop, opened(shop, "room"), name="Grille", measured="2000")
    assert status == 422
    assert "in: 2000 in. Enter from" in said(page)


def said(page: str) -> str:
    return html.unescape(page)


def test_the_journal_tells_lengths_and_volumes_in_the_units_of_the_shop(shop: Shop) -> None:
    shop.post("shop/units", units="us")
    assert saved(shop, opened(shop, "piece?run=w_top&at=1"), length_mm="12 1/2")[0] == 200
    assert saved(shop, opened(shop, "component?key=rad"), litres__0="2")[0] == 200
    assert saved(shop, opened(shop, "circuit-form?key=charge"), bar="15")[0] == 200
    assert saved(shop, opened(shop, "port?key=rad.top"), port_size="1 3/8 in")[0] == 200
    assert saved(shop, opened(shop, "room"), name="Grille", measured="8", give="1/8")[0] == 200
    journal = said(shop.page("journal"))
    words = _words(journal, [])
    assert "25.197 in” to “hose 1 1/2 in, 12 1/2 in”" in words  # 640 / 25.4 = 25.197
    assert "to 2 US gal" in words
    assert "to 15 psi" in words
    assert "from bead 1 1/2 in to bead 1 3/8 in" in words
    assert METRIC.search(words.partition("inches, psi")[0]) is None
