"""Closing of random circuits, against a search by networkx over the same ports."""

from dataclasses import replace
from typing import Any

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.plumbing.random_circuits import circuits, only_circuit
from webapp.build.build_input import BuildInput
from webapp.build.plumbing import address_of
from webapp.plumbing.plumbed import plumbed

WAYS = ("no way", "stands apart", "goes nowhere", "no way when shut")


def _graphs(of: BuildInput) -> tuple[Any, Any, dict[str, Any]]:
    """Steps with the flow, steps inside alone, and the ports by address."""
    ports = {
        address_of(one.key, port.name): (one, port)
        for one in of.plumbing.components
        for port in one.ports
    }
    flow, inside, aside = nx.DiGraph(), nx.DiGraph(), nx.Graph()
    for graph in (flow, inside, aside):
        graph.add_nodes_from(ports)
    gives, takes = ("out", "both"), ("in", "both")
    for here, (one, port) in ports.items():
        for there, (other, facing) in ports.items():
            if one is not other or here == there:
                continue
            pair = {port.name, facing.name}
            if one.passages is not None and not any(set(said) == pair for said in one.passages):
                continue
            aside.add_edge(here, there)
            if port.flow in takes and facing.flow in gives:
                flow.add_edge(here, there)
                inside.add_edge(here, there)
    for run in of.plumbing.runs:
        aside.add_edge(run.from_port, run.to_port)
        for here, there in (run.ports, run.ports[::-1]):
            if ports[here][1].flow in gives and ports[there][1].flow in takes:
                flow.add_edge(here, there, run=run.key)
    return (flow, inside, aside), inside, ports


def expected_ways(of: BuildInput) -> set[tuple[str, str]]:
    """What the circuit lacks by way of its ways, found by networkx."""
    (flow, inside, aside), _, ports = _graphs(of)
    circuit = only_circuit(of)
    joined = {address for run in of.plumbing.runs for address in run.ports}
    lacks: set[tuple[str, str]] = set()
    if any(address not in joined and port.stop is None for address, (_, port) in ports.items()):
        return lacks
    edges = {frozenset((a, b)) for a, b, run in flow.edges(data="run") if run is not None}
    if any(frozenset(run.ports) not in edges for run in of.plumbing.runs):
        return lacks
    if not nx.has_path(flow, circuit.from_port, circuit.to_port):
        lacks.add((circuit.key, "no way"))
    near = nx.node_connected_component(aside, circuit.from_port)
    for one in of.plumbing.components:
        own = {address_of(one.key, port.name) for port in one.ports} & joined
        if own and not own & near:
            lacks.add((one.key, "stands apart"))
    lacks |= {(key, "goes nowhere") for key in _nowhere(of, flow, inside, ports)}
    if _is_cut_off(of, flow, inside, ports):
        lacks.add((circuit.key, "no way when shut"))
    return lacks


def _nowhere(of: BuildInput, flow: Any, inside: Any, ports: dict[str, Any]) -> set[str]:
    circuit = only_circuit(of)
    sources, sinks = {circuit.from_port}, {circuit.to_port}
    for address, (_, port) in ports.items():
        is_air = port.stop is not None and port.stop.kind == "air"
        if port.flow in ("in", "both") and (is_air or port.role == "fill"):
            sources.add(address)
        if port.flow in ("out", "both") and is_air:
            sinks.add(address)
        if port.flow in ("out", "both") and inside.in_degree(address) == 0:
            sources.add(address)
        if port.flow in ("in", "both") and inside.out_degree(address) == 0:
            sinks.add(address)
    after = sources.union(*(nx.descendants(flow, one) for one in sources))
    before = sinks.union(*(nx.ancestors(flow, one) for one in sinks))
    good = {run for a, b, run in flow.edges(data="run") if run and a in after and b in before}
    return {run.key for run in of.plumbing.runs} - good


def _is_cut_off(of: BuildInput, flow: Any, inside: Any, ports: dict[str, Any]) -> bool:
    circuit = only_circuit(of)
    pump, back = ports[circuit.from_port][0], ports[circuit.to_port][0]
    shut = {address for address, (_, port) in ports.items() if port.shuts}
    if circuit.medium != "water" or pump is not back or not shut:
        return False
    graph = flow.copy()
    own = [address for address, (one, _) in ports.items() if one is pump]
    for a, b in inside.edges:
        if a in own and not flow.edges[a, b].get("run"):
            graph.remove_edge(a, b)
    graph.remove_nodes_from(shut)
    outlets = [a for a in own if a in graph and ports[a][1].flow in ("out", "both")]
    return circuit.to_port not in graph or not any(
        nx.has_path(graph, outlet, circuit.to_port) for outlet in outlets
    )


@settings(max_examples=200, deadline=None)
@given(circuits())
def test_ways_are_those_that_another_search_finds(of: BuildInput) -> None:
    (found,) = plumbed(of).circuits
    told = {(one.what, one.why) for one in found.open if one.why in WAYS}
    assert told == expected_ways(of)


@settings(max_examples=80, deadline=None)
@given(circuits(), st.data())
def test_a_run_that_is_removed_opens_exactly_its_two_ends(of: BuildInput, data: Any) -> None:
    """Of what a port or run says of itself; what the whole circuit lacks is another matter."""
    runs = of.plumbing.runs
    if not runs:
        return
    gone = data.draw(st.sampled_from(runs))
    rest = tuple(run for run in runs if run is not gone)

    def said(build: BuildInput) -> set[tuple[str, str]]:
        (found,) = plumbed(build).circuits
        return {
            (one.what, one.why)
            for one in found.open
            if one.kind in ("port", "run") and one.why != "goes nowhere"
        }

    before = said(of) - {(gone.key, "against the flow")}
    after = said(replace(of, plumbing=replace(of.plumbing, runs=rest)))
    assert after - before == {(address, "not joined") for address in gone.ports}
    assert before - after == set()


@settings(max_examples=50, deadline=None)
@given(circuits())
def test_each_open_thing_is_told_once_and_those_reached_come_first(of: BuildInput) -> None:
    (found,) = plumbed(of).circuits
    told = [(one.kind, one.what, one.why) for one in found.open]
    assert len(set(told)) == len(told)
    kinds = [one.kind == "circuit" for one in found.open]
    assert kinds == sorted(kinds)
    assert found.is_closed is (not told)


@settings(max_examples=50, deadline=None)
@given(circuits())
def test_the_way_is_a_shortest_one(of: BuildInput) -> None:
    (flow, _, _), _, _ = _graphs(of)
    (found,) = plumbed(of).circuits
    first, last = only_circuit(of).from_port, only_circuit(of).to_port
    if not nx.has_path(flow, first, last):
        assert found.way == ()
        return
    assert len(found.way) - 1 == nx.shortest_path_length(flow, first, last)
    assert all(flow.has_edge(a, b) for a, b in zip(found.way, found.way[1:], strict=False))
