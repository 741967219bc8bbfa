"""A cap, plug or blank put on a port, and taken off again: each is one thing of the shelf."""

from collections import Counter
from dataclasses import replace

from webapp.build.build_input import BuildInput, Moment
from webapp.build.checks.fault_words import Thing
from webapp.build.edited import Edited
from webapp.build.plumbing import ShelfThing, Stop
from webapp.build.verbs.components import open_port, port_at, shut_port
from webapp.build.verbs.plumbing_edits import lost, refused
from webapp.build.verbs.shelf import put_on_shelf
from webapp.plumbing.ends import is_measured, joining_of
from webapp.plumbing.names import stop_name
from webapp.plumbing.run_work import shelf_without


def put_cap_on(build: BuildInput, address: str, *, on: Moment) -> Edited[str]:
    """A port is capped for good since that day; one of its caps goes from the shelf if it lies
    there."""
    found = port_at(build, address)
    if found is None:
        return lost(build, "port", address, address)
    edited = shut_port(build, address, Stop(kind="cap", on=on))
    end = joining_of(found[1]).end
    if edited.faults or not is_measured(end):
        return edited
    shelf = shelf_without(edited.build.plumbing.shelf, Counter((stop_name(end),)))
    plumbing = replace(edited.build.plumbing, shelf=shelf)
    return replace(edited, build=replace(edited.build, plumbing=plumbing))


def take_cap_off(build: BuildInput, address: str) -> Edited[str]:
    """A cap is off again and lies on the shelf; the port is open. Refused where no cap is on."""
    found = port_at(build, address)
    if found is None:
        return lost(build, "port", address, address)
    _, port = found
    if port.stop is None or port.stop.kind != "cap" or port.stop.on is None:
        text = "no cap is on it, so there is nothing to take off."
        return refused(build, address, Thing(kind="port", key=address).fault("stop", text))
    opened = open_port(build, address)
    end = joining_of(port).end
    if opened.faults or not is_measured(end):
        return opened
    back = put_on_shelf(opened.build, ShelfThing(piece="cap", name=stop_name(end)))
    return opened if back.faults else replace(opened, build=back.build)
