"""Benchmark rows of the planner."""

from collections.abc import Callable

import networkx as nx
import numpy as np

from tests.benchmarks.timing import Table, best_of, from_own_process
from tests.benchmarks.workshop_builds import workshop_build
from webapp.build.build_input import BuildInput
from webapp.build.hours_to_go import planned_seconds
from webapp.planning.chances.factors import NO_RECORD
from webapp.planning.chances.rule_prices import rule_prices
from webapp.planning.network.critical_path import walk
from webapp.planning.network.network import network_of
from webapp.planning.order.job_order import days_cost, make_plan
from webapp.planning.simulator.house_rules import HouseRules, rank_tasks
from webapp.planning.simulator.simulate import simulate
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import for_first_start_only, lay_out

TO_REACH = {250: "50 ms"}


def plans(table: Table) -> None:
    """Job order with reasons, path and floats, of builds of four sizes."""
    for count in (100, 250, 500, 2000):
        build = workshop_build(count)
        seconds = best_of(5, lambda build=build: make_plan(build))  # type: ignore[misc]
        measured = f"{seconds * 1e3:.1f} ms"
        table.row(f"plan of {count} tasks", measured, seconds, TO_REACH.get(count, ""))


def variants_side_by_side(table: Table) -> None:
    """Cost in days, rule prices, and 10,000 variants in a process of their own."""
    build = workshop_build(250)
    seconds = best_of(3, lambda: days_cost(build))
    table.row("cost in days of all of 250 tasks", f"{seconds:.3f} s", seconds, "0.5 s")
    seconds = best_of(3, lambda: rule_prices(build, NO_RECORD))
    table.row("price of every house rule, 250 tasks", f"{seconds:.3f} s", seconds)
    seconds, megabytes = from_own_process("tests.benchmarks.planner", "ten_thousand")
    measured = f"{seconds:.2f} s, {megabytes:.0f} MB"
    table.row("10,000 variants of 100 tasks", measured, seconds, "1 s, 500 MB")


def ten_thousand() -> float:
    """10,000 variants of 100 tasks with hours of their own, in seconds."""
    work = for_first_start_only(lay_out(workshop_build(100), spare_hours=400))
    factors = np.random.default_rng(1).uniform(0.7, 1.6, (len(work), 10_000))
    variants = Variants(
        count=10_000,
        rankings=(rank_tasks(work, HouseRules()),),
        work_seconds=(work.work_seconds[:, np.newaxis] * factors).astype(np.int64),
    )
    return best_of(3, lambda: simulate(work, variants))


def critical_path_dates(table: Table) -> None:
    """Forward and backward pass against the same walk over a networkx graph, in one run."""
    for count in (100, 500):
        build = workshop_build(count)
        network = network_of(build, lay_out(build).calendar, planned_seconds(build))
        ours = best_of(20, lambda network=network: walk(network))  # type: ignore[misc]
        theirs = best_of(20, _networkx_walk(build))
        table.row(
            f"critical-path dates of {count} tasks against networkx",
            f"{ours * 1e3:.2f} / {theirs * 1e3:.2f} ms: {theirs / ours:.1f} x",
            ours,
            "5 x",
        )


def _networkx_walk(build: BuildInput) -> Callable[[], object]:
    """Earliest and latest dates over a networkx graph, wall hours and waits alone."""
    graph = nx.DiGraph()
    for task in build.tasks:
        graph.add_node(task.key, hours=task.hours.expected)
    for link in build.dependencies:
        graph.add_edge(link.before, link.after, wait=link.wait_hours)

    def dates() -> object:
        order = list(nx.topological_sort(graph))
        early: dict[str, float] = {}
        for key in order:
            begin = max(
                (early[p] + graph.edges[p, key]["wait"] for p in graph.predecessors(key)),
                default=0.0,
            )
            early[key] = begin + graph.nodes[key]["hours"]
        finish = max(early.values())
        late: dict[str, float] = {}
        for key in reversed(order):
            end = min(
                (late[s] - graph.edges[key, s]["wait"] for s in graph.successors(key)),
                default=finish,
            )
            late[key] = end - graph.nodes[key]["hours"]
        return early, late

    return dates
