"""Faults of a build as a page says them: things by their names alone."""

import re

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.checks.fault_words import SHOWN_OF_A_LABEL, shown
from webapp.build.plumbing import address_of
from webapp.pages.words.sizes import in_shop_units

_OF_PORTS = ("run", "port", "component", "circuit")
"""The kinds of things whose faults name ports by their addresses."""
_WITH_SIZES = (*_OF_PORTS, "shelf", "room", "stock", "piece", "cut list")
"""The kinds of things whose faults say lengths, pressures or volumes."""


def said(fault: Fault, build: BuildInput | None = None) -> str:
    """The sentence of a fault without the key of its thing; ports by the names of `build`.

    Who reads a document needs the key to find the thing; on a page nobody has ever typed one.
    """
    own = f" ({shown(fault.key, SHOWN_OF_A_LABEL)}): "
    text = fault.text.replace(own, ": ", 1) if fault.key else fault.text
    if fault.kind in _WITH_SIZES:
        text = in_shop_units(text)
    if build is None or fault.kind not in _OF_PORTS:
        return text
    return _with_ports_named(_with_run_named(text, fault, build), build)


def _with_run_named(text: str, fault: Fault, build: BuildInput) -> str:
    """A run without a name, or not stored yet, has a key that nobody on a page has seen."""
    run = find_by_key(build.plumbing.runs, fault.key)
    if fault.kind != "run" or (run is not None and run.name):
        return text
    return re.sub(rf"^Run {re.escape(fault.key)}(?=[:,])", "The run", text)


def _with_ports_named(text: str, build: BuildInput) -> str:
    """Each address as component and port; the circuit told before it in brackets too."""
    circuits = {circuit.key: circuit.name or circuit.key for circuit in build.plumbing.circuits}
    names: dict[str, str] = {}
    for component in build.plumbing.components:
        for port in component.ports:
            address = address_of(component.key, port.name)
            name = f"{component.name or component.key}, {port.name}"
            names[address] = name
            key = port.circuit or component.circuit
            if key in circuits:
                names[f"{key} ({address})"] = f"{circuits[key]} ({name})"
    found = [one for one in sorted(names, key=len, reverse=True) if one in text]
    if not found:
        return text
    any_of = "|".join(map(re.escape, found))
    return re.sub(rf"(?<![\w.])(?:{any_of})(?!\w)", lambda at: names[at[0]], text)
