"""Circuits drawn over HTTP: begun, changed, taken out, what they go without."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.gone import gone
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing import circuit_forms
from webapp.pages.plumbing.drawn_page import PAGE, not_to_be_drawn, pressed
from webapp.pages.plumbing.seen import Seen, seen_of
from webapp.pages.words import plumbing_drawn as offered
from webapp.pages.words import sizes
from webapp.services.changes import Refused
from webapp.services.program import Services
from webapp.services.seed_builds import usual_components

router = APIRouter(include_in_schema=False)
NEW_FIELDS = ("name", "medium", "begins", "ends", "hose", "tube")


@router.get("/builds/{slug}/new-circuit")
def new_circuit(slug: str, services: ServicesOf) -> Response:
    return _show_new(slug, services, None)


@router.post("/builds/{slug}/new-circuit")
def enter_circuit(slug: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted)
    done = change_by_form(
        services, slug, form, circuit_forms.enter_circuit, circuit_forms.place_of_new_fault
    )
    if isinstance(done, Refused):
        return _show_new(slug, services, form)
    return RedirectResponse(told(addresses.circuit(slug, done.made), done), status_code=303)


def _show_new(slug: str, services: Services, form: TypedForm | None) -> Response:
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page)
    there = tuple(
        (circuit_forms.PORT + address, f"{seen.place(address)}, of {_circuit_name(seen, address)}")
        for address, placed in seen.drawing.ports.items()
        if address not in seen.drawing.run_at and placed.port.flow != "none"
    )
    usual = tuple((circuit_forms.KIND + one.kind, f"new: {one.name}") for one in usual_components())
    return render(
        "plumbing/new_circuit.html",
        status=422 if form else 200,
        title="New circuit",
        page=page,
        form=form or TypedForm(dict.fromkeys(NEW_FIELDS, ("",))),
        media=(("", "pick one"), *offered.MEDIUM_CHOICES),
        begins=(("", "pick one"), *usual, *there),
        ends=(("", "the same component: it is a loop"), *usual, *there),
    )


def _circuit_name(seen: Seen, address: str) -> str:
    found = seen.circuits.get(seen.drawing.ports[address].circuit or "")
    return "no circuit" if found is None else found.circuit.name


@router.get("/builds/{slug}/circuit-form")
def circuit_form(slug: str, services: ServicesOf, key: str = "") -> Response:
    return _show(slug, services, key, None)


@router.post("/builds/{slug}/circuit-form")
def change_circuit(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    form = TypedForm.of(posted)
    if form.typed("more"):
        more = max(form.row_numbers("holds"), default=-1) + 1
        return _show(slug, services, key, form.with_blanks(f"holds-{more}"), status=200)
    edit = circuit_forms.edit_circuit(key)
    done = change_by_form(services, slug, form, edit, circuit_forms.place_of_fault)
    if isinstance(done, Refused):
        return _show(slug, services, key, form)
    return RedirectResponse(told(addresses.circuit(slug, key), done), status_code=303)


def _show(
    slug: str, services: Services, key: str, form: TypedForm | None, *, status: int = 422
) -> Response:
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page)
    if key not in seen.circuits:
        raise gone(services, slug, "circuit", key, form)
    circuit = seen.circuits[key].circuit
    ports = tuple(
        (one.address, seen.place(one.address)) for one in seen.drawing.ports_by_circuit[key]
    )
    shown = form or TypedForm.opened(circuit_forms.shown_circuit(page.build, circuit))
    return render(
        "plumbing/circuit_form.html",
        status=status if form else 200,
        title=circuit.name,
        page=page,
        circuit=circuit,
        form=shown,
        rows=shown.row_numbers("holds"),
        media=offered.MEDIUM_CHOICES,
        ports=ports,
        highest=(("", "not said"), *ports),
        subsystems=(("", "none"), *((one.key, one.name) for one in page.build.subsystems)),
        tasks=PickList.of("task", page.build.tasks).labels,
        test_example=sizes.bar(1.0),
    )


@router.post("/builds/{slug}/circuit-waived")
def waived(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """A circuit goes without a vent or the like, for a reason; or not any more."""
    form = TypedForm.of(posted)
    back = addresses.circuit(slug, form.typed("circuit"))
    return pressed(slug, services, form, circuit_forms.edit_waivers, back)
