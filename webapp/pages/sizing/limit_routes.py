"""The form of a limit over HTTP."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.data_sheet import AT_LEAST, LIMITED, ONE_PLACE, CheckName
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_thing
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing.drawn_page import not_to_be_drawn
from webapp.pages.plumbing.seen import seen_of
from webapp.pages.sizing.amounts import unit_here
from webapp.pages.sizing.limit_forms import (
    EVERYWHERE,
    HERE,
    edit_limit,
    limit_shown,
    limit_unit,
    own_limit,
    place_of_fault,
)
from webapp.pages.sizing.views import place_of
from webapp.pages.words.amounts import sentence
from webapp.pages.words.data_sheet_fields import CHECK_WORDS
from webapp.pages.words.sizing import limit_line
from webapp.services.changes import Refused
from webapp.sizing.answers import Answer
from webapp.sizing.checks import checks_of

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/limit")
def limit(
    slug: str, services: ServicesOf, check: str = "", at: str = "", since: str = ""
) -> Response:
    """What a check is held against at a place, and the own limit that goes before it."""
    page = page_of(services, slug, "Plumbing")
    of = _check(slug, check)
    form = TypedForm.opened(limit_shown(page.build, of, at))
    notice = notice_of(services, page, since, addresses.limit(slug, of, at))
    return _show(page, of, at, form, notice=notice)


@router.post("/builds/{slug}/limit")
def save_limit(
    slug: str, services: ServicesOf, posted: Typed, check: str = "", at: str = ""
) -> Response:
    """Store it, or give the check back to the usual one; then the checks say what it does."""
    of, form = _check(slug, check), TypedForm.of(posted)
    _show(page_of(services, slug, "Plumbing"), of, at, form)  # no limit of a place that is not
    done = change_by_form(services, slug, form, edit_limit(of, at), place_of_fault)
    if isinstance(done, Refused):
        return _show(page_of(services, slug, "Plumbing"), of, at, form, status=422)
    return RedirectResponse(told(addresses.sizing(slug), done), status_code=303)


def _check(slug: str, check: str) -> CheckName:
    for one in LIMITED:
        if one == check:
            return one
    raise missing_thing(slug, "limit", check[:60])


def _show(
    page: PageContext,
    check: CheckName,
    at: str,
    form: TypedForm,
    *,
    status: int = 200,
    notice: Notice = NO_NOTICE,
) -> Response:
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page, "Limit")
    answer = next(
        (one for one in checks_of(page.build, seen.plumbed) if (one.check, one.at) == (check, at)),
        None,
    )
    stored = own_limit(page.build, check, at)
    if at and answer is None and (stored is None or stored.at != at):
        raise missing_thing(page.slug, "limit", at[:60])
    place = place_of(seen, at).name if at else ""
    return render(
        "sizing/limit.html",
        status=status,
        title="Limit",
        page=page,
        form=form,
        check=check,
        at=at,
        heading=sentence(CHECK_WORDS[check]),
        place=place,
        usual=_usual(answer),
        unit_here=unit_here(limit_unit(page.build, check, at)),
        at_least=check in AT_LEAST,
        places=()
        if not at or check in ONE_PLACE
        else ((HERE, f"{place} alone"), (EVERYWHERE, "wherever this is checked")),
        is_own=stored is not None,
        notice=notice,
    )


def _usual(answer: Answer | None) -> str:
    """What holds where nobody types another: "ok to 61 m/s, tight to 91: a published note"."""
    if answer is None or answer.limit is None or not answer.unit:
        return ""
    usual = answer.limit.instead_of or answer.limit
    return f"{limit_line(usual, answer.unit)}: {usual.words}"
