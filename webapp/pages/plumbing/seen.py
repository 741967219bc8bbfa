"""The plumbing of a build as the pages look things up in it: by key, by circuit, by name."""

import datetime as dt
from dataclasses import dataclass
from functools import cached_property

from webapp.build.build_input import BuildInput
from webapp.build.plumbing import Component, End
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import sizes
from webapp.plumbing.drawing import Drawing, PlacedPort
from webapp.plumbing.flow import distances, network_of
from webapp.plumbing.plumbed import Plumbed, PlumbedCircuit, PlumbedRun


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """Something by its name, and where its page is."""

    name: str
    address: str
    key: str = ""


@dataclass(frozen=True, kw_only=True)
class Seen:
    """What is plumbed at one revision. Nothing in it changes."""

    slug: str
    today: dt.date
    build: BuildInput
    plumbed: Plumbed
    drawing: Drawing

    @cached_property
    def circuits(self) -> dict[str, PlumbedCircuit]:
        """The circuits by key, in the order of the document."""
        return {one.circuit.key: one for one in self.plumbed.circuits}

    @cached_property
    def runs(self) -> dict[str, PlumbedRun]:
        """The runs by key."""
        return {one.run.key: one for one in self.plumbed.runs}

    @cached_property
    def runs_of(self) -> dict[str, tuple[PlumbedRun, ...]]:
        """The runs of each circuit in flow order: so they are numbered, from 1."""
        found: dict[str, list[PlumbedRun]] = {key: [] for key in self.circuits}
        for one in self.plumbed.runs:
            found[one.circuit].append(one)
        return {key: self._in_flow_order(key, runs) for key, runs in found.items()}

    def _in_flow_order(self, key: str, runs: list[PlumbedRun]) -> tuple[PlumbedRun, ...]:
        far = self.far(key)
        last = len(far) + 1

        def steps(one: PlumbedRun) -> int:
            return min(far.get(address, last) for address in one.run.ports)

        return tuple(sorted(runs, key=steps))

    def far(self, key: str) -> dict[str, int]:
        """How many steps with the flow each port of a circuit lies from its begin."""
        network = network_of(self.drawing, key)
        return distances(network, self.circuits[key].circuit.from_port)

    @cached_property
    def numbers(self) -> dict[str, int]:
        """The number of each run in its circuit."""
        return {
            one.run.key: number
            for runs in self.runs_of.values()
            for number, one in enumerate(runs, start=1)
        }

    @cached_property
    def components(self) -> dict[str, Component]:
        """The components by key."""
        return {one.key: one for one in self.build.plumbing.components}

    @cached_property
    def tasks(self) -> dict[str, Named]:
        """The tasks by key."""
        return {
            task.key: Named(
                name=task.name, address=addresses.task(self.slug, task.key), key=task.key
            )
            for task in self.build.tasks
        }

    @cached_property
    def held_by(self) -> dict[str, tuple[Named, ...]]:
        """By circuit the tasks that wait for it."""
        found: dict[str, list[Named]] = {}
        for held in self.plumbed.held:
            for hold in held.by:
                found.setdefault(hold.circuit, []).append(self.tasks[held.task])
        return {key: tuple(tasks) for key, tasks in found.items()}

    def run_name(self, key: str) -> str:
        """What a run is called; where it has no name, from where to where it leads."""
        run = self.runs[key].run
        if run.name:
            return run.name
        return " to ".join(self.port_name(address) for address in run.ports)

    def run_link(self, key: str) -> Named:
        """A run by its name."""
        return Named(name=self.run_name(key), address=addresses.run(self.slug, key))

    def port_name(self, address: str) -> str:
        """A port by its component and its name: "Radiator, top"."""
        placed = self.drawing.ports[address]
        return f"{placed.component.name}, {placed.port.name}"

    def place(self, address: str) -> str:
        """A port with its end: "Radiator, top (bead 38)"."""
        return f"{self.port_name(address)} ({end_of(self.drawing.ports[address])})"

    def upstream(self, one: PlumbedRun) -> str:
        """The port at which a run begins along the flow."""
        first, last = one.run.ports
        return last if one.flow == "back" else first

    def name_of(self, key: str) -> str:
        """A component or a run, by whichever has that key."""
        component = self.components.get(key)
        return component.name if component is not None else self.run_name(key)


def end_of(placed: PlacedPort) -> str:
    """The end of a port in words."""
    return sizes.end(End(kind=placed.port.end, size=placed.port.size))


def seen_of(page: PageContext) -> Seen | None:
    """The plumbing of the build of a page, kept at hand; None while faults stand in the way."""
    plumbed = page.planned.plumbed
    if plumbed is None:
        return None

    def look() -> Seen:
        return Seen(
            slug=page.slug,
            today=page.today,
            build=page.build,
            plumbed=plumbed,
            drawing=Drawing(page.build),
        )

    found = page.planned.circuits.get_or_keep(("seen", page.today), look)
    assert isinstance(found, Seen)
    return found
