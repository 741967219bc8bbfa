"""A tick that takes a thing out: what another window changed of it meanwhile does not go unseen."""

import html

import pytest

from tests.benchmarks.forms_found import forms_in
from tests.pages.conftest import Shop
from tests.pages.plumbing.test_room import NOSE
from tests.pages.test_two_windows import opened, saved, saving

ROOM = "room?key=nose-of-the-van"
LIMIT = "limit?check=charge_speed&at=hot1"
TICKED = (
    ("wire?key=fan", "remove", {"name": "Fan feed, thicker"}),
    ("belt?key=belt", "remove", {"length": "1210"}),
    ("belt?key=belt", "remove", {"x__1": "77"}),
    (ROOM, "remove", {"measured": "880"}),
    (LIMIT, "usual", {"ok": "35"}),
    (LIMIT, "usual", {"where": "everywhere"}),
)
"""The form of a thing, its tick, and what another window changes of it."""


@pytest.fixture
def full(shop: Shop) -> Shop:
    """The Heron with a room and a limit of its own."""
    assert saved(shop, opened(shop, "room"), **NOSE)[0] == 200
    assert saved(shop, opened(shop, LIMIT), ok="30", tight="40", source="turbo maker")[0] == 200
    return shop


@pytest.mark.parametrize(("address", "tick", "elsewhere"), TICKED)
def test_what_was_changed_elsewhere_is_asked_about_before_it_goes(
    full: Shop, address: str, tick: str, elsewhere: dict[str, str]
) -> None:
    old = opened(full, address)
    assert saved(full, opened(full, address), **elsewhere)[0] == 200
    there = full.stored()
    status, page = saved(full, old, **{tick: "on"})
    assert status == 422
    assert "was changed elsewhere meanwhile" in html.unescape(page)
    assert full.stored() == there
    asked = saving(forms_in(page), old.action)
    # without the tick nothing of the other window is written over
    status, _ = saved(full, asked, **{tick: ""})
    assert (status, full.stored()) == (200, there)
    status, _ = saved(full, asked)
    assert status == 200
    assert full.stored() != there
    assert full.client.get(f"/builds/the-heron/{address}").status_code == (
        200 if tick == "usual" else 404
    )


@pytest.mark.parametrize(("address", "tick"), sorted({each[:2] for each in TICKED}))
def test_what_nobody_changed_goes_at_once(full: Shop, address: str, tick: str) -> None:
    """Another thing was changed meanwhile: that says nothing of this one."""
    form, there = opened(full, address), full.stored()
    full.post("bench/wish", wish="A lamp under the bonnet")
    assert saved(full, form, **{tick: "on"})[0] == 200
    assert (full.stored().data_sheet, full.stored().rooms) != (there.data_sheet, there.rooms)
