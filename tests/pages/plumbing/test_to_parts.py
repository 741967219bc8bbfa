"""The buy list to Parts at one press, and from a part that came onto the shelf."""

from tests.pages.conftest import Shop
from tests.pages.plumbing.test_work import undo
from webapp.build.by_key import get_by_key


def test_the_buy_list_goes_to_parts_once_and_undo_takes_it_back(shop: Shop) -> None:
    before = shop.stored()
    page = shop.page("buy-list")
    assert "Put what lacks into Parts" in page
    status, page = shop.post("buy-list", lead_days="4")
    assert status == 200
    made = shop.stored()
    new = [part for part in made.parts if part.key.startswith("buy-")]
    assert len(new) == 10  # of the eleven circuits only the gearbox vent lacks nothing
    assert {part.lead_days for part in new} == {4}
    assert "All of it stands in" in page
    assert "Put what lacks into Parts" not in page
    assert shop.post("buy-list", lead_days="9")[0] == 200  # the other window, still open
    assert shop.stored() == made
    assert "brings 5 clamps 70-90 and joiner 76 aluminium" in shop.page("parts")
    assert undo(shop, page)[0] == 200
    assert shop.stored() == before


def test_days_that_are_no_number_are_told_and_kept(shop: Shop) -> None:
    before = shop.stored()
    status, page = shop.post("buy-list", lead_days="soon")
    assert status == 422
    assert 'value="soon"' in page
    assert shop.stored() == before


def test_a_part_that_comes_lies_on_the_shelf_at_the_same_press(shop: Shop) -> None:
    shop.post("buy-list", lead_days="4")
    assert shop.post("part-here", key="buy-intake")[0] == 200
    build = shop.stored()
    assert get_by_key(build.parts, "buy-intake").arrived
    assert not [line for line in build.plumbing.ordered if line.part == "buy-intake"]
    assert any(thing.range_mm == (70, 90) for thing in build.plumbing.shelf)


def test_a_part_that_is_here_by_its_form_is_put_on_the_shelf_by_a_press(shop: Shop) -> None:
    shelf = len(shop.stored().plumbing.shelf)
    shop.post("parts/silicone_hose", name="Silicone", arrived="on")
    assert "Put it on the shelf" in shop.page("buy-list")
    for _ in range(2):  # pressed in both windows
        status, page = shop.post("onto-shelf", key="silicone_hose")
        assert status == 200
        assert "Put it on the shelf" not in page
        assert len(shop.stored().plumbing.shelf) == shelf + 5  # it brings five things
    assert shop.post("onto-shelf", key="nothing")[0] == 404
