"""Ports as they are drawn: measured, shut, opened, named anew, added, taken out."""

from dataclasses import replace
from typing import cast

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.plumbing import (
    END_KINDS,
    FLOWS,
    ROLES,
    STOP_KINDS,
    EndKind,
    Flow,
    Port,
    Role,
    Stop,
    StopKind,
    address_of,
)
from webapp.build.typed_sizes import typed_size_words
from webapp.build.verbs.components import (
    add_ports,
    change_port,
    port_at,
    rename_port,
)
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.plumbing.piece_fields import size_reader
from webapp.pages.plumbing.work_forms import PORT_WORDS, Press, cover_press, port_press
from webapp.pages.words import plumbing_drawn as offered
from webapp.pages.words.sizes import shop_units
from webapp.plumbing.cap_work import put_cap_on, take_cap_off

NEW = Port(name="", end="bead", flow="both")


def shown_port(port: Port) -> Shown:
    """The form of a port as it is opened."""
    stop = port.stop
    return (
        Shown()
        .text("name", port.name)
        .choice("end", port.end, lambda kind: offered.end_word(cast(EndKind, kind)))
        .add("port_size", typed_size_words(port.size, shop_units()), port.size)
        .choice("flow", port.flow)
        .choice("role", port.role)
        .choice("circuit", port.circuit)
        .tick("shuts", port.shuts)
        .choice("stop", None if stop is None else stop.kind)
        .date("stop_on", None if stop is None else stop.on)
    )


def edit_port(address: str) -> FormEdit[str]:
    """The edit that gives a port what its form says; made is its address, a new one by its name."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        found = port_at(build, address)
        if found is None:
            return Edited(build=build, made=address, lost=Lost(kind="port", key=address))
        stored = found[1]
        if not form.settle(shown_port(stored)):
            return Edited(build=build, made=address)
        port = _as_typed(form, build, stored)
        if form.faults:
            return Edited(build=build, made=address)
        edited = _with_stop(build, address, stored, port)
        if edited.faults or port.name == stored.name:
            return edited
        renamed = rename_port(edited.build, address, port.name)
        return replace(renamed, build=build) if renamed.faults else renamed

    return edit


def _with_stop(build: BuildInput, address: str, was: Port, port: Port) -> Edited[str]:
    """A port as it is given; a cap that comes on is taken from the shelf, one that comes off lies
    there again."""
    was_on, is_on = (
        one.stop is not None and one.stop.kind == "cap" and one.stop.on is not None
        for one in (was, port)
    )
    if was_on == is_on:
        return change_port(build, address, port)
    if was_on:
        off = take_cap_off(build, address)
        return off if off.faults else change_port(off.build, address, port)
    stop = cast(Stop, port.stop)
    open_yet = change_port(build, address, replace(port, stop=replace(stop, on=None)))
    if open_yet.faults or stop.on is None:
        return open_yet
    capped = put_cap_on(open_yet.build, address, on=stop.on)
    return replace(capped, build=build) if capped.faults else capped


def enter_port(component: str) -> FormEdit[str]:
    """The edit that puts one port more on a component."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        if find_by_key(build.plumbing.components, component) is None:
            return Edited(build=build, made="", lost=Lost(kind="component", key=component))
        port = _as_typed(form, build, NEW)
        made = address_of(component, port.name)
        return replace(add_ports(build, component, (port,)), made=made)

    return edit


def _as_typed(form: TypedForm, build: BuildInput, stored: Port) -> Port:
    name = form.text("name", "The name of the port", needed=True) or stored.name or "port"
    label = f"Port {name}"
    end = cast(EndKind, form.one_of("end", f"{label}, end", END_KINDS) or stored.end)
    circuits = {one.key for one in build.plumbing.circuits}
    return Port(
        name=name,
        end=end,
        size=form.read("port_size", f"{label}, size", size_reader(end)),
        flow=cast(Flow, form.one_of("flow", f"{label}, flow", FLOWS) or stored.flow),
        role=cast(Role | None, form.one_of("role", f"{label}, role", ROLES)),
        circuit=form.one_of("circuit", f"{label}, circuit", circuits),
        shuts=form.ticked("shuts"),
        stop=_read_stop(form, label),
    )


def _read_stop(form: TypedForm, label: str) -> Stop | None:
    kind = cast(StopKind | None, form.one_of("stop", f"{label}, what shuts it", STOP_KINDS))
    on = form.moment("stop_on", f"{label}, on since")
    if kind is None:
        if on is not None and not form.is_as_stored("stop_on"):
            form.fault("stop", f"{label}: say what shuts it since that day, or empty the day.")
        return None
    return Stop(kind=kind, on=on)


def presses(address: str, port: Port, is_joined: bool) -> tuple[Press, ...]:
    """What one press says of a port: that it is capped, its cap off, its part in, its cover off."""
    stop = port.stop
    if stop is not None and stop.kind == "cover":
        return (cover_press(address),)
    if stop is not None and stop.kind == "cap" and stop.on is not None:
        return (Press(does="uncapped", words=PORT_WORDS["uncapped"], about=address),)
    is_shut = stop is not None and (stop.on is not None or stop.kind == "air")
    if is_joined or is_shut or (stop is None and port.flow == "none"):
        return ()
    one = port_press(address, port)
    return () if one is None else (one,)


def place_of_fault(_made: str, fault: Fault) -> str:
    """Which field of a port a fault belongs to."""
    if fault.kind == "component":
        return "name" if fault.field == "ports" else ""
    if fault.kind in ("run", "circuit"):
        return "circuit" if fault.field in ("from", "to") else ""
    fields = {"size": "port_size", "stop": "stop_on", "circuit": "circuit", "name": "name"}
    return fields.get(fault.field, "") if fault.kind == "port" else ""
