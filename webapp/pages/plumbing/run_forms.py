"""Runs as they are drawn: two ports joined, a run changed, a run taken out."""

from dataclasses import replace
from typing import cast

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.plumbing import Run
from webapp.build.verbs.runs import change_run, join_ports
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.plumbing.seen import Seen
from webapp.pages.words.plumbing_drawn import Choices
from webapp.plumbing.drawing import PlacedPort

NOT_OPEN = {"cap": "capped", "part": "closed by its part", "air": "open to the air on purpose"}


def port_choices(seen: Seen, circuit: str, own: tuple[str, ...] = ()) -> Choices:
    """The ports of a circuit to pick from, each with its size: those still open first, along the
    flow, then the others with why not. `own` are those of the run that is changed."""
    far = seen.far(circuit)
    last = len(far) + 1
    placed = sorted(
        seen.drawing.ports_by_circuit[circuit], key=lambda one: far.get(one.address, last)
    )
    still = [(one.address, seen.place(one.address)) for one in placed if not _why_not(seen, one)]
    others = [
        (one.address, f"{seen.place(one.address)}: {'as it is' if one.address in own else why}")
        for one in placed
        if (why := _why_not(seen, one))
    ]
    return (("", "pick a port"), *still, *others)


def _why_not(seen: Seen, placed: PlacedPort) -> str:
    """Why nothing more can be joined to a port; "" where it is open."""
    run, stop = seen.drawing.run_at.get(placed.address), placed.port.stop
    if run is not None:
        return f"joined by {seen.run_name(run.key)}"
    if stop is not None and stop.kind in NOT_OPEN:
        return NOT_OPEN[stop.kind]
    return "nothing flows through it" if placed.port.flow == "none" else ""


def shown_run(run: Run) -> Shown:
    """The form of a run as it is opened."""
    return (
        Shown()
        .text("name", run.name)
        .choice("from_port", run.from_port)
        .choice("to_port", run.to_port)
        .text("licensed", run.licensed or "")
    )


def join(form: TypedForm, build: BuildInput) -> Edited[str]:
    """A run between two ports; made is its key."""
    first, last = _read_ports(form, build)
    name = form.text("name", "The name of the run")
    if form.faults:
        return Edited(build=build, made="")
    return join_ports(build, cast(str, first), cast(str, last), name=name)


def edit_run(key: str) -> FormEdit[str]:
    """The edit that gives a run the name and the ports that its form says."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        run = find_by_key(build.plumbing.runs, key)
        if run is None:
            return Edited(build=build, made=key, lost=Lost(kind="run", key=key))
        if not form.settle(shown_run(run)):
            return Edited(build=build, made=key)
        first, last = _read_ports(form, build)
        changed = replace(
            run,
            name=form.text("name", "The name of the run"),
            from_port=first or run.from_port,
            to_port=last or run.to_port,
            licensed=form.text("licensed", "Who makes it") or None,
        )
        return change_run(build, changed)

    return edit


def _read_ports(form: TypedForm, build: BuildInput) -> tuple[str | None, str | None]:
    there = {
        f"{component.key}.{port.name}"
        for component in build.plumbing.components
        for port in component.ports
    }
    found = []
    for field, label in (("from_port", "Where it begins"), ("to_port", "Where it ends")):
        address = form.one_of(field, label, there)
        if address is None and not form.faults_at(field):
            form.fault(field, f"{label}: no port is picked. Pick one.")
        found.append(address)
    return found[0], found[1]


def place_of_fault(_made: str, fault: Fault) -> str:
    """Which field of a run a fault belongs to."""
    if fault.kind == "port":
        return "to_port"
    if fault.kind != "run":
        return ""
    fields = {"from": "from_port", "to": "to_port", "name": "name", "licensed": "licensed"}
    return fields.get(fault.field, "")
