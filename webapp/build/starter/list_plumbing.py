"""What is drawn of the plumbing, for a build in which none of it is made yet."""

from collections.abc import Collection
from dataclasses import replace

from webapp.build.plumbing import Circuit, Component, Plumbing, Port, Run, Stop

LICENSED = "a licensed person"
"""Who makes a run that the builder may not make, without the name."""


def listed_plumbing(plumbing: Plumbing, tasks: Collection[str], parts: Collection[str]) -> Plumbing:
    """Components, circuits and runs as they are drawn: nothing cut, fitted, capped or tested.

    `tasks` and `parts` are the keys of those that are there. The shelf stays where it is, and
    what is sold at which price goes along.
    """
    return Plumbing(
        components=tuple(_component(each, parts) for each in plumbing.components),
        circuits=tuple(_circuit(each, tasks) for each in plumbing.circuits),
        runs=tuple(_run(each, tasks) for each in plumbing.runs),
        ordered=tuple(each for each in plumbing.ordered if each.part in parts),
        sold=plumbing.sold,
    )


def _component(component: Component, parts: Collection[str]) -> Component:
    return replace(
        component,
        ports=tuple(_port(port) for port in component.ports),
        part=component.part if component.part in parts else None,
    )


def _port(port: Port) -> Port:
    """A port that is meant to be open to the air, or to be capped, is meant so again."""
    if port.stop is None:
        return port
    is_meant = port.stop.kind in ("cap", "air")
    return replace(port, stop=Stop(kind=port.stop.kind) if is_meant else None)


def _circuit(circuit: Circuit, tasks: Collection[str]) -> Circuit:
    return replace(
        circuit,
        holds=tuple(key for key in circuit.holds if key in tasks),
        tested_on=None,
        there_litres=None,
        there_percent=None,
    )


def _run(run: Run, tasks: Collection[str]) -> Run:
    return Run(
        key=run.key,
        from_port=run.from_port,
        to_port=run.to_port,
        name=run.name,
        pieces=run.pieces,
        tasks=tuple(key for key in run.tasks if key in tasks),
        licensed=None if run.licensed is None else LICENSED,
    )
