"""The pages of plumbing, asked for."""

import re

import pytest

from tests.pages.conftest import Shop, without_tokens
from tests.pages.test_how import explained
from tests.plumbing.heron import heron

CIRCUITS = [one.key for one in heron().plumbing.circuits]
LISTS = ("plumbing", "buy-list", "cut-list", "joints", "shelf")
TYPED = ("shelf",)
"""What stands in the table of this was typed by the person."""


@pytest.mark.parametrize("name", LISTS)
def test_each_list_is_a_page(shop: Shop, name: str) -> None:
    text = shop.page(name)
    assert '<a href="/builds/the-heron/plumbing" aria-current="page">Plumbing</a>' in text
    assert "<h1>" in text


def test_every_circuit_and_every_run_is_a_page_that_links_lead_to(shop: Shop) -> None:
    bay = shop.page("plumbing")
    for key in CIRCUITS:
        assert f'href="/builds/the-heron/plumbing/{key}"' in bay
        text = shop.page(f"plumbing/{key}")
        links = set(re.findall(r'href="/builds/the-heron/(runs/[^"]+)"', text))
        drawn = [run for run in heron().plumbing.runs if f"runs/{run.key}" in links]
        assert drawn or key == "gearvent"
        for run in drawn:
            assert run.name in shop.page(f"runs/{run.key}")


def test_the_picture_has_a_title_and_stands_beside_a_table(shop: Shop) -> None:
    text = shop.page("plumbing/coolant")
    assert text.count('<svg class="pic circ') == 2  # broad, and for a phone
    titles = re.findall(r'<title id="circuit-[a-z]+">([^<]+)</title>', text)
    said = (
        "Coolant, round from Engine, 2.2 turbo-diesel. The list and the table below say the same."
    )
    assert titles == [said, said]
    assert '<table class="cards runs">' in text


def test_no_figure_is_without_how_it_was_worked_out(shop: Shop) -> None:
    pages = (*LISTS, *(f"plumbing/{key}" for key in CIRCUITS), "runs/cold1", "runs/s2")
    shown = explained(shop, pages, typed=TYPED)
    assert {"litres", "clamp", "fit", "to-buy"} <= shown


@pytest.mark.parametrize("name", ["plumbing/nowhere", "runs/nowhere", "runs", "runs?key=nowhere"])
def test_what_is_not_there_is_answered_by_name(shop: Shop, name: str) -> None:
    answer = shop.client.get(f"/builds/the-heron/{name}")
    assert answer.status_code == 404
    assert "There is no" in answer.text


def test_a_circuit_is_found_by_a_key_in_the_query(shop: Shop) -> None:
    for asked, address in (
        ("plumbing?key=coolant", "plumbing/coolant"),
        ("runs?key=w_top", "runs/w_top"),
    ):
        assert without_tokens(shop.page(asked)) == without_tokens(shop.page(address))


def test_plumbing_stands_behind_parts_in_the_frame(shop: Shop) -> None:
    text = shop.page("bench")
    names = re.findall(r'<a href="/builds/the-heron/[a-z]+"[^>]*>([A-Z][a-z]+)</a>', text)
    assert names[names.index("Parts") :][:3] == ["Parts", "Plumbing", "Shop"]


def test_a_build_without_plumbing_says_what_the_page_is_for(unplumbed: Shop) -> None:
    for name in (*LISTS, "plumbing/coolant"):
        answer = unplumbed.client.get(f"/builds/the-heron/{name}")
        if name == "plumbing/coolant":
            assert answer.status_code == 404
            continue
        assert answer.status_code == 200
        assert "Nothing is plumbed in this build yet." in answer.text
        assert "Begin with one circuit" in answer.text
