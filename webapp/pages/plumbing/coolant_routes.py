"""Coolant over HTTP: what is typed stands in the address, and nothing is stored."""

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.errors import missing_thing
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing.coolant_view import FIELDS, coolant_view
from webapp.pages.plumbing.seen import seen_of
from webapp.pages.words.coolant import ANTIFREEZE_WORDS

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/coolant")
def coolant(slug: str, services: ServicesOf, request: Request, circuit: str = "") -> Response:
    """A mixture for the frost that is named, for one circuit of water."""
    page = page_of(services, slug, "Plumbing")
    seen = seen_of(page)
    if seen is None or not circuit:
        return RedirectResponse(addresses.plumbing(slug), status_code=303)
    if circuit not in seen.circuits or seen.circuits[circuit].circuit.medium != "water":
        raise missing_thing(slug, "circuit", circuit[:60])
    form = TypedForm({name: (request.query_params.get(name, ""),) for name in FIELDS})
    view = coolant_view(seen, circuit, form)
    return render(
        "plumbing/coolant.html",
        status=422 if form.faults else 200,
        title="Coolant",
        page=page,
        view=view,
        form=form,
        key=circuit,
        kinds=tuple(ANTIFREEZE_WORDS.items()),
    )
