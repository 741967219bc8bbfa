"""Components and their ports over HTTP: a usual one put in, changed, taken out."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.plumbing import component_at
from webapp.build.usual_components import UsualComponent
from webapp.build.verbs.components import port_at
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.errors import missing_thing
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.gone import gone
from webapp.pages.frame.notice import notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing import component_forms, port_forms
from webapp.pages.plumbing.circuit_view import port_line
from webapp.pages.plumbing.drawn_page import PAGE, not_to_be_drawn, pressed
from webapp.pages.plumbing.seen import seen_of
from webapp.pages.words import plumbing_drawn as offered
from webapp.services.changes import Refused
from webapp.services.program import Services
from webapp.services.seed_builds import usual_components

router = APIRouter(include_in_schema=False)


def _usual(kind: str) -> UsualComponent | None:
    return next((one for one in usual_components() if one.kind == kind), None)


@router.get("/builds/{slug}/new-component")
def new_component(slug: str, services: ServicesOf, circuit: str = "", kind: str = "") -> Response:
    """The usual components to pick one from; with `kind` the form of that one."""
    return _show_new(slug, services, circuit, kind, None)


@router.post("/builds/{slug}/new-component")
def enter_component(
    slug: str, services: ServicesOf, posted: Typed, circuit: str = "", kind: str = ""
) -> Response:
    usual = _usual(kind)
    if usual is None:
        raise missing_thing(slug, "component", kind[:60])
    form = TypedForm.of(posted)
    edit = component_forms.enter_component(usual, circuit)
    done = change_by_form(
        services, slug, form, edit, lambda _, fault: component_forms.place_in_rows(usual, fault)
    )
    if isinstance(done, Refused):
        return _show_new(slug, services, circuit, kind, form)
    return RedirectResponse(told(addresses.circuit(slug, circuit), done), status_code=303)


def _show_new(
    slug: str, services: Services, key: str, kind: str, form: TypedForm | None
) -> Response:
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page)
    if key not in seen.circuits:
        raise gone(services, slug, "circuit", key, form)
    circuits = page.build.plumbing.circuits
    circuit, usual = seen.circuits[key].circuit, _usual(kind)
    if usual is None:
        fitting = tuple(one for one in usual_components() if one.fits(circuit.medium))
        others = tuple(one for one in usual_components() if not one.fits(circuit.medium))
        return render(
            "plumbing/usual_components.html",
            title="Add a component",
            page=page,
            circuit=circuit,
            fitting=fitting,
            others=others,
        )
    return render(
        "plumbing/new_component.html",
        status=422 if form else 200,
        title=usual.name,
        page=page,
        circuit=circuit,
        usual=usual,
        rows=component_forms.usual_rows(usual),
        form=form or component_forms.opened_usual(usual, circuit, circuits),
        circuits=(("", "none: leave it out"), *((one.key, one.name) for one in circuits)),
        offered=offered,
    )


@router.get("/builds/{slug}/component")
def one_component(slug: str, services: ServicesOf, key: str = "", since: str = "") -> Response:
    return _show(slug, services, key, None, since)


@router.post("/builds/{slug}/component")
def change_component(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    form = TypedForm.of(posted)
    edit = component_forms.edit_component(key)
    done = change_by_form(services, slug, form, edit, component_forms.place_of_fault)
    if isinstance(done, Refused):
        return _show(slug, services, key, form)
    return RedirectResponse(told(addresses.component(slug, key), done), status_code=303)


def _show(
    slug: str, services: Services, key: str, form: TypedForm | None, since: str = ""
) -> Response:
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page)
    component = seen.components.get(key)
    if component is None:
        raise gone(services, slug, "component", key, form)
    placed = [one for one in seen.drawing.ports.values() if one.component.key == key]
    names = {circuit: seen.circuits[circuit].circuit.name for circuit in seen.circuits}
    inside = component_forms.circuits_in(component)
    return render(
        "plumbing/component.html",
        status=422 if form else 200,
        title=component.name,
        page=page,
        component=component,
        notice=notice_of(services, page, since, addresses.component(slug, key)),
        form=form or TypedForm.opened(component_forms.shown_component(component)),
        circuits=tuple((circuit, names.get(circuit, circuit)) for circuit in inside),
        ways=component_forms.inner_ways(component),
        turns=tuple(
            (circuit, names.get(circuit, circuit), component_forms.way_round(component, circuit))
            for circuit in component_forms.turnable(component)
        ),
        offered=offered,
        parts=(("", "none"), *((part.key, part.name) for part in page.build.parts)),
        ports=tuple(
            (port_line(seen, one), names.get(one.circuit or "", ""), one.circuit) for one in placed
        ),
    )


@router.post("/builds/{slug}/turn-component")
def turn_round(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """A component turned round in one circuit: its ways in are ways out."""
    form = TypedForm.of(posted)
    back = addresses.component(slug, form.typed("component"))
    return pressed(slug, services, form, component_forms.turn_round, back)


# --- ports ------------------------------------------------------------------------------------


@router.get("/builds/{slug}/new-port")
def new_port(slug: str, services: ServicesOf, component: str = "") -> Response:
    return _show_port(slug, services, component, "", None)


@router.post("/builds/{slug}/new-port")
def enter_port(slug: str, services: ServicesOf, posted: Typed, component: str = "") -> Response:
    form = TypedForm.of(posted)
    edit = port_forms.enter_port(component)
    done = change_by_form(services, slug, form, edit, port_forms.place_of_fault)
    if isinstance(done, Refused):
        return _show_port(slug, services, component, "", form)
    return RedirectResponse(told(addresses.component(slug, component), done), status_code=303)


@router.get("/builds/{slug}/port")
def one_port(slug: str, services: ServicesOf, key: str = "", since: str = "") -> Response:
    return _show_port(slug, services, component_at(key), key, None, since)


@router.post("/builds/{slug}/port")
def change_port(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    form = TypedForm.of(posted)
    done = change_by_form(
        services, slug, form, port_forms.edit_port(key), port_forms.place_of_fault
    )
    if isinstance(done, Refused):
        return _show_port(slug, services, component_at(key), key, form)
    return RedirectResponse(told(addresses.port(slug, done.made), done), status_code=303)


def _show_port(
    slug: str, services: Services, owner: str, key: str, form: TypedForm | None, since: str = ""
) -> Response:
    """The form of a port; without `key` of a new one of that component."""
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page)
    component, found = seen.components.get(owner), port_at(page.build, key)
    if component is None:
        raise gone(services, slug, "component", owner, form)
    if key and found is None:
        raise gone(services, slug, "port", key, form)
    port = found[1] if found is not None else port_forms.NEW
    own = seen.circuits.get(component.circuit or "")
    usual = f"as its component: {own.circuit.name}" if own is not None else "pick one"
    placed = seen.drawing.ports.get(key)
    run = seen.drawing.run_at.get(key)
    return render(
        "plumbing/port.html",
        status=422 if form else 200,
        title=f"{component.name}, {port.name or 'new port'}",
        page=page,
        component=component,
        port=port,
        key=key,
        notice=notice_of(services, page, since, addresses.port(slug, key)),
        form=form or TypedForm.opened(port_forms.shown_port(port)),
        circuits=(("", usual), *((k, one.circuit.name) for k, one in seen.circuits.items())),
        circuit=None if placed is None else placed.circuit,
        place=None if placed is None else seen.place(key),
        joined="" if placed is None else port_line(seen, placed).joined,
        run=None if run is None else seen.run_link(run.key),
        press=None if placed is None else port_forms.presses(key, port, run is not None),
        offered=offered,
    )
