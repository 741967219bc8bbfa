"""The keypad of a phone has what is to be typed: a stroke for 1 1/2 in, a dash for -10."""

import re

import pytest

from tests.pages.conftest import Shop

SIZES = ("first_size", "other_size", "size_a", "size_b", "port_size")
"""Fields in which a fraction, a dash or a thread may stand."""
PAGES = ("runs/w_top", "piece?run=w_top&at=1", "port?key=rad.top", "new-on-shelf", "room")


def keypads(page: str) -> dict[str, str]:
    """The keypad of every field in the page, "" where it says none."""
    fields = re.findall(r"<input [^>]*>", page[page.index("<main") :])
    found = {}
    for field in fields:
        name = re.search(r'name="([^"]+)"', field)
        pad = re.search(r'inputmode="(\w+)"', field)
        if name is not None and 'type="hidden"' not in field and "radio" not in field:
            found[name[1]] = "" if pad is None else pad[1]
    return found


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("page", PAGES)
def test_a_size_can_be_typed_with_a_stroke_and_a_dash(shop: Shop, units: str, page: str) -> None:
    assert shop.post("shop/units", units=units)[0] == 200
    pads = keypads(shop.page(page))
    for name, pad in pads.items():
        if name in SIZES:
            assert pad == "text", name
        elif name in ("length_mm", "wall_mm", "bore_mm", "low", "high", "measured", "mm-0"):
            assert pad == ("decimal" if units == "metric" else "text"), name
        elif name == "angle":
            assert pad == "decimal"


@pytest.mark.parametrize(("units", "length"), [("metric", "decimal"), ("us", "text")])
def test_the_number_of_a_piece_has_the_keypad_of_its_kind(
    shop: Shop, units: str, length: str
) -> None:
    assert shop.post("shop/units", units=units)[0] == 200
    page = shop.page("runs/w_top")
    pads = dict(re.findall(r'name="piece" value="(\w+)"(?: checked)? data-keypad="(\w+)"', page))
    assert pads["hose"] == pads["tube"] == length
    assert pads["elbow"] == pads["bend"] == "decimal"
    assert pads["reducer"] == pads["adapter"] == pads["coupler"] == "text"  # 1 1/2 in, M16x1.5
