"""The least getting out of setups, against every order of the tasks."""

import itertools
import random

import numpy as np
import pytest

from tests.build.builds import build_of, task
from webapp.build.build_input import BuildInput
from webapp.build.shop import Setup
from webapp.planning.simulator.work_arrays import lay_out
from webapp.planning.tighten.order_search import setup_order
from webapp.planning.tighten.setup_hours import SetupNetwork, everything

SETUPS = (
    Setup(key="tig", name="TIG welder out", hours=0.75),
    Setup(key="roller", name="Tube roller on the bench", hours=0.5),
    Setup(key="saw", name="Band saw", hours=0.25),
)


def random_build(seed: int) -> BuildInput:
    chance = random.Random(seed)
    keys = "abcdefg"
    kinds = (None, "tig", "roller", "saw")
    tasks = [task(k, 1, setup=chance.choice(kinds)) for k in keys]
    links = [pair for pair in itertools.combinations(keys, 2) if chance.random() < 0.25]
    return build_of(tasks, links, setups=SETUPS, setup_out=chance.choice(kinds))


def least_of_all_orders(build: BuildInput, among: set[str], out: str | None) -> float:
    """Hours of getting out in the best order, counted for the tasks in `among` alone."""
    cost = {s.key: s.hours for s in SETUPS}
    setup = {t.key: t.setup if t.key in among else None for t in build.tasks}
    least = 99.0
    for order in itertools.permutations(setup):
        place = {key: i for i, key in enumerate(order)}
        if any(place[d.before] > place[d.after] for d in build.dependencies):
            continue
        hours, now_out = 0.0, out
        for key in order:
            if setup[key] not in (None, now_out):
                hours += cost[setup[key] or ""]
                now_out = setup[key]
        least = min(least, hours)
    return least


@pytest.mark.parametrize("seed", range(12))
def test_no_order_gets_by_with_less_and_one_gets_by_with_as_much(seed: int) -> None:
    build = random_build(seed)
    work = lay_out(build)
    network = SetupNetwork(work)
    found = network.least(everything(work), from_now=True)
    every = {t.key for t in build.tasks}
    assert found.exact
    assert found.seconds / 3600 == least_of_all_orders(
        build, every, next(iter(build.shop.setups_out), None)
    )
    order = setup_order(network, found.sequence)
    assert sorted(order.tolist()) == list(range(len(work)))


@pytest.mark.parametrize("seed", range(8))
def test_of_part_of_the_work_the_best_setup_may_be_out_already(seed: int) -> None:
    build = random_build(seed)
    work = lay_out(build)
    part = set("cdefg")
    among = np.array([key in part for key in work.keys])
    found = SetupNetwork(work).least(among, from_now=False)
    outs = (None, *(s.key for s in SETUPS))
    assert found.seconds / 3600 == min(least_of_all_orders(build, part, out) for out in outs)


def test_without_setups_nothing_is_got_out() -> None:
    work = lay_out(build_of([task("a", 1), task("b", 1)], [("a", "b")]))
    assert SetupNetwork(work).least(everything(work), from_now=True).seconds == 0
