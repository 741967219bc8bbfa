"""A measured space on its page: what is left, taken back, and what can not be."""

from tests.pages.conftest import Shop
from tests.pages.test_journal import undo_fields
from tests.pages.test_two_windows import opened, saved

NOSE = {
    "name": "Nose of the van",
    "measured": "100",
    "give": "3",
    "thing__0": "radiator",
    "mm__0": "56",
    "thing__1": "gap to the fan",
    "mm__1": "38",
    "give__1": "4",
    "kind__1": "gap",
}


def test_a_room_is_stacked_told_with_how_and_taken_back(shop: Shop) -> None:
    status, page = saved(shop, opened(shop, "room"), **NOSE)
    assert status == 200
    # 100 - 56 - 38 = 6 left; at the worst 6 - 3 - 4 = -1; root sum square 6 - √(3² + 4²) = 1.
    for figure in ("6 mm left", "1 mm missing", "1 mm left"):
        assert f'data-figure="room">{figure}<' in page
    assert "√(3² + 4²) less" in page
    (room,) = shop.stored().rooms
    assert [one.kind for one in room.holds] == ["piece", "gap"]
    shop.post("journal/take-back", **undo_fields(page))
    assert shop.stored().rooms == ()


def test_what_can_not_be_in_a_room_is_refused_by_name(shop: Shop) -> None:
    wrong = {"mm__0": "deep", "mm__1": "", "measured": "-5"}
    status, page = saved(shop, opened(shop, "room"), **NOSE | wrong)
    assert status == 422
    assert "radiator" in page
    assert "gap to the fan: nothing is measured" in page
    assert shop.stored().rooms == ()


def test_a_room_has_as_many_rows_as_are_wanted_and_nothing_typed_is_lost(shop: Shop) -> None:
    form = opened(shop, "room")
    status, page = saved(shop, form, **NOSE, more="1")
    assert status == 200
    assert shop.stored().rooms == ()
    assert 'name="thing-9"' in page  # five rows, and five more
    assert 'name="thing-0" value="radiator"' in page
    assert 'name="mm-1" value="38"' in page
    typed = {**NOSE, "thing__8": "fan", "mm__8": "60", "kind__8": "piece"}
    more = {f"{stem}__{row}": "" for row in range(5, 8) for stem in ("thing", "mm", "give")}
    assert saved(shop, form, **more, **typed)[0] == 200
    (room,) = shop.stored().rooms
    assert [one.name for one in room.holds] == ["radiator", "gap to the fan", "fan"]
