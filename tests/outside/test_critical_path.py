"""Dates and floats of unlimited hands against published networks and a reference library."""

import random
from itertools import pairwise

import networkx as nx
import pytest

from tests.build.builds import build_of, task
from tests.outside.networks import PERT_LINKS, PERT_SEVEN, always_open, dates_of, row_of
from webapp.build.precedence import loops_of, needed_for, topological_order
from webapp.build.three_point import ThreePoint
from webapp.planning.order.job_order import make_plan

# Taylor, Introduction to Management Science, ch. 8, solved problem (read; activities on arcs
# between events, recomputed): duration, then ES, EF, LS, LF, total float, free float.
TAYLOR = {
    "1-2": (8, (0, 8, 1, 9, 1, 0)),
    "1-3": (10, (0, 10, 0, 10, 0, 0)),
    "1-4": (9, (0, 9, 6, 15, 6, 0)),
    "2-5": (6, (8, 14, 9, 15, 1, 1)),
    "2-6": (4, (8, 12, 16, 20, 8, 0)),
    "3-5": (5, (10, 15, 10, 15, 0, 0)),
    "4-5": (0, (9, 9, 15, 15, 6, 6)),  # the dummy
    "4-7": (7, (9, 16, 20, 27, 11, 11)),
    "5-7": (12, (15, 27, 15, 27, 0, 0)),
    "5-8": (15, (15, 30, 16, 31, 1, 1)),
    "6-9": (18, (12, 30, 20, 38, 8, 8)),
    "7-8": (4, (27, 31, 27, 31, 0, 0)),
    "8-9": (7, (31, 38, 31, 38, 0, 0)),
}


def test_taylors_solved_problem_gives_its_dates_and_floats() -> None:
    """An arc i-j comes after every arc that ends in the event i."""
    links = [(a, b) for a in TAYLOR for b in TAYLOR if a.split("-")[1] == b.split("-")[0]]
    dates = dates_of(always_open({key: hours for key, (hours, _) in TAYLOR.items()}, links))
    assert {key: row_of(dates[key]) for key in TAYLOR} == {
        key: row for key, (_, row) in TAYLOR.items()
    }
    assert dates["finish"].earliest_end == 38 * 3600


# Hendrickson, Project Management for Construction, ch. 10 (memory, recomputed).
HENDRICKSON_HOURS = {"A": 4, "B": 3, "C": 8, "D": 7, "E": 9, "F": 12, "G": 2, "H": 5, "I": 6}
HENDRICKSON_BEFORE = {"C": "A", "D": "A", "E": "BC", "F": "BC", "G": "DE", "H": "DE", "I": "FG"}


def test_hendricksons_nine_activities_give_the_published_floats() -> None:
    links = [(a, b) for b, before in HENDRICKSON_BEFORE.items() for a in before]
    dates = dates_of(always_open(dict(HENDRICKSON_HOURS), links))
    floats = {key: dates[key].total_float_hours for key in HENDRICKSON_HOURS}
    assert floats == {"A": 0, "B": 9, "C": 0, "D": 11, "E": 1, "F": 0, "G": 1, "H": 4, "I": 0}
    assert dates["finish"].earliest_end == 30 * 3600


def test_the_pert_example_of_seven_activities_gives_its_mean_and_slacks() -> None:
    """Mean of A-C-E-G 4 + 31/6 + 31/6 + 31/6 = 19.5 (published 19.51 from rounded means).

    Seconds are whole, so slacks may be half a second off.
    """
    dates = dates_of(always_open(PERT_SEVEN, PERT_LINKS))
    assert dates["finish"].earliest_end == 19.5 * 3600
    slack = {key: dates[key].total_float_hours for key in PERT_SEVEN}
    assert slack == pytest.approx(
        {"A": 0, "B": 3.8333, "C": 0, "D": 4.6667, "E": 0, "F": 4.6667, "G": 0}, abs=4e-4
    )


def test_taylors_pert_path_has_a_mean_of_24() -> None:
    """Taylor ch. 8 (read, recomputed): activities 1, 3, 5 and 7 in a row."""
    points = [(5, 8, 17), (3, 5, 7), (4, 6, 8), (3, 4, 5)]
    hours = {str(number): value for number, value in zip((1, 3, 5, 7), points, strict=True)}
    dates = dates_of(always_open(hours, pairwise(hours)))
    assert dates["finish"].earliest_end == 24 * 3600


