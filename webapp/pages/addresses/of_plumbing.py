"""Addresses of what is plumbed."""

from urllib.parse import urlencode

from webapp.pages.addresses.joined import build, thing_in


def plumbing(slug: str) -> str:
    """The whole engine bay as a list of circuits."""
    return f"{build(slug)}/plumbing"


def circuit(slug: str, key: str) -> str:
    return thing_in(plumbing(slug), key)


def coolant(slug: str, key: str = "") -> str:
    """Coolant mixed for a frost, for the circuit with this key."""
    return f"{build(slug)}/coolant" + (f"?{urlencode({'circuit': key})}" if key else "")


def room(slug: str, key: str = "") -> str:
    """Measured spaces with what is stacked in them; with a key the form of that one."""
    return f"{build(slug)}/room" + (f"?{urlencode({'key': key})}" if key else "")


def runs(slug: str) -> str:
    return f"{build(slug)}/runs"


def run(slug: str, key: str) -> str:
    return thing_in(runs(slug), key)


def run_work(slug: str) -> str:
    """Where a run is said to be cut, fitted, clamped, off again."""
    return f"{build(slug)}/run-work"


def port_work(slug: str) -> str:
    """Where a port is said to be capped, its part in, its cap off."""
    return f"{build(slug)}/port-work"


def run_tasks(slug: str) -> str:
    """Where the tasks of a run, or of the runs of a circuit, are made."""
    return f"{build(slug)}/run-tasks"


def tasks_of_run(slug: str, key: str) -> str:
    """The tasks of a run, and the form of those it can make."""
    return f"{build(slug)}/tasks-of-run?{urlencode({'key': key})}"


def circuit_tested(slug: str) -> str:
    return f"{build(slug)}/circuit-tested"


def new_circuit(slug: str) -> str:
    return f"{build(slug)}/new-circuit"


def circuit_form(slug: str, key: str) -> str:
    """Where a circuit is changed."""
    return f"{build(slug)}/circuit-form?{urlencode({'key': key})}"


def remove_circuit(slug: str, key: str) -> str:
    return f"{build(slug)}/remove-circuit?{urlencode({'key': key})}"


def waive(slug: str) -> str:
    """Where a circuit is said to go without a vent or the like, or not any more."""
    return f"{build(slug)}/circuit-waived"


def new_component(slug: str, circuit: str, kind: str = "") -> str:
    """The usual components to pick one from; with `kind` the form of that one."""
    asked = {"circuit": circuit} | ({"kind": kind} if kind else {})
    return f"{build(slug)}/new-component?{urlencode(asked)}"


def component(slug: str, key: str) -> str:
    return f"{build(slug)}/component?{urlencode({'key': key})}"


def remove_component(slug: str, key: str) -> str:
    return f"{build(slug)}/remove-component?{urlencode({'key': key})}"


def turn_component(slug: str) -> str:
    """Where a component is turned round in a circuit."""
    return f"{build(slug)}/turn-component"


def new_port(slug: str, component: str) -> str:
    return f"{build(slug)}/new-port?{urlencode({'component': component})}"


def port(slug: str, address: str) -> str:
    """A port by its address, "rad.top"."""
    return f"{build(slug)}/port?{urlencode({'key': address})}"


def remove_port(slug: str, address: str) -> str:
    return f"{build(slug)}/remove-port?{urlencode({'key': address})}"


def new_run(slug: str, circuit: str, from_port: str = "") -> str:
    """Where two ports are joined; with `from_port` it begins there."""
    asked = {"circuit": circuit} | ({"from": from_port} if from_port else {})
    return f"{build(slug)}/new-run?{urlencode(asked)}"


def run_form(slug: str, key: str) -> str:
    """Where the name and the ports of a run are changed."""
    return f"{build(slug)}/run-form?{urlencode({'key': key})}"


def remove_run(slug: str, key: str) -> str:
    return f"{build(slug)}/remove-run?{urlencode({'key': key})}"


def next_piece(slug: str) -> str:
    """Where one piece more is put at the end of a run."""
    return f"{build(slug)}/next-piece"


def run_with_focus(slug: str, key: str, before: int = 0) -> str:
    """The page of a run with the number of its next piece ready to be typed; of one that comes
    before the piece of that number, where one is said."""
    address = run(slug, key)
    place = f"&before={before}" if before else ""
    return f"{address}{'&' if '?' in address else '?'}typing=piece{place}"


def piece(slug: str, run: str, number: int) -> str:
    """One piece of a run, its number from 1."""
    return f"{build(slug)}/piece?{urlencode({'run': run, 'at': number})}"


def piece_work(slug: str) -> str:
    """Where a piece is moved, taken out, or a T put in before it."""
    return f"{build(slug)}/piece-work"


def new_on_shelf(slug: str) -> str:
    return f"{build(slug)}/new-on-shelf"


def shelf_thing(slug: str, place: int, digest: str, name: str) -> str:
    """A line of the shelf, by its place and by what it says; `name` for when it is gone."""
    asked = {"at": place, "key": digest, "name": name}
    return f"{build(slug)}/shelf-thing?{urlencode(asked)}"


def take_from_shelf(slug: str) -> str:
    return f"{build(slug)}/take-from-shelf"


def buy_list(slug: str) -> str:
    """What is drawn and lacks."""
    return f"{build(slug)}/buy-list"


def onto_shelf(slug: str) -> str:
    """Where what a part brings is put on the shelf."""
    return f"{build(slug)}/onto-shelf"


def cut_list(slug: str, what: str = "") -> str:
    """What is to be cut; how of one kind of hose or tube ("hose 19 coolant")."""
    return f"{build(slug)}/cut-list" + (f"?{urlencode({'what': what})}" if what else "")


def stop_cutting(slug: str, what: str) -> str:
    """Where the search for a better cut list is ended."""
    return f"{build(slug)}/stop-cutting?{urlencode({'what': what})}"


def cut_to_shelf(slug: str, what: str) -> str:
    """Where a cut list that was cut is laid on the shelf."""
    return f"{build(slug)}/cut-to-shelf?{urlencode({'what': what})}"


def joints(slug: str) -> str:
    """Every joint of every run, to be printed."""
    return f"{build(slug)}/joints"


def shelf(slug: str) -> str:
    """What lies unused, and what of it is spoken for."""
    return f"{build(slug)}/shelf"
