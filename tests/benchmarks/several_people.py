"""Benchmark rows of builds in which several people work with setups: whether their plans obey."""

import time

from tests.benchmarks.timing import Table
from tests.build.several_people import build_of_several
from webapp.planning.order.job_order import make_plan
from webapp.planning.proof.plan_checks import violations

BUILDS = 4_000


def plans_of_several_people(table: Table) -> None:
    """Plans of random builds of two and three people with none to four setups, each proved."""
    began, wrong, got_out = time.process_time(), 0, 0
    for seed in range(BUILDS):
        build = build_of_several(2 + seed % 24, seed)
        plan = make_plan(build)
        got_out += sum(one.setup_hours > 0 for one in plan.tasks)
        if sentences := violations(build, plan):
            wrong += 1
            print(seed, *sentences)
    seconds = time.process_time() - began
    measured = f"{BUILDS - wrong} of {BUILDS}, {got_out} times got out"
    table.row("plans of several people that obey", measured, seconds, "all")