def test_taylors_seven_three_point_estimates_have_the_published_means() -> None:
    """(o + 4m + p) / 6 of Taylor's seven (read): 9, 10, 5, 3, 6, 3, 4."""
    points = [(5, 8, 17), (7, 10, 13), (3, 5, 7), (1, 3, 5), (4, 6, 8), (3, 3, 3), (3, 4, 5)]
    means = [ThreePoint(optimistic=o, most_likely=m, pessimistic=p).expected for o, m, p in points]
    assert means == [9, 10, 5, 3, 6, 3, 4]


# --- networkx (reference library) -------------------------------------------------------------


def random_network(seed: int) -> tuple[dict[str, int], list[tuple[str, str]]]:
    """Up to 60 activities, some without hours, arcs from earlier to later ones at random."""
    chance = random.Random(seed)
    keys = [f"t{i}" for i in range(chance.randint(2, 60))]
    density = chance.uniform(0.02, 0.3)
    links = [(a, b) for j, b in enumerate(keys) for a in keys[:j] if chance.random() < density]
    hours = {key: chance.randint(0, 12) for key in keys}
    shuffled = chance.sample(keys, len(keys))
    return {key: hours[key] for key in shuffled}, links


def graph_of(hours: dict[str, int], links: list[tuple[str, str]]) -> nx.DiGraph:
    """Each activity's hours on the arcs that leave it; "finish" after all of them."""
    graph = nx.DiGraph()
    graph.add_nodes_from([*hours, "finish"])
    graph.add_weighted_edges_from((a, b, hours[a]) for a, b in links)
    graph.add_weighted_edges_from((key, "finish", hours[key]) for key in hours)
    return graph


@pytest.mark.parametrize("seed", range(25))
def test_the_longest_path_of_a_random_network_is_that_of_networkx(seed: int) -> None:
    hours, links = random_network(seed)
    graph = graph_of(hours, links)
    dates = dates_of(always_open(dict(hours), links))
    total = nx.dag_longest_path_length(graph)
    assert dates["finish"].earliest_end == total * 3600
    for key in hours:
        until = graph.subgraph(nx.ancestors(graph, key) | {key})
        after = graph.subgraph(nx.descendants(graph, key) | {key})
        head, tail = nx.dag_longest_path_length(until), nx.dag_longest_path_length(after)
        assert dates[key].earliest_begin == head * 3600
        assert dates[key].total_float_hours == total - head - tail


@pytest.mark.parametrize("seed", range(10))
def test_what_comes_before_and_the_order_are_those_of_networkx(seed: int) -> None:
    hours, links = random_network(seed)
    build = always_open(dict(hours), links)
    graph = graph_of(hours, links)
    for key in hours:
        assert needed_for(build, key) == nx.ancestors(graph, key) | {key}
    place = {key: i for i, key in enumerate(topological_order(build))}
    assert all(place[a] < place[b] for a, b in graph.edges)


@pytest.mark.parametrize("seed", range(25))
def test_loops_are_named_exactly_where_networkx_finds_them(seed: int) -> None:
    """One simple loop of every strong component that has one, and every loop of one task."""
    chance = random.Random(seed)
    keys = [f"t{i}" for i in range(25)]
    links = sorted({(chance.choice(keys), chance.choice(keys)) for _ in range(28)})
    graph = nx.DiGraph(links)
    loops = loops_of(build_of([task(key, 1) for key in keys], links))
    for loop in loops:
        assert loop[0] == loop[-1]
        assert len(set(loop[1:])) == len(loop) - 1
        assert all(graph.has_edge(a, b) for a, b in pairwise(loop))
    groups = {frozenset(g) for g in nx.strongly_connected_components(graph) if len(g) > 1}
    named = [next(g for g in groups if loop[0] in g) for loop in loops if len(loop) > 2]
    assert set(named) == groups
    assert len(named) == len(groups)
    assert {loop[0] for loop in loops if len(loop) == 2} == set(nx.nodes_with_selfloops(graph))


@pytest.mark.parametrize("seed", range(8))
def test_with_hands_for_everyone_the_plan_is_as_long_as_the_longest_path(seed: int) -> None:
    """Tasks that run by themselves need no hands: the planner must lose nothing either."""
    hours, links = random_network(seed)
    ends = [(key, "finish") for key in hours]
    tasks = [*(task(key, value, people=0) for key, value in hours.items()), task("finish", 0)]
    build = build_of(tasks, [*links, *ends], first_start="finish")
    assert make_plan(build).first_start_shop_hours == nx.dag_longest_path_length(
        graph_of(hours, links)
    )
