"""The exhaust by what was typed, where none is drawn."""

from dataclasses import replace

import pytest

from tests.plumbing.heron import heron
from tests.plumbing.small import build
from tests.sizing.test_checks import checked, typed
from webapp.build.build_input import BuildInput
from webapp.sizing.growth import NO_ROOM

TYPED: dict[str, float | str] = {
    "exhaust_bore_mm": 63.5,
    "exhaust_length_m": 4,
    "exhaust_bends_deg": 360,
    "exhaust_metal": "stainless",
    "exhaust_joint": "no",
}


def undrawn() -> BuildInput:
    """A build of which nothing is drawn, with the data sheet of the demo."""
    return replace(build((), ()), data_sheet=heron().data_sheet)


def test_what_is_typed_of_a_drawn_exhaust_does_not_count() -> None:
    drawn = checked(heron())["exhaust_loss", "exhaust"]
    assert checked(typed(heron(), **TYPED))["exhaust_loss", "exhaust"].value == drawn.value
    assert not any(at == "exhaust" for _, at in checked(undrawn()))


def test_an_exhaust_that_is_typed_is_checked_by_hand() -> None:
    """Growth of 4 m of stainless from 20 to 550 °C: 17.2e-6 x 4000 x 530 = 36.5 mm, and nothing
    gives way."""
    found = checked(typed(undrawn(), **TYPED))
    growth = found["growth", "exhaust"]
    assert growth.word == "too long"
    assert growth.value == pytest.approx(36.46, abs=0.01)
    assert NO_ROOM in growth.remarks
    loss = found["exhaust_loss", "exhaust"]
    assert loss.value is not None
    assert 4 < loss.value < 9
    came = {figure.name: figure.came for figure in loss.used}
    assert came["length"] == came["bore of the exhaust"] == "typed"
    wider = checked(typed(undrawn(), **(TYPED | {"exhaust_bore_mm": 76})))
    assert (wider["exhaust_loss", "exhaust"].value or 99) < loss.value


def test_what_is_missing_of_it_is_asked_for() -> None:
    found = checked(typed(undrawn(), exhaust_bore_mm=63.5))
    loss = found["exhaust_loss", "exhaust"]
    assert loss.words == (
        "not checked: the length of the exhaust and the bends of the exhaust together are missing"
    )
    some = {name: TYPED[name] for name in list(TYPED)[:3]}
    growth = checked(typed(undrawn(), **some))["growth", "exhaust"]
    assert "the metal of the exhaust" in growth.words
