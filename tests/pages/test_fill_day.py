"""Fill day: fluids to buy, volumes by circuit, mixture, dates of Parts, on one page."""

import re
from dataclasses import replace

from tests.pages.conftest import Shop
from tests.pages.test_two_windows import opened, saved
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.plumbing.plumbed import plumbed
from webapp.sizing.fill_day import fill_day


def plain(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page[page.index("<main") :]))


def part_of(page: str, circuit: str) -> str:
    """What stands under the heading of a circuit."""
    return next(
        plain("<main" + one) for one in page.split("<section") if f">{circuit}</a></h2>" in one
    )


def test_coolant_is_told_in_concentrate_and_water_by_the_typed_share(shop: Shop) -> None:
    """45 % of what the drawing holds: by hand 0.45 and 0.55 of it."""
    build = shop.stored()
    circuit = next(one for one in plumbed(build).circuits if one.circuit.key == "coolant")
    litres = circuit.litres.litres
    assert litres > 10
    page = shop.page("fill-day")
    text = part_of(page, "Coolant")
    concentrate, water = (f"{share * litres:.1f}".removesuffix(".0") for share in (0.45, 0.55))
    assert f"Concentrate {concentrate} l" in text
    assert f"Soft water {water} l" in text
    assert "it begins to freeze at -30 °C" in text or "it begins to freeze at -31 °C" in text
    assert f"about {litres:.1f} l" in text
    listed = plain("<main" + page.split("<tbody>")[1].split("</tbody>")[0])
    assert f"Concentrate Coolant {concentrate} l Soft water Coolant {water} l Diesel Fuel" in listed


def test_the_parts_and_the_task_that_it_waits_for_stand_with_their_days(shop: Shop) -> None:
    build = shop.stored()
    can = get_by_key(build.parts, "coolant_can")
    assert not can.arrived
    text = part_of(shop.page("fill-day"), "Coolant")
    assert f"Part: {can.name}" in text
    assert "Task: Fill and bleed the coolant planned" in text
    here = replace(build, parts=replaced_by_key(build.parts, replace(can, arrived=True)))
    fills = {one.circuit.key: one for one in fill_day(here, plumbed(here)).fills}
    assert can.key not in {part.key for part in fills["coolant"].parts}


def test_every_circuit_of_a_liquid_is_there_and_what_others_fill_has_no_amount(shop: Shop) -> None:
    page = shop.page("fill-day")
    fills = fill_day(shop.stored(), plumbed(shop.stored()))
    assert [one.circuit.key for one in fills.fills] == ["coolant", "fuel", "oil", "steering"]
    assert [circuit.key for circuit, _ in fills.others] == ["ac"]
    assert "A/C: filled by a certified technician" in plain(page)
    assert "Diesel full about 5" in part_of(page, "Fuel")
    assert not re.search(r"\bsafe\b", page)


def test_without_a_share_it_is_mixed_for_the_frost_and_without_both_it_is_asked(shop: Shop) -> None:
    saved(shop, opened(shop, "data-sheet"), antifreeze_percent="", from__antifreeze_percent="")
    # -25 °C lies 1/28.5 beyond 40 % (-24.8) towards 45 % (-30.5): 40.2 %
    assert "40 % concentrate and 60 % water" in part_of(shop.page("fill-day"), "Coolant")
    saved(shop, opened(shop, "data-sheet"), frost_c="")
    page = shop.page("fill-day")
    assert "nobody typed yet" in part_of(page, "Coolant")
    assert "data-sheet?asked=frost_c#frost_c" in page


def test_a_mixture_above_sixty_percent_is_refused(shop: Shop) -> None:
    saved(shop, opened(shop, "data-sheet"), antifreeze_percent="70", sure__antifreeze_percent="on")
    text = part_of(shop.page("fill-day"), "Coolant")
    assert "Above 60% the mixture freezes sooner again" in text
    assert "Concentrate" not in text


def test_a_hole_in_the_volumes_is_named_and_the_typed_volume_fills_it(shop: Shop) -> None:
    build = shop.stored()
    plumbing = build.plumbing
    bare = tuple(
        replace(one, volumes=()) if one.key == "rad" else one for one in plumbing.components
    )
    shop.become(replace(build, plumbing=replace(plumbing, components=bare)))
    name = get_by_key(plumbing.components, "rad").name
    assert f"Nobody said what these hold, so measure as you fill: {name}" in part_of(
        shop.page("fill-day"), "Coolant"
    )
    assert "not checked: the volume of" in plain(shop.page("sizing"))
    saved(shop, opened(shop, "data-sheet?asked=coolant_l"), coolant_l="16")
    text = part_of(shop.page("fill-day"), "Coolant")
    assert "Concentrate 7.2 l" in text  # 45 % of 16
    assert "The volume is the one that was typed" in text
    assert "coolant in the whole circuit" not in plain(shop.page("sizing"))


def test_in_gallons(shop: Shop) -> None:
    shop.post("shop/units", units="us")
    assert "US gal" in part_of(shop.page("fill-day"), "Coolant")
    assert not re.search(r"\d l\b", plain(shop.page("fill-day")))


def test_first_start_leads_to_it(shop: Shop) -> None:
    assert 'href="/builds/the-heron/fill-day"' in shop.page("first-start")
