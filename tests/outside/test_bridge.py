"""The split of a move of first start against published and reference Shapley shares.

Where builds are used, hands are unlimited and the shop is always open, so that shop hours are
hours of wall time and only the dependencies decide.
"""

import random
from dataclasses import replace
from itertools import combinations

import pytest
from shapcpm import CPMNetworkBuilder

from tests.build.builds import MONDAY, build_of, task
from webapp.build.build_input import BuildInput, Part
from webapp.planning.bridge.bridge import Bridge, bridge
from webapp.planning.bridge.shapley import shapley

PEOPLE = 20
AIRPORT_COSTS = {"a": 8, "b": 11, "c": 13, "d": 18}
AIRPORT_SHARES = {"a": 2, "b": 3, "c": 4, "d": 9}
"""Littlechild & Owen 1973, airport game (read, recomputed)."""


def free_build(hours: dict[str, float], links: list[tuple[str, str]]) -> BuildInput:
    """Tasks with unlimited hands; first start comes after all of them."""
    tasks = [*(task(key, h) for key, h in hours.items()), task("start", 0)]
    ends = [(key, "start") for key in hours]
    return build_of(tasks, [*links, *ends], first_start="start", people=PEOPLE)


def hours_by_task(way: Bridge) -> dict[str, float]:
    estimates = next(share for share in way.shares if share.cause == "estimates")
    assert sum(item.minutes for item in estimates.items) == way.move_minutes
    return {item.key: item.minutes / 60 for item in estimates.items}


def test_the_airport_game() -> None:
    costs = AIRPORT_COSTS
    values = {
        frozenset(subset): max((costs[player] for player in subset), default=0)
        for size in range(5)
        for subset in combinations(costs, size)
    }
    assert shapley(values) == AIRPORT_SHARES


def test_delays_on_parallel_branches_are_the_airport_game_on_the_bridge() -> None:
    before = free_build(dict.fromkeys(AIRPORT_COSTS, 1.0), [])
    after = free_build({key: 1.0 + cost for key, cost in AIRPORT_COSTS.items()}, [])
    assert hours_by_task(bridge(before, after)) == AIRPORT_SHARES


# --- constructed (recomputed) ---------------------------------------------------------------
# A5 -> B4 beside C6, planned 9; delays A2, B1, C7 give 13. Alone they move 2, 1, 4; removed one
# at a time 0, 0, 1; Shapley 1, 0.5, 2.5, sum 4.

LINKS = [("a", "b")]


def test_the_constructed_case_task_by_task() -> None:
    before = free_build({"a": 5, "b": 4, "c": 6}, LINKS)
    after = free_build({"a": 7, "b": 5, "c": 13}, LINKS)
    way = bridge(before, after)
    assert way.move_minutes == 4 * 60
    assert hours_by_task(way) == {"a": 1, "b": 0.5, "c": 2.5}


def test_the_constructed_case_with_each_delay_by_another_cause() -> None:
    # A takes 2 h longer (an estimate), an hour of new work follows B (scope), and C waits 7 h for
    # its part (late part).
    gasket = Part(key="gasket", name="Gasket", serves=("c",), arrives_on=MONDAY)
    before = replace(free_build({"a": 5, "b": 4, "c": 6}, LINKS), parts=(gasket,))
    after = free_build({"a": 7, "b": 4, "c": 6, "new": 1}, [*LINKS, ("b", "new")])
    late = replace(gasket, arrives_on=MONDAY.replace(hour=7))
    way = bridge(before, replace(after, parts=(late,)))
    assert [(share.cause, share.minutes) for share in way.shares] == [
        ("scope", 30),
        ("estimates", 60),
        ("shop_time", 0),
        ("parts", 150),
        ("order", 0),
        ("record", 0),
    ]


@pytest.mark.parametrize("seed", range(25))
def test_random_networks_against_the_reference_library(seed: int) -> None:
    # shapcpm (PyPI): each activity's exact share of the makespan, from durations of zero.
    chance = random.Random(seed)
    keys = [f"t{i}" for i in range(chance.randint(2, 6))]
    hours = {key: float(chance.randint(1, 12)) for key in keys}
    links = [pair for pair in combinations(keys, 2) if chance.random() < 0.4]
    reference = CPMNetworkBuilder()
    for key in keys:
        reference.add_task(key, int(hours[key]))
    for before, after in links:
        reference.add_dependency(after, before)
    expected = reference.build().get_shapley_values_exact()
    nothing = free_build(dict.fromkeys(keys, 0.0), links)
    shares = hours_by_task(bridge(nothing, free_build(hours, links)))
    for key in keys:
        # Whole minutes: a share is rounded by less than one.
        assert shares.get(key, 0) == pytest.approx(expected[key], abs=1 / 60), key
