"""Presses on what is plumbed over HTTP: each is stored, and leads back to where it was pressed."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.plumbing.drawn_page import pressed
from webapp.pages.plumbing.tasks_of_runs import make_tasks
from webapp.pages.plumbing.work_forms import test_circuit, work_on_port, work_on_run
from webapp.services.program import Services

router = APIRouter(include_in_schema=False)


@router.post("/builds/{slug}/run-work")
def run_work(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """A run is cut, fitted, clamped or off again."""
    return _pressed(slug, services, TypedForm.of(posted), work_on_run)


@router.post("/builds/{slug}/port-work")
def port_work(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """A port is capped, its part is in, its cap is off."""
    return _pressed(slug, services, TypedForm.of(posted), work_on_port)


@router.post("/builds/{slug}/circuit-tested")
def circuit_tested(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """A circuit was tested."""
    return _pressed(slug, services, TypedForm.of(posted), test_circuit)


@router.post("/builds/{slug}/run-tasks")
def run_tasks(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """The tasks of a run are made, or of every run of a circuit that has none."""
    return _pressed(slug, services, TypedForm.of(posted), make_tasks)


@router.get("/builds/{slug}/run-tasks")
@router.get("/builds/{slug}/run-work")
@router.get("/builds/{slug}/port-work")
@router.get("/builds/{slug}/circuit-tested")
@router.get("/builds/{slug}/circuit-waived")
@router.get("/builds/{slug}/turn-component")
@router.get("/builds/{slug}/next-piece")
@router.get("/builds/{slug}/piece-work")
def after_a_refusal(slug: str) -> Response:
    """A reload of an address of plumbing that only takes changes leads to Plumbing."""
    return RedirectResponse(addresses.plumbing(slug), status_code=303)


def _pressed(slug: str, services: Services, form: TypedForm, edit: FormEdit[str]) -> Response:
    """Store it and go back to the circuit, or to the run, whose page it was pressed on."""
    return pressed(slug, services, form, edit, _back(slug, form))


def _back(slug: str, form: TypedForm) -> str:
    if circuit := form.typed("circuit"):
        return addresses.circuit(slug, circuit)
    if run := form.typed("run"):
        return addresses.run(slug, run)
    if port := form.typed("port"):
        return addresses.port(slug, port)
    return addresses.plumbing(slug)
