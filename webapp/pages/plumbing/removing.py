"""The question before a circuit, a component, a run or a port goes: one shape for all four.

What stands in the way is told first; else what goes with it, and one press. A port that nothing
hangs on goes without a question.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.verbs.circuits import remove_circuit
from webapp.build.verbs.components import port_at, remove_component, remove_port
from webapp.build.verbs.runs import remove_run
from webapp.pages import addresses
from webapp.pages.forms.asking import GoesWith, is_as_asked, seen_of
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import page_of
from webapp.pages.frame.form_change import FormEdit, change_by_form, told
from webapp.pages.frame.gone import gone
from webapp.pages.frame.rendering import render_question
from webapp.pages.plumbing.drawn_page import PAGE, not_yet
from webapp.pages.words import plumbing_gone as words
from webapp.pages.words.faults import said
from webapp.pages.words.plumbing_names import port_called, run_called
from webapp.services.changes import Refused
from webapp.services.program import Services

Kind = Literal["circuit", "component", "run", "port"]
KINDS: tuple[Kind, ...] = ("circuit", "component", "run", "port")
Verb = Callable[[BuildInput, str], Edited[str]]
_VERBS: dict[Kind, Verb] = {
    "circuit": remove_circuit,
    "component": remove_component,
    "run": remove_run,
    "port": remove_port,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Going:
    """What is to be removed: its name, what goes with it, and in which circuit it stands.

    in_the_way : what keeps it from being removed yet
    """

    name: str
    goes: tuple[GoesWith, ...]
    texts: tuple[str, ...]
    circuit: str | None
    in_the_way: tuple[Fault, ...]


def going_of(build: BuildInput, kind: Kind, key: str) -> Going | None:
    """What would go; None where it is not there."""
    found = _FOUND[kind](build, key)
    return found and replace(found, in_the_way=_VERBS[kind](build, key).faults)


def _circuit(build: BuildInput, key: str) -> Going | None:
    circuit = find_by_key(build.plumbing.circuits, key)
    if circuit is None:
        return None
    goes = (GoesWith(name="all", state=circuit, now="it was changed"),)
    texts = (words.WITH_CIRCUIT,)
    return Going(name=circuit.name, goes=goes, texts=texts, circuit=None, in_the_way=())


def _component(build: BuildInput, key: str) -> Going | None:
    component = find_by_key(build.plumbing.components, key)
    if component is None:
        return None
    return Going(
        name=component.name,
        goes=(GoesWith(name="all", state=component, now="it was changed"),),
        texts=(words.gone_with_component(component),),
        circuit=component.circuit,
        in_the_way=(),
    )


def _run(build: BuildInput, key: str) -> Going | None:
    run = find_by_key(build.plumbing.runs, key)
    if run is None:
        return None
    first, last = (port_called(build, address) for address in run.ports)
    done = (run.cut_on, run.fitted_on, run.clamped_on)
    found = port_at(build, run.from_port)
    return Going(
        name=run_called(build, run),
        goes=(
            GoesWith(name="pieces", state=run.pieces, now="its pieces were changed"),
            GoesWith(name="ports", state=run.ports, now="it joins other ports now"),
            GoesWith(name="done", state=done, now="how far it is was changed"),
        ),
        texts=(f"Its two ends are open then: {first}, and {last}.",),
        circuit=None if found is None else found[1].circuit or found[0].circuit,
        in_the_way=(),
    )


def _port(build: BuildInput, key: str) -> Going | None:
    found = port_at(build, key)
    if found is None:
        return None
    component, port = found
    hanging = words.hang_on_port(build, component, port)
    return Going(
        name=port_called(build, key),
        goes=tuple(GoesWith(name=text, state=text, now=text) for text in hanging),
        texts=hanging,
        circuit=port.circuit or component.circuit,
        in_the_way=(),
    )


_FOUND: dict[Kind, Callable[[BuildInput, str], Going | None]] = {
    "circuit": _circuit,
    "component": _component,
    "run": _run,
    "port": _port,
}


def take_out(kind: Kind, key: str) -> FormEdit[str | None]:
    """The edit that takes it out, unless it is not what was asked about; made is its circuit."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str | None]:
        going = _FOUND[kind](build, key)
        if going is None:
            return Edited(build=build, made=None, lost=Lost(kind=kind, key=key))
        if going.goes:
            is_as_asked(form, going.goes)
        done = _VERBS[kind](build, key)
        return Edited(build=done.build, made=going.circuit, faults=done.faults, lost=done.lost)

    return edit


def remove(services: Services, slug: str, form: TypedForm, kind: Kind, key: str) -> Response:
    """Take it out and go where it was drawn, or ask."""
    done = change_by_form(services, slug, form, take_out(kind, key))
    if isinstance(done, Refused):
        return ask(services, slug, kind, key, form, status=422)
    back = addresses.plumbing(slug)
    if kind == "port":
        back = addresses.component(slug, key.partition(".")[0])
    elif done.made is not None:
        back = addresses.circuit(slug, done.made)
    return RedirectResponse(told(back, done), status_code=303)


def ask(
    services: Services, slug: str, kind: Kind, key: str, form: TypedForm, *, status: int = 200
) -> Response:
    """What stands in the way, or the question with what goes."""
    page = page_of(services, slug, PAGE)
    going = going_of(page.build, kind, key)
    if going is None:
        raise gone(services, slug, kind, key)
    back, action = _ADDRESSES[kind]
    if going.in_the_way:
        texts = tuple(said(fault, page.build) for fault in going.in_the_way)
        heading = f"“{going.name}” can not be removed yet"
        return not_yet(page, heading, texts, back(slug, key), status)
    return render_question(
        f"Remove the {kind} “{going.name}”?",
        status=status,
        title=f"Remove this {kind}?",
        page=page,
        seen=seen_of(going.goes),
        texts=(*(fault.text for fault in form.faults), *going.texts),
        action=action(slug, key),
        button=f"Remove the {kind}",
        back=back(slug, key),
    )


_ADDRESSES: dict[Kind, tuple[Callable[[str, str], str], Callable[[str, str], str]]] = {
    "circuit": (addresses.circuit, addresses.remove_circuit),
    "component": (addresses.component, addresses.remove_component),
    "run": (addresses.run, addresses.remove_run),
    "port": (addresses.port, addresses.remove_port),
}
