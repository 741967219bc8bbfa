"""The best order against published optima and a reference solver.

Everything goes through a real build: resources are stations, activities run by themselves, the
shop is open day and night, durations are hours.
"""

import random

import pytest

from tests.benchmarks.psplib_builds import Instance, build_of_instance, instances
from tests.benchmarks.tighten import solved_by_pyjobshop
from tests.build.builds import build_of, task
from webapp.build.build_input import BuildInput, StationNeed
from webapp.build.shop import Station
from webapp.planning.proof.plan_checks import violations
from webapp.planning.tighten.tighten import Tightened, tighten


def proved(build: BuildInput, seconds: float = 20) -> Tightened:
    answer = tighten(build, seconds=seconds)
    assert violations(build, answer.plan) == ()
    assert answer.proved_best
    return answer


def test_ten_jobs_on_two_resources_take_21() -> None:
    """RCPSP example of python-mip's documentation (read; optimum recomputed exhaustively)."""
    hours = (0, 3, 2, 5, 4, 2, 3, 4, 2, 4, 6, 0)
    needs = ((5, 1), (0, 4), (1, 4), (1, 3), (3, 2), (3, 1), (2, 4), (4, 0), (5, 2), (2, 5))
    after = {1: (4, 5), 2: (9, 10), 3: (8,), 4: (6, 7), 5: (9, 10), 6: (8, 9), 7: (8,)}
    instance = Instance(
        hours=hours,
        successors=(
            tuple(range(1, 11)),
            *((*after.get(i, ()), 11) for i in range(1, 11)),
            (),
        ),
        needs=((0, 0), *needs, (0, 0)),
        capacities=(6, 8),
    )
    build = build_of_instance("Ten jobs", instance)
    answer = proved(build)
    assert answer.plan.first_start_shop_hours == 21
    # By dependencies alone it is 14 (same source).
    alone = build_of_instance(
        "Ten jobs, resources without end",
        Instance(
            hours=hours, successors=instance.successors, needs=instance.needs, capacities=(99, 99)
        ),
    )
    assert proved(alone).plan.first_start_shop_hours == 14


def test_j301_1_of_psplib_takes_43() -> None:
    """PSPLIB (Kolisch and Sprecher 1997), optimum 43 as published with the set."""
    found = {name: instance for name, instance, _, _ in instances("j301_1")}
    if not found:
        pytest.skip("the PSPLIB folder is not beside the project")
    answer = proved(build_of_instance("j301_1", found["j301_1"]))
    assert answer.plan.first_start_shop_hours == 43


def test_five_jobs_on_two_machines_in_line_take_20_5() -> None:
    """Johnson 1954 (read, makespan recomputed): best order C-A-D-E-B, 20.5."""
    jobs = {"a": (3.2, 4.2), "b": (4.7, 1.5), "c": (2.2, 5.0), "d": (5.8, 4.0), "e": (3.1, 2.8)}
    tasks = [
        task(f"{job}{m}", hours, people=0, stations=(StationNeed(station=f"m{m}"),))
        for job, both in jobs.items()
        for m, hours in enumerate(both)
    ]
    links = [(f"{job}0", f"{job}1") for job in jobs] + [(f"{job}1", "z") for job in jobs]
    stations = tuple(Station(key=f"m{m}", name=f"Machine {m}") for m in range(2))
    build = build_of([*tasks, task("z", 0)], links, first_start="z", stations=stations)
    answer = proved(build)
    assert answer.plan.first_start_shop_hours == pytest.approx(20.5)
    first = [t.key[0] for t in answer.plan.tasks if t.key.endswith("0")]
    # Machine 2 has 17.5 h of work: behind any other job (3.1 h or more) it ends at 20.6 or later.
    assert first[0] == "c"


@pytest.mark.parametrize("seed", range(8))
def test_small_random_instances_have_the_optimum_that_pyjobshop_proves(seed: int) -> None:
    """pyjobshop (PyPI) as reference solver: the same proved optimum."""
    chance = random.Random(seed)
    count = 14
    capacities = (4, 5)
    hours = [0, *(chance.randint(1, 9) for _ in range(count)), 0]
    needs = [(0, 0), *((chance.randint(0, 4), chance.randint(0, 5)) for _ in range(count)), (0, 0)]
    links = {
        (i, j)
        for j in range(2, count + 1)
        for i in range(max(1, j - 6), j)
        if chance.random() < 0.2
    }
    links |= {(0, j) for j in range(1, count + 1)} | {(i, count + 1) for i in range(1, count + 1)}
    instance = Instance(
        hours=tuple(hours),
        successors=tuple(tuple(sorted(j for a, j in links if a == i)) for i in range(count + 2)),
        needs=tuple(needs),
        capacities=capacities,
    )
    makespan, is_proved = solved_by_pyjobshop(instance, seconds=30)
    assert is_proved
    answer = proved(build_of_instance(f"Random {seed}", instance))
    assert answer.plan.first_start_shop_hours == makespan
