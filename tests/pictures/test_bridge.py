"""The bridge as a picture: each step begins where the one above it ends."""

import pytest

from webapp.pages.words.bridge import CAUSE_NAMES
from webapp.pictures.bridge import TEXT_SCALE, BridgePicture, BridgeStep, bridge_picture
from webapp.pictures.labels import width_of

DAY = 24 * 60


def picture_of(*days: float, upright: bool = False) -> BridgePicture:
    steps = [
        BridgeStep(name=f"Cause {i}", minutes=round(d * DAY), words=f"{d:+g} days")
        for i, d in enumerate(days)
    ]
    return bridge_picture(steps, begins="Thu 12 March", ends="Mon 23 March", upright=upright)


@pytest.mark.parametrize("upright", [False, True])
def test_each_step_begins_where_the_one_above_it_ends(upright: bool) -> None:
    first, second, third = picture_of(5, 4, 3, upright=upright).bars
    assert second.x == pytest.approx(first.x + first.width)
    assert third.x == pytest.approx(second.x + second.width)
    # 5, 4 and 3 days drawn to one scale.
    assert second.width / first.width == pytest.approx(4 / 5)
    assert third.width / first.width == pytest.approx(3 / 5)


def test_a_step_to_a_sooner_date_goes_back_and_is_drawn_open() -> None:
    later, sooner = picture_of(5, -1).bars
    assert (later.sooner, sooner.sooner) == (False, True)
    assert sooner.x + sooner.width == pytest.approx(later.x + later.width)


def test_a_bridge_that_ends_before_it_began_stays_on_the_sheet() -> None:
    picture = picture_of(-3, 1)
    gained, lost = picture.bars
    assert lost.x == pytest.approx(gained.x)
    assert all(bar.x >= 0 and bar.x + bar.width <= picture.width for bar in picture.bars)


def test_a_cause_of_nothing_has_its_name_and_no_bar() -> None:
    picture = picture_of(2, 0, 1)
    assert len(picture.bars) == 2
    assert [name.text for name in picture.names] == ["Cause 0", "Cause 1", "Cause 2"]


def test_a_bridge_of_nothing_at_all_can_be_drawn() -> None:
    assert picture_of(0, 0).bars == ()


@pytest.mark.parametrize("upright", [False, True])
@pytest.mark.parametrize("days", [(5.0, 400.0), (-400.0, 1.0), (0.01, 0.0)])
def test_the_dates_stay_on_the_sheet(days: tuple[float, ...], upright: bool) -> None:
    picture = picture_of(*days, upright=upright)
    for text in (*picture.dates, *picture.names):
        assert 0 <= text.x <= picture.width
        assert 0 < text.y < picture.height


def test_the_name_of_every_cause_stands_within_the_picture() -> None:
    steps = [BridgeStep(name=name, minutes=60, words="+1 h") for name in CAUSE_NAMES.values()]
    picture = bridge_picture(steps, begins="Thu 4 March", ends="Sat 6 March")
    for name in picture.names:
        assert name.ends_here
        assert name.x - TEXT_SCALE * width_of(name.text) >= 0, name.text
