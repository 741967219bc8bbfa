"""The parts list by supplier: each with its numbers, its dates and what is known of the price."""

import datetime as dt
from dataclasses import replace

from tests.pages.conftest import Shop
from webapp.build.build_input import BuildInput, Part
from webapp.pages.frame.context import page_of
from webapp.pages.parts.buying import NO_SUPPLIER, PartsList, parts_list
from webapp.storage.builds import create_build

FLAT = Part(key="flat", name="Flat bar", supplier="Ambrow", lead_days=3, cost=12.5)
HOSE = Part(key="hose", name="Hose", supplier=" Ambrow ", lead_days=10, cost=7.25)
CLAMP = Part(key="clamp", name="Clamp", supplier="Tolley")
RAG = Part(key="rag", name="Rag", lead_days=1)
HERE = Part(key="here", name="Bolts", supplier="Ambrow", cost=99, arrived=True)
COMING = Part(
    key="coming",
    name="Filter",
    supplier="Tolley",
    cost=4,
    ordered_on=dt.date(2026, 2, 3),
    promised_on=dt.date(2026, 2, 20),
)


def listed(shop: Shop, *parts: Part) -> PartsList:
    build: BuildInput = replace(shop.stored(), parts=parts, plumbing=type(shop.stored().plumbing)())
    with shop.database.writing() as session:
        slug = create_build(session, build)
    services = shop.client.app.state.services
    return parts_list(page_of(services, slug, "Parts"))


def test_parts_stand_by_supplier_whatever_spaces_were_typed_and_those_without_one_last(
    shop: Shop,
) -> None:
    found = listed(shop, RAG, FLAT, CLAMP, HOSE, COMING)
    names = {one.name: sorted(line.name for line in one.lines) for one in found.suppliers}
    assert names == {
        "Ambrow": ["Flat bar", "Hose"],
        "Tolley": ["Clamp", "Filter"],
        NO_SUPPLIER: ["Rag"],
    }
    assert [one.name for one in found.suppliers][-1] == NO_SUPPLIER
    numbers = [line.number for one in found.suppliers for line in one.lines]
    assert numbers == [1, 2, 3, 4, 5]


def test_what_is_here_is_not_on_the_list(shop: Shop) -> None:
    found = listed(shop, HERE, FLAT)
    assert [[line.name for line in one.lines] for one in found.suppliers] == [["Flat bar"]]
    assert listed(shop, HERE).suppliers == ()


def test_prices_are_summed_and_those_that_are_not_known_are_counted(shop: Shop) -> None:
    sums = {one.name: one.sum for one in listed(shop, RAG, FLAT, CLAMP, HOSE, COMING).suppliers}
    assert sums == {
        "Ambrow": "19.75 together.",  # 12.50 + 7.25
        "Tolley": "4 together, 1 price not known.",
        NO_SUPPLIER: "No price is known.",
    }


def test_a_line_says_how_long_it_takes_and_what_it_is_for(shop: Shop) -> None:
    serves = ("rad_bracket",)
    (supplier,) = listed(shop, replace(FLAT, serves=serves)).suppliers
    (line,) = supplier.lines
    assert (line.lead, line.price, line.serves) == (
        "3 days",
        "12.50",
        "for “Radiator lower bracket”",
    )
    assert line.when.startswith("Order")
