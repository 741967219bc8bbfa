"""One check over HTTP: its page, and where each of its forms is sent."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.by_key import find_by_key
from webapp.build.limits import MOST_SECONDS_TO_TAKE_BACK
from webapp.build.moments import with_offset
from webapp.pages import addresses
from webapp.pages.first_start import check_forms as forms
from webapp.pages.first_start.at_hand import AtHand, framed
from webapp.pages.first_start.check_view import CheckViews, what_changed
from webapp.pages.first_start.views import page_of_check
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf
from webapp.pages.frame.errors import missing_thing
from webapp.pages.frame.form_change import FormEdit, change_by_form, told
from webapp.pages.frame.notice import notice_of
from webapp.pages.frame.rendering import render
from webapp.services.changes import Refused, Stored
from webapp.services.program import Services

router = APIRouter(include_in_schema=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidSigned:
    """What a page says of the signature that led to it, with the way to take it back."""

    text: str
    signature: str
    may_take_back: bool


def said_of(hand: AtHand, key: str) -> SaidSigned | None:
    """What is said of a signature; None where there is none of that key."""
    signature = find_by_key(hand.build.start.signatures, key)
    if signature is None:
        return None
    names = {one.check.key: one.check.text for one in hand.standing.all}
    seconds = (hand.at - signature.at).total_seconds()
    by = f"by {signature.signer}, {signature.at:%H:%M:%S}"
    if signature.taken_back_at is not None:
        text = f"Taken back: {names.get(signature.check, '')} Signed {by}."
    else:
        text = f"Signed {by}: {names.get(signature.check, '')}"
    return SaidSigned(
        text=text,
        signature=key,
        may_take_back=signature.taken_back_at is None and 0 <= seconds <= MOST_SECONDS_TO_TAKE_BACK,
    )


@router.get("/builds/{slug}/first-start/check")
def check(slug: str, services: ServicesOf, key: str = "", since: str = "") -> Response:
    """A check with its why, caution and forms."""
    return _show(services, slug, key, since=since)


@router.post("/builds/{slug}/first-start/check")
def sign(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    """Sign it: one check, one form, one signature."""
    edit = forms.edit_sign(key, services.settings.moment)
    return _signed(services, slug, key, TypedForm.of(posted), edit)


@router.post("/builds/{slug}/first-start/check/figures")
def figures(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    """Type the figures of what was tapped while it ran."""
    edit = forms.edit_figures(key, services.settings.moment)
    return _signed(services, slug, key, TypedForm.of(posted), edit)


def _signed(
    services: Services, slug: str, key: str, form: TypedForm, edit: FormEdit[str]
) -> Response:
    done = _changed(services, slug, key, form, edit)
    if isinstance(done, Refused):
        return _show(services, slug, key, status=422, sign=form)
    return RedirectResponse(_after(services, slug, key, done.made), status_code=303)


@router.post("/builds/{slug}/first-start/check/set-aside")
def set_aside(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    """Set it aside, with a reason that is shown from then on."""
    form = TypedForm.of(posted, scope="aside")
    edit = forms.edit_set_aside(key, services.settings.moment)
    done = _changed(services, slug, key, form, edit)
    if isinstance(done, Refused):
        return _show(services, slug, key, status=422, aside=form)
    return RedirectResponse(told(addresses.first_start_check(slug, key), done), status_code=303)


@router.post("/builds/{slug}/first-start/check/words")
def other_words(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    """Give it other words; its caution stays."""
    form = TypedForm.of(posted, scope="words")
    edit = forms.edit_words(key, services.settings.moment)
    done = _changed(services, slug, key, form, edit, {"name": "words_name"})
    if isinstance(done, Refused):
        return _show(services, slug, key, status=422, words=form)
    return RedirectResponse(told(addresses.first_start_check(slug, key), done), status_code=303)


@router.post("/builds/{slug}/first-start/check/take-in")
def take_in(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    """Take in what is offered or was left out."""
    return _choose(services, slug, key, TypedForm.of(posted, scope="choice"), is_in=True)


@router.post("/builds/{slug}/first-start/check/leave-out")
def leave_out(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    """Leave it out of the list; never one that is never set aside."""
    return _choose(services, slug, key, TypedForm.of(posted, scope="choice"), is_in=False)


def _choose(services: Services, slug: str, key: str, form: TypedForm, *, is_in: bool) -> Response:
    found = forms.edit_choice(key, services.settings.moment, is_in=is_in)
    done = _changed(services, slug, key, form, found, {"name": "choice_name"})
    if isinstance(done, Refused):
        return _show(services, slug, key, status=422, choice=form)
    is_there = forms.check_of(done.build, key) is not None
    back = addresses.first_start_check(slug, key) if is_there else addresses.first_start(slug)
    return RedirectResponse(told(back, done), status_code=303)


@router.post("/builds/{slug}/first-start/take-back")
def take_back(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Take back a signature that was a mistake; both moments stay written."""
    form = TypedForm.of(posted)
    done = change_by_form(
        services, slug, form, forms.edit_take_back(services.settings.moment), forms.place_in(None)
    )
    key = _check_of_signature(done, form.typed("signature"))
    if form.typed("on") == "day" and isinstance(done, Stored):
        address = f"{addresses.first_start_day(slug)}?signed={form.typed('signature')}"
        return RedirectResponse(address, status_code=303)
    if isinstance(done, Refused):
        return _show(services, slug, key, status=422, sign=form)
    return RedirectResponse(addresses.first_start_check(slug, key), status_code=303)


