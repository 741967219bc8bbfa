"""Starter lists of one's own over HTTP."""

from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.starter.own_list import own_list
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import Missing, missing_build
from webapp.pages.frame.rendering import render
from webapp.pages.own_lists.views import list_lines, list_view
from webapp.pages.words import own_lists as words
from webapp.pages.words.faults import said
from webapp.services.own_lists import is_full, make_list, read_list
from webapp.services.program import Services
from webapp.storage.build_loader import load_build
from webapp.storage.own_lists import (
    OwnList,
    own_list_called,
    own_list_headings,
    put_back_own_list,
    rename_own_list,
    take_out_own_list,
)

router = APIRouter(include_in_schema=False)


# made of a build -----------------------------------------------------------------------------
@router.get("/builds/{slug}/own-list")
def offer(slug: str, services: ServicesOf) -> Response:
    """What of a build would be in its list, before it is made."""
    page = page_of(services, slug, "Shop")
    return _show_offer(page, TypedForm({"name": [f"{page.build.name}, as it took"]}))


@router.post("/builds/{slug}/own-list")
def make(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Make the list of a build as it is now."""
    form = TypedForm.of(posted)
    name = _name(form)
    with services.database.writing() as session:
        build = load_build(session, slug, now=services.settings.now())
        if build is None:
            raise missing_build(slug)
        if is_full(session):
            form.fault("", words.TOO_MANY)
        made = make_list(session, build, name) if not form.faults else ""
    if not isinstance(made, str):
        for fault in made:
            form.fault("", said(fault))
    if form.faults or not isinstance(made, str):
        return _show_offer(page_of(services, slug, "Shop"), form, status=422)
    return _on_list(made, "made")


def _show_offer(page: PageContext, form: TypedForm, *, status: int = 200) -> Response:
    return render(
        "own_lists/make.html",
        status=status,
        title="A starter list of this build",
        page=page,
        form=form,
        view=list_view(own_list(page.build, page.build.name)),
        takes=words.TAKES,
        leaves=words.LEAVES,
        rule=words.HOURS_RULE,
    )


def _name(form: TypedForm) -> str:
    name = form.text("name", "The name of the list")
    if not name and not form.faults_at("name"):
        form.fault("name", words.NO_NAME)
    return name


# the lists there are -------------------------------------------------------------------------
@router.get("/own-lists")
def lists(services: ServicesOf, gone: str = "") -> Response:
    """The lists there are; `gone` is one that was taken out just now."""
    with services.database.reading() as session:
        headings = own_list_headings(session)
    name = next((each.name for each in headings if each.key == gone and each.taken_out_at), "")
    today = services.settings.now().date()
    return render(
        "own_lists/lists.html",
        title="Your own starter lists",
        said=words.taken_out_words(name) if name else "",
        gone=gone if name else "",
        lines=list_lines(headings, today=today),
        out=list_lines(headings, today=today, taken_out=True),
    )


@router.get("/own-list")
def one(services: ServicesOf, key: str = "", done: str = "") -> Response:
    """One list with what is in it; `done` says what was done to it just now."""
    kept = _kept(services, key)
    form = TypedForm({"name": [kept.heading.name]})
    name = kept.heading.name
    told = {
        "made": words.made_words,
        "renamed": words.renamed_words,
        "back": words.put_back_words,
    }.get(done)
    return _show_list(services, kept, form, said=told(name) if told else "")


@router.post("/own-list/name")
def rename(services: ServicesOf, posted: Typed, key: str = "") -> Response:
    """Give a list another name."""
    form = TypedForm.of(posted)
    name = _name(form)
    if form.faults:
        return _show_list(services, _kept(services, key), form, status=422)
    with services.database.writing() as session:
        is_there = rename_own_list(session, key, name)
    return _on_list(key, "renamed") if is_there else _gone()


@router.post("/own-list/take-out")
def take_out(services: ServicesOf, key: str = "") -> Response:
    """Offer a list no more; it can be put back."""
    with services.database.writing() as session:
        is_there = take_out_own_list(session, key)
    address = f"{addresses.own_lists()}?{urlencode({'gone': key})}"
    return RedirectResponse(address, status_code=303) if is_there else _gone()


@router.post("/own-list/put-back")
def put_back(services: ServicesOf, key: str = "") -> Response:
    """Offer a list again that was taken out."""
    with services.database.writing() as session:
        is_there = put_back_own_list(session, key)
    return _on_list(key, "back") if is_there else _gone()


def _on_list(key: str, done: str) -> Response:
    address = f"{addresses.own_list(key)}&{urlencode({'done': done})}"
    return RedirectResponse(address, status_code=303)


def _gone() -> Response:
    raise Missing(words.GONE, back_to=addresses.own_lists())


def _kept(services: Services, key: str) -> OwnList:
    with services.database.reading() as session:
        kept = own_list_called(session, key)
    if kept is None:
        raise Missing(words.GONE, back_to=addresses.own_lists())
    return kept


def _show_list(
    services: Services, kept: OwnList, form: TypedForm, *, status: int = 200, said: str = ""
) -> Response:
    made = read_list(kept, now=services.settings.now())
    return render(
        "own_lists/list.html",
        status=status,
        title=kept.heading.name,
        form=form,
        said=said,
        key=kept.heading.key,
        name=kept.heading.name,
        is_out=kept.heading.taken_out_at is not None,
        view=None if made is None else list_view(made),
        not_readable=words.NOT_READABLE,
        rule=words.HOURS_RULE,
    )
