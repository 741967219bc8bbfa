"""First starts at hand: a move told from them is the one that is drawn anew."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace

import pytest

from tests.build.builds import build_of, task
from webapp.build.build_input import BuildInput
from webapp.planning.chances import luck as lucks
from webapp.planning.chances.factors import Attendance, Factors
from webapp.planning.chances.forecast import forecast_of
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.move_costs import move_from
from webapp.services import draws_at_hand
from webapp.services.draws_at_hand import DrawsAtHand, State

FACTORS = Factors(attendance=Attendance(mean=0.8, sd=0.1))
BEFORE = build_of([task("a", (1, 2, 6)), task("z", 1)], [("a", "z")], first_start="z")
AFTER = replace(BEFORE, tasks=(task("a", (2, 5, 9)), BEFORE.tasks[1]))
DRAWS = 50


def state(build: BuildInput, version: int) -> State:
    return State(version=version, build=build, factors=FACTORS)


def not_drawn(*_: object) -> None:
    raise AssertionError("what is at hand is drawn again")


def test_a_move_from_what_is_at_hand_is_the_one_that_is_drawn(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    draws = DrawsAtHand()
    for version, build in ((1, BEFORE), (2, AFTER)):
        forecast = forecast_of(build, draws.luck(DRAWS), factors=FACTORS)
        assert forecast is not None
        draws.keep(version, forecast)
    monkeypatch.setattr(draws_at_hand, "forecasts_of", not_drawn_of_any)
    found = draws.move(state(BEFORE, 1), state(AFTER, 2), DRAWS)
    assert found == move_from(BEFORE, FACTORS, AFTER, FACTORS, draws=DRAWS)
    assert found is not None
    assert found.days > 0


def not_drawn_of_any(asked: Iterable[object], _luck: Luck) -> list[None]:
    assert not list(asked)
    return []


def test_what_is_drawn_for_a_move_is_at_hand_for_the_next() -> None:
    draws = DrawsAtHand()
    before, after = state(BEFORE, 1), state(AFTER, 2)
    assert draws.at_hand(after, DRAWS) is None
    assert draws.move(before, after, DRAWS) is not None
    forecast = forecast_of(AFTER, Luck(DRAWS), factors=FACTORS)
    assert forecast is not None
    kept = draws.at_hand(after, DRAWS)
    assert kept is not None
    assert kept.tolist() == forecast.draws.wall.tolist()


def test_another_moment_another_version_and_other_draws_are_not_at_hand() -> None:
    draws = DrawsAtHand()
    draws.move(state(BEFORE, 1), state(AFTER, 2), DRAWS)
    assert draws.at_hand(state(AFTER, 2), DRAWS) is not None
    later = replace(AFTER, now=AFTER.now + dt.timedelta(minutes=1))
    assert draws.at_hand(state(later, 2), DRAWS) is None
    assert draws.at_hand(state(AFTER, 3), DRAWS) is None
    assert draws.at_hand(state(AFTER, 2), DRAWS + 1) is None


def test_without_a_date_there_is_no_move() -> None:
    undated = replace(AFTER, first_start=None)
    assert DrawsAtHand().move(state(BEFORE, 1), state(undated, 2), DRAWS) is None


def test_luck_is_drawn_once_and_let_go_of_before_it_takes_too_much(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Two tasks of three points: a share and an outcome of one (the other is certain), and
    the normals of attendance, of the level and of the one kind."""
    draws = DrawsAtHand()
    forecast_of(BEFORE, draws.luck(DRAWS), factors=FACTORS)
    luck = draws.luck(DRAWS)
    assert luck.held == 5
    assert draws.luck(DRAWS + 1) is not luck
    with monkeypatch.context() as patch:
        patch.setattr(lucks, "even_shares", not_drawn)
        patch.setattr(lucks, "balanced_normals", not_drawn)
        assert forecast_of(AFTER, luck, factors=FACTORS) is not None
    assert draws.luck(DRAWS) is luck
    monkeypatch.setattr(draws_at_hand, "LUCK_HELD", luck.held - 1)
    assert draws.luck(DRAWS).held == 0