def _check_of_signature(done: Stored[str] | Refused[str], key: str) -> str:
    found = find_by_key(done.before.start.signatures, key)
    return found.check if found else ""


@router.get("/builds/{slug}/first-start/check/figures")
@router.get("/builds/{slug}/first-start/check/set-aside")
@router.get("/builds/{slug}/first-start/check/words")
@router.get("/builds/{slug}/first-start/check/take-in")
@router.get("/builds/{slug}/first-start/check/leave-out")
def after_a_refusal(slug: str, key: str = "") -> Response:
    """A reload of an address that only takes changes leads back to its check."""
    return RedirectResponse(addresses.first_start_check(slug, key), status_code=303)


@router.get("/builds/{slug}/first-start/take-back")
def after_a_take_back(slug: str) -> Response:
    return RedirectResponse(addresses.first_start(slug), status_code=303)


def _changed(
    services: Services,
    slug: str,
    key: str,
    form: TypedForm,
    edit: FormEdit[str],
    names: Mapping[str, str] | None = None,
) -> Stored[str] | Refused[str]:
    _, hand = framed(services, slug)
    one = hand.standing.of(key)
    if one is None:
        raise missing_thing(slug, "check", key[:60])
    place = forms.place_in(one.check, dict(names or {}))
    return change_by_form(services, slug, form, edit, place)


def _after(services: Services, slug: str, key: str, signature: str) -> str:
    """Where a signature leads: the place of its check in its stage, with what was signed said."""
    _, hand = framed(services, slug)
    one = hand.standing.of(key)
    assert one is not None
    stage = hand.standing.stage_of(one.check.stage)
    address = addresses.first_start_stage(slug, stage.stage.key, page_of_check(stage, key), key)
    path, mark, fragment = address.partition("#")
    return f"{path}&signed={signature}{mark}{fragment}"


def changed_since(form: TypedForm, hand: AtHand) -> tuple[str, ...]:
    """What changed since a form was shown, where it was refused for that."""
    if not any("The list is not what this page showed" in one.text for one in form.faults):
        return ()
    try:
        shown = with_offset(dt.datetime.fromisoformat(form.typed("shown_at")))
    except ValueError:
        return ()
    return what_changed(hand, shown)


def _show(
    services: Services,
    slug: str,
    key: str,
    *,
    status: int = 200,
    since: str = "",
    sign: TypedForm | None = None,
    aside: TypedForm | None = None,
    words: TypedForm | None = None,
    choice: TypedForm | None = None,
) -> Response:
    page, hand = framed(services, slug)
    one = hand.standing.of(key)
    if one is None:
        raise missing_thing(slug, "check", key[:60])
    form = sign or TypedForm()
    stage = hand.standing.stage_of(one.check.stage)
    return render(
        "first_start/check.html",
        status=status,
        title="Check",
        page=page,
        check=CheckViews(hand).of(one),
        form=form,
        changed=changed_since(form, hand),
        aside=aside or TypedForm(scope="aside"),
        words=words or TypedForm(scope="words"),
        choice=choice or TypedForm(scope="choice"),
        version=hand.standing.version,
        shown_at=hand.at.isoformat(),
        opened_names=opened_names(hand),
        back=addresses.first_start_stage(slug, one.check.stage, page_of_check(stage, key), key),
        action=addresses.first_start_check(slug, key, "figures" if _is_tap(one.state) else ""),
        notice=notice_of(services, page, since, addresses.first_start_check(slug, key)),
    )


def _is_tap(state: str) -> bool:
    return state == "figures missing"


def opened_names(hand: AtHand) -> tuple[str, ...]:
    """What may be said to have been opened: circuits of the list, and what it names beside."""
    return (*(name for name, _ in hand.checks.groups), *hand.checks.named_falls)
