"""Sessions with the helper that a variant misses: drawn when they are come to, each once."""

import numpy as np

from webapp.planning.simulator.missed_helper import STRETCHES_AT_ONCE, MissedHelper
from webapp.planning.simulator.work_arrays import Flags


def of_table(table: Flags, drawn: list[int] | None = None) -> MissedHelper:
    """The stretches of a table, (k, count), noting which of them are drawn."""

    def draw(stretch: int) -> Flags:
        if drawn is not None:
            drawn.append(stretch)
        row: Flags = table[stretch]
        return row

    return MissedHelper(draw, stretches=len(table), count=table.shape[1])


TABLE = np.random.default_rng(1).random((100, 8)) < 0.5


def test_pairs_are_those_of_the_table_in_whatever_order_they_are_asked_for() -> None:
    missed, random = of_table(TABLE), np.random.default_rng(2)
    for most in (3, 50, 7, 100):
        at, columns = random.integers(0, most, 20), random.integers(0, 8, 20)
        assert (missed.at(at, columns) == TABLE[at, columns]).all()


def test_only_what_is_come_to_is_drawn_and_that_once() -> None:
    drawn: list[int] = []
    missed = of_table(TABLE, drawn)
    missed.at(np.array([2]), np.array([0]))
    missed.columns(slice(0, 3)).at(np.array([5]), np.array([1]))
    assert drawn == list(range(STRETCHES_AT_ONCE))


def test_columns_of_it_are_those_of_the_table() -> None:
    twice = np.array([7, 0, 0, 3])
    assert (of_table(TABLE).columns(twice).row(40) == TABLE[40][twice]).all()
    assert (of_table(TABLE).columns(slice(2, 5)).row(40) == TABLE[40][2:5]).all()


def test_joined_they_stand_side_by_side_and_past_its_calendar_one_misses_nothing() -> None:
    joined = MissedHelper.joined([(of_table(TABLE[:10]), 8), (None, 2), (of_table(TABLE), 8)])
    assert joined is not None
    none = np.zeros(2, bool)
    assert (joined.row(9) == np.concatenate([TABLE[9], none, TABLE[9]])).all()
    assert (joined.row(10) == np.concatenate([np.zeros(8, bool), none, TABLE[10]])).all()
    assert not joined.row(200).any()
    assert MissedHelper.joined([(None, 3), (None, 4)]) is None
