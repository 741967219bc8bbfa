"""The best order against published optima and a reference solver.

Everything goes through a real build: resources are stations, activities run by themselves, the
shop is open day and night, durations are hours.
"""

from dataclasses import replace

import pytest

from tests.benchmarks.psplib_builds import build_of_instance, instances
from tests.benchmarks.tighten import solved_by_pyjobshop
from tests.build.builds import build_of, task
from tests.outside.projects import TEN_JOBS, random_instance
from tests.planning.tighten.until_proved import tightened_until_proved
from webapp.build.build_input import BuildInput, StationNeed
from webapp.build.shop import Station
from webapp.planning.proof.plan_checks import violations
from webapp.planning.tighten.tighten import Tightened


def proved(build: BuildInput, seconds: float = 20) -> Tightened:
    answer = tightened_until_proved(build, seconds=seconds)
    assert violations(build, answer.plan) == ()
    assert answer.proved_best
    return answer


def test_ten_jobs_on_two_resources_take_21() -> None:
    """RCPSP example of python-mip's documentation (read; optimum recomputed exhaustively)."""
    build = build_of_instance("Ten jobs", TEN_JOBS)
    answer = proved(build)
    assert answer.plan.first_start_shop_hours == 21
    # By dependencies alone it is 14 (same source).
    endless = replace(TEN_JOBS, capacities=(99, 99))
    alone = build_of_instance("Ten jobs, resources without end", endless)
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
    instance = random_instance(seed, 14, reach=6, most_needs=(4, 5), capacities=(4, 5))
    makespan, is_proved = solved_by_pyjobshop(instance, seconds=30)
    assert is_proved
    answer = proved(build_of_instance(f"Random {seed}", instance))
    assert answer.plan.first_start_shop_hours == makespan
