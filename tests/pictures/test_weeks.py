"""Hours by week as a picture: columns to one scale, the earned line across."""

import re

import pytest

from webapp.pictures.weeks import WeekColumn, weeks_picture


def week(
    number: int, promised: float, worked: float, earned: float | None = None, **facts: bool
) -> WeekColumn:
    return WeekColumn(text=f"wk {number}", promised=promised, worked=worked, earned=earned, **facts)


@pytest.mark.parametrize("upright", [False, True])
def test_columns_stand_on_the_floor_and_are_to_one_scale(upright: bool) -> None:
    picture = weeks_picture([week(1, 14, 7), week(2, 14, 28)], upright=upright)
    floor = {round(c.y + c.height, 6) for c in (*picture.promised, *picture.worked)}
    assert len(floor) == 1
    first, second = picture.worked
    assert second.height == pytest.approx(4 * first.height)
    assert picture.promised[0].height == pytest.approx(2 * first.height)


def test_worked_stands_in_the_middle_of_promised() -> None:
    picture = weeks_picture([week(1, 14, 7)])
    (promised,), (worked,) = picture.promised, picture.worked
    assert worked.x + worked.width / 2 == pytest.approx(promised.x + promised.width / 2)


def test_weeks_of_which_nothing_is_known_have_no_earned_line() -> None:
    picture = weeks_picture([week(1, 14, 7, 7.0), week(2, 14, 7), week(3, 14, 7, 0.0)])
    lines = re.findall(r"M[-.\d]+ ([-.\d]+)h", picture.earned)
    assert len(lines) == 2
    # As high as the hours worked, of which there are as many; none at all on the floor.
    assert float(lines[0]) == pytest.approx(picture.worked[0].y, abs=0.1)
    assert f" {lines[1]}H" in picture.floor


def test_the_week_looked_at_is_always_named() -> None:
    weeks = [week(n, 14, 10, chosen=n == 26) for n in range(1, 27)]
    for upright in (False, True):
        picture = weeks_picture(weeks, upright=upright)
        assert picture.weeks[-1].text == "wk 26"
        assert picture.weeks[-1].chosen
        gaps = [b.x - a.x for a, b in zip(picture.weeks, picture.weeks[1:], strict=False)]
        assert min(gaps) > 38, "room for the words of each"


def test_weeks_without_any_hours_can_be_drawn() -> None:
    picture = weeks_picture([week(1, 0, 0, -0.5)])
    assert all(column.height == 0 for column in (*picture.promised, *picture.worked))
