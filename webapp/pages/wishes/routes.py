"""Wishes over HTTP: log, size, decide, take back, remove; the wanted-by date; quick sizes."""

from collections.abc import Mapping
from dataclasses import replace

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import BuildInput, Wish
from webapp.pages import addresses
from webapp.pages.forms.form_change import (
    change_by_form,
    first_start_before,
    notice_of,
    nowhere,
    told,
)
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, Services, ServicesOf, page_of
from webapp.pages.frame.rendering import render, render_question
from webapp.pages.wishes import forms
from webapp.pages.wishes.deciding import decide, take_back_decision, wish_of
from webapp.pages.wishes.views import Refused, size_choices, wish_facts, wishes_view
from webapp.pages.wishes.ways import four_ways

router = APIRouter(include_in_schema=False)
PAGE = "Wishes"


def _forms(page: PageContext, shown: Mapping[str, TypedForm]) -> dict[str, TypedForm]:
    """The forms of the page: those that are shown again, else as they are opened."""
    return {
        "log": TypedForm(scope="log"),
        "headroom": TypedForm(forms.headroom_values(page.build), scope="headroom"),
        "sizes": TypedForm(forms.sizes_values(page.build), scope="sizes"),
        **shown,
    }


def _show(
    page: PageContext,
    *,
    status: int = 200,
    notice: str = "",
    refused: Refused | None = None,
    said: str = "",
    shown: Mapping[str, TypedForm] | None = None,
) -> Response:
    """The page; `said` is a sentence on why something was not done."""
    of = _forms(page, shown or {})
    view = wishes_view(page, refused)
    if refused is not None and all(wish.key != refused.key for wish in view.undecided):
        said = refused.text  # it was decided by someone else: it stands with the undecided no more
    return render(
        "wishes/wishes.html",
        status=status,
        title="Wishes",
        page=page,
        view=view,
        refused=refused,
        said=said,
        notice=notice,
        forms=of,
        size_rows=of["sizes"].row_numbers("name"),
    )


@router.get("/builds/{slug}/wishes")
def wishes(slug: str, services: ServicesOf, since: str = "", key: str = "") -> Response:
    """The wishes; with `key` the form of that one (a key that no path can carry)."""
    if key:
        return one_wish(slug, key, services)
    page = page_of(services, slug, PAGE)
    return _show(page, notice=notice_of(services, page, since))


