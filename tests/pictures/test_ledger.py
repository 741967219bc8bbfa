"""The picture of the scope ledger: areas from nothing up, in the measure of the hours."""

import datetime as dt
import re

import pytest

from webapp.pictures.ledger import BOTTOM, LEFT, RIGHT, RUN_ON, LedgerPoint, ledger_picture

START = dt.datetime(2026, 2, 1)


def points_of(path: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r"([\d.]+) ([\d.]+)", path)]


def test_a_change_is_a_step_at_its_moment() -> None:
    points = (
        LedgerPoint(at=START, plan_hours=100, added_hours=0),
        LedgerPoint(at=START + dt.timedelta(days=5), plan_hours=100, added_hours=50),
    )
    picture = ledger_picture(points, baseline_hours=100, now=START + dt.timedelta(days=10))
    line = points_of(picture.total_line)
    middle = (LEFT + RIGHT - RUN_ON) / 2  # day 5 of 10
    assert [x for x, _ in line] == pytest.approx([LEFT, middle, middle, RIGHT])
    heights = [BOTTOM - y for _, y in line]
    assert heights[2] == pytest.approx(heights[0] * 1.5, rel=0.01)  # 150 h over 100 h
    assert [label.text for label in picture.ends] == ["first plan 100.0 h", "added 50.0 h"]


def test_a_ledger_without_changes_is_one_flat_line() -> None:
    point = LedgerPoint(at=START, plan_hours=10, added_hours=0)
    picture = ledger_picture((point,), baseline_hours=10, now=START)
    assert picture.added_area == ""
    assert len({y for _, y in points_of(picture.total_line)}) == 1


def test_upright_what_the_areas_are_stands_below_each_behind_its_swatch() -> None:
    points = (
        LedgerPoint(at=START, plan_hours=100, added_hours=0),
        LedgerPoint(at=START + dt.timedelta(days=5), plan_hours=100, added_hours=50),
    )
    now = START + dt.timedelta(days=10)
    picture = ledger_picture(points, baseline_hours=100, now=now, upright=True)
    assert max(x for x, _ in points_of(picture.total_line)) == picture.right < picture.width == 360
    assert [label.text for label in picture.ends] == ["first plan 100.0 h", "added 50.0 h"]
    assert all(BOTTOM < label.y < picture.height for label in picture.ends)
    tops = [points_of(swatch)[0] for swatch in (picture.plan_swatch, picture.added_swatch)]
    # a square of 12 whose lower edge lies a unit below the line of its words
    assert [y + 12 for _, y in tops] == [label.y + 1 for label in picture.ends]
    flat = ledger_picture(points[:1], baseline_hours=100, now=now, upright=True)
    assert (len(flat.ends), flat.added_swatch) == (1, "")
