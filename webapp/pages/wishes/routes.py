"""Wishes over HTTP: log, size, decide, take back, remove; the wanted-by date; quick sizes."""

from collections.abc import Mapping

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.by_key import find_by_key
from webapp.build.wish import Wish
from webapp.pages import addresses
from webapp.pages.forms.asking import seen_of
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told, why_refused
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render, render_question
from webapp.pages.wishes import forms
from webapp.pages.wishes.deciding import decide, wish_of
from webapp.pages.wishes.taken import taken_since_baseline
from webapp.pages.wishes.taking_back import take_back_decision
from webapp.pages.wishes.views import NotDecided, size_choices, wish_facts, wishes_view
from webapp.pages.wishes.ways import four_ways
from webapp.pages.words.wishes import logged_again
from webapp.services.changes import Refused
from webapp.services.program import Services

router = APIRouter(include_in_schema=False)
PAGE = "Wishes"


def _forms(page: PageContext, shown: Mapping[str, TypedForm]) -> dict[str, TypedForm]:
    """The forms of the page: those that are shown again, else as they are opened."""
    return {
        "log": TypedForm(scope="log"),
        "headroom": TypedForm.opened(forms.headroom_shown(page.build), scope="headroom"),
        "sizes": TypedForm.opened(forms.sizes_shown(page.build), scope="sizes"),
        **shown,
    }


def _show(
    services: Services,
    page: PageContext,
    *,
    status: int = 200,
    notice: Notice = NO_NOTICE,
    refused: NotDecided | None = None,
    said: str = "",
    shown: Mapping[str, TypedForm] | None = None,
) -> Response:
    """The page; `said` is a sentence on why something was not done."""
    of = _forms(page, shown or {})
    view = wishes_view(page, taken_since_baseline(services, page), refused)
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
def wishes(
    slug: str, services: ServicesOf, since: str = "", key: str = "", again: str = ""
) -> Response:
    """The wishes; with `key` the form of that one (a key that no path can carry).

    `again` is the key of a wish that was sent once more.
    """
    if key:
        return one_wish(slug, key, services)
    page = page_of(services, slug, PAGE)
    notice = notice_of(services, page, since, addresses.wishes(slug))
    if (twice := find_by_key(page.build.wishes, again)) is not None:
        notice = Notice(text=logged_again(twice.text))
    return _show(services, page, notice=notice)


@router.post("/builds/{slug}/wishes")
def log(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    """Log a wish; with `key` store the form of that one."""
    form = TypedForm.of(posted, scope="log")
    if key:
        return _store(slug, key, services, TypedForm.of(posted))
    done = change_by_form(
        services, slug, form, forms.log_wish(services.just_logged, slug), forms.place_of_line
    )
    if isinstance(done, Refused):
        return _show(services, page_of(services, slug, PAGE), status=422, shown={"log": form})
    made = done.made
    if made.again:
        return RedirectResponse(addresses.wish_at(slug, made.key, again=True), status_code=303)
    return RedirectResponse(told(addresses.wish_at(slug, made.key), done), status_code=303)


@router.get("/builds/{slug}/wishes/{key:path}")
def one_wish(slug: str, key: str, services: ServicesOf) -> Response:
    page = page_of(services, slug, PAGE)
    wish = wish_of(page.build, slug, key)
    if wish.decision is not None:
        return RedirectResponse(addresses.wish_at(slug, key), status_code=303)
    return _show_wish(page, wish, TypedForm.opened(forms.wish_shown(page.build, wish)))


@router.post("/builds/{slug}/wishes/{key:path}")
def size_wish(slug: str, key: str, services: ServicesOf, posted: Typed) -> Response:
    return _store(slug, key, services, TypedForm.of(posted))


def _store(slug: str, key: str, services: Services, form: TypedForm) -> Response:
    page = page_of(services, slug, PAGE)
    wish = wish_of(page.build, slug, key)
    if form.typed("more"):
        return _show_wish(page, wish, forms.with_more_parts(form))

    done = change_by_form(
        services, slug, form, forms.size_wish(key), forms.place_of_wish_fault(key)
    )
    if isinstance(done, Refused):
        return _show_wish(page_of(services, slug, PAGE), wish, form, status=422)
    return RedirectResponse(told(addresses.wish_at(slug, key), done), status_code=303)


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
    decided = decide(services, page, key, TypedForm.of(posted))
    if isinstance(decided, NotDecided):
        return _show(services, page_of(services, slug, PAGE), status=409, refused=decided)
    return RedirectResponse(told(addresses.wishes(slug), decided), status_code=303)


@router.post("/builds/{slug}/take-back-wish")
def take_back_wish(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    """Take a decision back, with the tasks that it made."""
    done = change_by_form(services, slug, TypedForm.of(posted), take_back_decision(key))
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        return _show(services, page, status=409, said=why_refused(done))
    return RedirectResponse(told(addresses.wishes(slug), done), status_code=303)


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
        return _show(services, page, status=409, said=forms.STAYS.format(wish.text))
    return _ask_to_remove(page, wish, TypedForm())


def _ask_to_remove(
    page: PageContext, wish: Wish, form: TypedForm, *, status: int = 200
) -> Response:
    return render_question(
        f"Remove the wish “{wish.text}”?",
        status=status,
        title="Remove this wish?",
        page=page,
        seen=seen_of(forms.goes_with_wish(wish)),
        texts=(
            *(fault.text for fault in form.faults),
            "It goes without a trace in the list. To keep it with the reason, let it go.",
        ),
        action=addresses.remove_wish(page.slug, wish.key),
        button="Remove the wish",
        back=addresses.wish_at(page.slug, wish.key),
    )


@router.post("/builds/{slug}/remove-wish")
def remove(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, forms.remove_wish(key))
    if isinstance(done, Refused):
        page, wish = page_of(services, slug, PAGE), wish_of(done.before, slug, key)
        if wish.decision is None:
            return _ask_to_remove(page, wish, form, status=422)
        return _show(services, page, status=409, said=why_refused(done))
    return RedirectResponse(told(addresses.wishes(slug), done), status_code=303)


@router.post("/builds/{slug}/wanted-by")
def wanted_by(slug: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted, scope="headroom")
    done = change_by_form(services, slug, form, forms.edit_headroom, forms.place_of_headroom_fault)
    if isinstance(done, Refused):
        return _show(services, page_of(services, slug, PAGE), status=422, shown={"headroom": form})
    return RedirectResponse(told(addresses.wishes(slug), done), status_code=303)


@router.post("/builds/{slug}/wish-sizes")
def wish_sizes(slug: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted, scope="sizes")
    done = change_by_form(services, slug, form, forms.edit_sizes)
    if isinstance(done, Refused):
        return _show(services, page_of(services, slug, PAGE), status=422, shown={"sizes": form})
    return RedirectResponse(told(addresses.wishes(slug), done), status_code=303)