@router.post("/builds/{slug}/wishes")
def log(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    """Log a wish; with `key` store the form of that one."""
    form = TypedForm.of(posted, scope="log")
    if key:
        return _store(slug, key, services, TypedForm.of(posted))
    page = page_of(services, slug, PAGE)
    logged, since = log_wish(services, slug, form)
    if since is None:
        return _show(page, status=422, shown={"log": form})
    return RedirectResponse(addresses.wish_at(slug, logged), status_code=303)


def log_wish(services: Services, slug: str, form: TypedForm) -> tuple[str, int | None]:
    """Store one more wish from its line: its key, and None where it could not be stored."""
    logged = ""

    def edit(build: BuildInput) -> BuildInput:
        nonlocal logged
        after, logged = forms.log_wish(form, build)
        return after

    since = change_by_form(
        services, slug, form, edit, lambda: lambda fault: "wish" if fault.kind == "wish" else ""
    )
    return logged, since


@router.get("/builds/{slug}/wishes/{key:path}")
def one_wish(slug: str, key: str, services: ServicesOf) -> Response:
    page = page_of(services, slug, PAGE)
    wish = wish_of(page.build, slug, key)
    if wish.decision is not None:
        return RedirectResponse(addresses.wish_at(slug, key), status_code=303)
    return _show_wish(page, wish, TypedForm(forms.wish_values(page.build, wish)))


@router.post("/builds/{slug}/wishes/{key:path}")
def size_wish(slug: str, key: str, services: ServicesOf, posted: Typed) -> Response:
    return _store(slug, key, services, TypedForm.of(posted))


def _store(slug: str, key: str, services: Services, form: TypedForm) -> Response:
    page = page_of(services, slug, PAGE)
    wish = wish_of(page.build, slug, key)
    if form.typed("more"):
        return _show_wish(page, wish, forms.with_more_parts(form))

    def edit(build: BuildInput) -> BuildInput:
        present = wish_of(build, slug, key)
        if present.decision is not None:
            form.fault("", "It is decided already. Take the decision back to size it anew.")
            return build
        return forms.size_wish(form, build, present)

    since = change_by_form(services, slug, form, edit, lambda: forms.place_of_wish_fault(key))
    if since is None:
        return _show_wish(page_of(services, slug, PAGE), wish, form, status=422)
    return RedirectResponse(addresses.wish_at(slug, key), status_code=303)


def _show_wish(page: PageContext, wish: Wish, form: TypedForm, *, status: int = 200) -> Response:
    build = page.build
    return render(
        "wishes/wish.html",
        status=status,
        title=wish.text,
        page=page,
        wish=wish,
        facts=wish_facts(page, wish),
        ways=four_ways(page, wish) if wish.decision is None else None,
        form=form,
        rows=form.row_numbers("part"),
        sizes=size_choices(build.wish_sizes),
        subsystems=(("", "none"), *PickList.of("subsystem", build.subsystems).labels),
        setups=(("", "none"), *PickList.of("setup", build.shop.setups).labels),
        tasks=PickList.of("task", [task for task in build.tasks if task.is_open]).labels,
    )


@router.get("/builds/{slug}/wish-ways")
def wish_ways(slug: str, services: ServicesOf, key: str = "") -> Response:
    """The four ways of one wish alone, for the page that waits for them."""
    page = page_of(services, slug, PAGE)
    wish = wish_of(page.build, slug, key)
    ways = four_ways(page, wish) if wish.decision is None else None
    return render("wishes/_ways_alone.html", page=page, ways=ways, key=key, why="")


@router.post("/builds/{slug}/decide-wish")
def decide_wish(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    since = first_start_before(services, slug)
    refused = decide(services, page, key, TypedForm.of(posted))
    if refused is not None:
        return _show(page_of(services, slug, PAGE), status=409, refused=refused)
    return RedirectResponse(told(addresses.wishes(slug), since), status_code=303)


@router.post("/builds/{slug}/take-back-wish")
def take_back_wish(slug: str, services: ServicesOf, key: str = "") -> Response:
    form, said = TypedForm(), ""

    def edit(build: BuildInput) -> BuildInput:
        nonlocal said
        after = take_back_decision(build, slug, key)
        if isinstance(after, str):
            said = after
            form.fault("", after)
            return build
        return after

    since = change_by_form(services, slug, form, edit, nowhere)
    if since is None:
        text = said or " ".join(fault.text for fault in form.faults)
        return _show(page_of(services, slug, PAGE), status=409, said=text)
    return RedirectResponse(told(addresses.wishes(slug), since), status_code=303)


@router.get("/builds/{slug}/decide-wish")
@router.get("/builds/{slug}/take-back-wish")
@router.get("/builds/{slug}/wanted-by")
@router.get("/builds/{slug}/wish-sizes")
def after_a_refusal(slug: str) -> Response:
    """A reload of an address that only takes changes leads back to the page."""
    return RedirectResponse(addresses.wishes(slug), status_code=303)


@router.get("/builds/{slug}/remove-wish")
def ask_to_remove(slug: str, services: ServicesOf, key: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    wish = wish_of(page.build, slug, key)
    if wish.decision is not None:
        return _show(page, status=409, said=_STAYS.format(wish.text))
    return render_question(
        f"Remove the wish “{wish.text}”?",
        title="Remove this wish?",
        page=page,
        texts=("It goes without a trace in the list. To keep it with the reason, let it go.",),
        action=addresses.remove_wish(slug, key),
        button="Remove the wish",
        back=addresses.wish_at(slug, key),
    )


_STAYS = "“{}” is decided, and a decision is kept. Take it back first if it is to be removed."


@router.post("/builds/{slug}/remove-wish")
def remove(slug: str, services: ServicesOf, key: str = "") -> Response:
    form = TypedForm()

    def edit(build: BuildInput) -> BuildInput:
        wish = wish_of(build, slug, key)
        if wish.decision is not None:
            form.fault("", _STAYS.format(wish.text))
            return build
        return replace(build, wishes=tuple(each for each in build.wishes if each.key != key))

    if change_by_form(services, slug, form, edit, nowhere) is None:
        text = " ".join(fault.text for fault in form.faults)
        return _show(page_of(services, slug, PAGE), status=409, said=text)
    return RedirectResponse(addresses.wishes(slug), status_code=303)


@router.post("/builds/{slug}/wanted-by")
def wanted_by(slug: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted, scope="headroom")
    since = change_by_form(
        services,
        slug,
        form,
        lambda build: forms.edit_headroom(form, build),
        lambda: lambda fault: fault.field if fault.field in form.values else "",
    )
    if since is None:
        return _show(page_of(services, slug, PAGE), status=422, shown={"headroom": form})
    return RedirectResponse(addresses.wishes(slug), status_code=303)


@router.post("/builds/{slug}/wish-sizes")
def wish_sizes(slug: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted, scope="sizes")
    since = change_by_form(
        services, slug, form, lambda build: forms.edit_sizes(form, build), nowhere
    )
    if since is None:
        return _show(page_of(services, slug, PAGE), status=422, shown={"sizes": form})
    return RedirectResponse(addresses.wishes(slug), status_code=303)
