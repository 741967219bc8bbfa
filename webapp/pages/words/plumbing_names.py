"""What runs and ports are called where all that is at hand is the build."""

from collections.abc import Iterable

from webapp.build.build_input import BuildInput
from webapp.build.plumbing import Run
from webapp.build.verbs.components import port_at


def port_called(build: BuildInput, address: str) -> str:
    """A port by its component and its name, "Radiator, top"; by its address where there is none."""
    found = port_at(build, address)
    return address if found is None else f"{found[0].name}, {found[1].name}"


def run_called(build: BuildInput, run: Run) -> str:
    """A run by its name; where it has none, from where to where it leads."""
    return run.name or ends_called(build, run.ports)


def ends_called(build: BuildInput, ports: Iterable[str]) -> str:
    """What a run without a name is called."""
    return " to ".join(port_called(build, address) for address in ports)
