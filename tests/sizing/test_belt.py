"""Belts round pulleys."""

import math
import random

import pytest

from webapp.build.data_sheet import Pulley
from webapp.sizing.belt import (
    BeltOnPulleys,
    BeltWay,
    NoWay,
    belt_length,
    belt_way,
    belt_wraps,
)


def pulley(name: str, x: float, y: float, radius: float, **said: object) -> Pulley:
    return Pulley(name=name, x_mm=x, y_mm=y, diameter_mm=2 * radius, **said)  # type: ignore[arg-type]


def way(*pulleys: Pulley) -> BeltWay:
    answer = belt_way(pulleys)
    assert isinstance(answer, BeltWay)
    return answer


THREE = (pulley("a", 0, 0, 75), pulley("b", 260, 90, 35), pulley("c", 120, 280, 60))


def test_either_way_round_is_the_same_belt() -> None:
    there, back = way(*THREE), way(*reversed(THREE))
    assert there.length_mm == pytest.approx(back.length_mm)
    assert there.wraps_deg == pytest.approx(tuple(reversed(back.wraps_deg)))


def test_wraps_make_one_turn() -> None:
    assert sum(way(*THREE).wraps_deg) == pytest.approx(360)


def test_a_back_side_idler_pushes_the_belt_in_and_adds_wrap() -> None:
    """Two pulleys of 50 at 300, and an idler of 20 that pushes 30 mm into the upper span.

    By hand: seen from its side, each half of the span runs from a pulley (radius 50, belt on top)
    to the idler (radius 20, belt below), centres (150, dy) apart.
    """
    idler_y = 50 + 20 - 30
    ends = (pulley("left", 0, 0, 50), pulley("right", 300, 0, 50))
    idler = pulley("idler", 150, idler_y, 20, is_back=True, drives="idler")
    bent = way(ends[0], ends[1], idler)
    apart = math.hypot(150, idler_y)
    span = math.sqrt(apart**2 - 70**2)
    # heading of the right half span, from the right pulley's top down to below the idler
    slope = math.asin(70 / apart) - math.atan2(idler_y, 150)
    arcs = 2 * 50 * (math.pi + slope) + 20 * 2 * slope
    assert bent.length_mm == pytest.approx(300 + 2 * span + arcs)
    assert sum(bent.wraps_deg[:2]) - bent.wraps_deg[2] == pytest.approx(360)


def test_pulleys_that_no_belt_goes_round_are_refused() -> None:
    assert belt_way(()) == NoWay(why="a belt needs two pulleys")
    near = belt_way((pulley("a", 0, 0, 75), pulley("b", 100, 0, 35)))
    assert near == NoWay(why="the pulleys a and b overlap")
    corners = ((0, 0), (300, 0), (0, 300), (300, 300))
    star = tuple(pulley(f"{x}/{y}", x, y, 20) for x, y in corners)
    assert isinstance(belt_way(star), NoWay)
    answer = belt_length("main", BeltOnPulleys(pulleys=star))
    assert answer.words.startswith("not checked: the belt does not go round once")


def test_turned_and_moved_it_is_the_same_belt() -> None:
    luck = random.Random(4)
    for _ in range(20):
        angle, dx, dy = luck.uniform(0, 6), luck.uniform(-500, 500), luck.uniform(-500, 500)
        moved = tuple(
            pulley(
                one.name,
                one.x_mm * math.cos(angle) - one.y_mm * math.sin(angle) + dx,
                one.x_mm * math.sin(angle) + one.y_mm * math.cos(angle) + dy,
                one.diameter_mm / 2,
            )
            for one in THREE
        )
        assert way(*moved).length_mm == pytest.approx(way(*THREE).length_mm)


@pytest.mark.parametrize(
    ("bought", "words"),
    [
        (1185, "too short"),
        (1190, "ok"),
        (1196, "too long"),
        (None, "not checked: the length of the belt is missing"),
    ],
)
def test_a_bought_belt_reaches_round_and_is_taken_up(bought: float | None, words: str) -> None:
    """1185.2 mm round the pulleys, and a tensioner that takes up 10."""
    answer = belt_length("main", BeltOnPulleys(pulleys=THREE, bought_mm=bought, take_up_mm=10))
    assert answer.words == words
    assert answer.also[0].value == pytest.approx(1185.194, abs=1e-3)


def test_crank_and_alternator_are_told_their_wrap() -> None:
    """143.5 degrees on the crank are tight, 123.7 on the alternator ok."""
    crank = pulley("crank", 0, 0, 75, drives="crank")
    alternator = pulley("alternator", 120, 280, 60, drives="alternator")
    answers = belt_wraps("main", BeltOnPulleys(pulleys=(crank, THREE[1], alternator)))
    assert [(one.at, one.word) for one in answers] == [
        ("main.crank", "tight"),
        ("main.alternator", "ok"),
    ]
