"""The day over HTTP: one address shows the screen that comes next, each press has its own.

Nothing here is needed to stop an engine. "Stopped" is taken without a body and is never refused.
"""

from collections.abc import Callable

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import Fault
from webapp.pages import addresses
from webapp.pages.first_start import check_forms, day_forms
from webapp.pages.first_start.at_hand import on_the_day
from webapp.pages.first_start.check_routes import changed_since, opened_names, said_of
from webapp.pages.first_start.day_step import Asked
from webapp.pages.first_start.day_view import day_view, not_taken_words
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf
from webapp.pages.frame.form_change import FormEdit, change_by_form, nowhere
from webapp.pages.frame.rendering import render
from webapp.services.changes import Refused
from webapp.services.program import Services

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/first-start/day")
def day(slug: str, services: ServicesOf, signed: str = "", watch: str = "") -> Response:
    """The screen that comes next, or with `watch` the one of the watch for fire."""
    return _show(services, slug, signed=signed, watch=watch)


@router.post("/builds/{slug}/first-start/day")
def sign(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Sign the check that the screen shows."""
    key = _key(posted)
    return _pressed(
        services, slug, posted, check_forms.edit_sign(key, services.settings.moment), key=key
    )


@router.post("/builds/{slug}/first-start/day/figures")
def figures(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Type the figures of what was tapped while it ran."""
    key = _key(posted)
    return _pressed(
        services, slug, posted, check_forms.edit_figures(key, services.settings.moment), key=key
    )


@router.post("/builds/{slug}/first-start/day/begin")
def begin(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Begin a crank or a run."""
    return _pressed(services, slug, posted, day_forms.edit_begin(services.settings.moment))


@router.post("/builds/{slug}/first-start/day/fired")
def fired(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """It fires."""
    return _pressed(services, slug, posted, day_forms.edit_fired(services.settings.moment))


@router.post("/builds/{slug}/first-start/day/stands")
def stands(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """A tap while it runs."""
    return _pressed(services, slug, posted, day_forms.edit_tap(services.settings.moment))


@router.post("/builds/{slug}/first-start/day/over")
def over(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """The crank is over, or it was stopped the normal way."""
    return _pressed(services, slug, posted, day_forms.edit_over(services.settings.moment))


@router.post("/builds/{slug}/first-start/day/stopped")
def stopped(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Stopped: what it was is asked after."""
    return _pressed(services, slug, posted, day_forms.edit_stopped(services.settings.moment))


@router.post("/builds/{slug}/first-start/day/cause")
def cause(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """What it was, and what was done."""
    edit = day_forms.edit_cause(services.settings.moment)
    return _pressed(services, slug, posted, edit, place=lambda _made, fault: fault.field)


@router.post("/builds/{slug}/first-start/day/it-ran")
def it_ran(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """It ran."""
    return _pressed(services, slug, posted, day_forms.edit_it_ran(services.settings.moment))


@router.get("/builds/{slug}/first-start/day/{press}")
def after_a_press(slug: str, press: str) -> Response:
    """A reload of an address that only takes presses leads back to the day."""
    del press
    return RedirectResponse(addresses.first_start_day(slug), status_code=303)


def _key(posted: Typed) -> str:
    said = posted.get("check", "")
    return said if isinstance(said, str) else ""


def _pressed(
    services: Services,
    slug: str,
    posted: Typed,
    edit: FormEdit[str],
    *,
    key: str = "",
    place: Callable[[object, Fault], str] = nowhere,
) -> Response:
    form = TypedForm.of(posted)
    if key:
        hand = on_the_day(services, slug)
        one = hand.standing.of(key)
        place = check_forms.place_in(one.check if one else None)
    done = change_by_form(services, slug, form, edit, place)
    if isinstance(done, Refused):
        return _show(services, slug, status=422, form=form, watch=form.typed("watch"))
    address = addresses.first_start_day(slug)
    is_signature = done.made and any(one.key == done.made for one in done.build.start.signatures)
    tail = f"?signed={done.made}" if is_signature else ""
    return RedirectResponse(address + tail, status_code=303)


def _show(
    services: Services,
    slug: str,
    *,
    status: int = 200,
    form: TypedForm | None = None,
    signed: str = "",
    watch: str = "",
) -> Response:
    hand = on_the_day(services, slug)
    found = form or TypedForm()
    asked: Asked = "yes" if watch == "yes" else "no" if watch == "no" else ""
    return render(
        "first_start/day.html",
        status=status,
        title="The day",
        slug=slug,
        name=hand.build.name,
        view=day_view(hand, asked, not_taken_words(hand, found)),
        form=found,
        changed=changed_since(found, hand),
        said=said_of(hand, signed),
        version=hand.standing.version,
        shown_at=hand.at.isoformat(),
        opened_names=opened_names(hand),
    )
