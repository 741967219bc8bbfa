"""Coolant over HTTP: what is mixed is kept with its circuit, and goes into Parts in one press."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.errors import missing_thing
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing.coolant_forms import coolant_shown, mix, place_of_fault
from webapp.pages.plumbing.coolant_view import coolant_view
from webapp.pages.plumbing.seen import seen_of
from webapp.pages.words.coolant import ANTIFREEZE_WORDS
from webapp.services.changes import Refused
from webapp.services.program import Services

router = APIRouter(include_in_schema=False)
PAGE = "Plumbing"


@router.get("/builds/{slug}/coolant")
def coolant(slug: str, services: ServicesOf, circuit: str = "", since: str = "") -> Response:
    """The mixture for the frost that is named, for one circuit of water."""
    return _show(slug, services, circuit, None, since)


@router.post("/builds/{slug}/coolant")
def mixed(slug: str, services: ServicesOf, posted: Typed, circuit: str = "") -> Response:
    """Keep the mixture; put it into Parts, or say that it is poured in."""
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, mix(circuit), place_of_fault)
    if isinstance(done, Refused):
        return _show(slug, services, circuit, form)
    return RedirectResponse(told(addresses.coolant(slug, circuit), done), status_code=303)


def _show(
    slug: str, services: Services, circuit: str, form: TypedForm | None, since: str = ""
) -> Response:
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None or not circuit:
        return RedirectResponse(addresses.plumbing(slug), status_code=303)
    if circuit not in seen.circuits or seen.circuits[circuit].circuit.medium != "water":
        raise missing_thing(slug, "circuit", circuit[:60])
    notice: Notice = NO_NOTICE
    if form is None:
        notice = notice_of(services, page, since, addresses.coolant(slug, circuit))
    stored = seen.circuits[circuit].circuit
    return render(
        "plumbing/coolant.html",
        status=422 if form else 200,
        title="Coolant",
        page=page,
        view=coolant_view(seen, circuit),
        form=form or TypedForm.opened(coolant_shown(page.build, stored)),
        key=circuit,
        kinds=tuple(ANTIFREEZE_WORDS.items()),
        notice=notice,
    )
