"""Cut lists over HTTP: what is to be cut, how best, and the pieces laid on the shelf."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_thing
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing.cut_forms import (
    SECONDS,
    USUAL_SECONDS,
    asked_for,
    cut_shown,
    lay_on_shelf,
    place_of_fault,
)
from webapp.pages.plumbing.cut_view import cut_view, groups_view
from webapp.pages.plumbing.drawn_page import NOT_STORED, PAGE, not_to_be_drawn, not_yet
from webapp.pages.plumbing.seen import Seen, seen_of
from webapp.pages.words import cut_lists as said
from webapp.plumbing.buy_list import CutGroup
from webapp.services.changes import Refused
from webapp.services.cuttings import CutRun

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/cut-list")
def cut_lists(slug: str, services: ServicesOf, what: str = "", since: str = "") -> Response:
    """What is to be cut; with `what` how one kind of hose or tube is cut best."""
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None or not page.build.plumbing.circuits:
        return not_to_be_drawn(page)
    notice = notice_of(services, page, since, addresses.cut_list(slug, what))
    if not what:
        kept = page.planned.circuits
        view = kept.get_or_keep(("cut", page.today), lambda: groups_view(seen))
        return render(
            "plumbing/cut_lists.html", title="Cut lists", page=page, view=view, notice=notice
        )
    group = _wanted(slug, seen, what)
    run = services.cuttings.of(slug, what)
    form = TypedForm.opened(cut_shown(page.build.plumbing, group, run.job if run else None))
    return _one(page, seen, group, run, form, notice=notice)


@router.post("/builds/{slug}/cut-list")
def work_out(slug: str, services: ServicesOf, posted: Typed, what: str = "") -> Response:
    """Keep what is sold, and look for the best way of cutting one kind of hose or tube."""
    page = page_of(services, slug, PAGE)
    seen, group = _here(page, what)
    form, run = TypedForm.of(posted), services.cuttings.of(slug, what)
    edit = asked_for(seen, group, run.job if run else None)
    done = change_by_form(services, slug, form, edit, place_of_fault)
    if isinstance(done, Refused) or done.made is None:
        return _one(page, seen, group, run, form, status=422)
    asked = form.typed("seconds")
    seconds = int(asked) if asked in map(str, SECONDS) else USUAL_SECONDS
    services.cuttings.begin(slug, what, done.made, seconds)
    back = f"{addresses.cut_list(slug, what)}#cut-answer"
    if done.revision != done.since:
        back = told(back, done)
    return RedirectResponse(back, status_code=303)


@router.post("/builds/{slug}/stop-cutting")
def stop(slug: str, services: ServicesOf, what: str = "") -> Response:
    """End the search with what it has."""
    page_of(services, slug, PAGE)
    services.cuttings.stop(slug, what)
    run = services.cuttings.of(slug, what)
    if run is not None:
        run.ended.wait(STOP_SECONDS)
    return RedirectResponse(f"{addresses.cut_list(slug, what)}#cut-answer", status_code=303)


@router.post("/builds/{slug}/cut-to-shelf")
def to_shelf(slug: str, services: ServicesOf, posted: Typed, what: str = "") -> Response:
    """It was cut as shown: pieces and leftovers lie on the shelf."""
    page = page_of(services, slug, PAGE)
    form, run = TypedForm.of(posted), services.cuttings.of(slug, what)
    found = None if run is None else run.answer
    if run is None or found is None or form.typed("run") != str(run.number):
        return _refused(page, what, (said.NOT_THERE,), status=409)
    done = change_by_form(services, slug, form, lay_on_shelf(what, run.job, found))
    if isinstance(done, Refused):
        texts = tuple(dict.fromkeys(fault.text for fault in form.faults))
        return _refused(page_of(services, slug, PAGE), what, texts)
    return RedirectResponse(told(addresses.shelf(slug), done), status_code=303)


@router.get("/builds/{slug}/stop-cutting")
@router.get("/builds/{slug}/cut-to-shelf")
def back_to_cutting(slug: str, what: str = "") -> Response:
    """Where a reload leads after a press that was refused."""
    return RedirectResponse(addresses.cut_list(slug, what), status_code=303)


STOP_SECONDS = 1.0
"""So long a press on Stop waits for what the search has."""


def _one(
    page: PageContext,
    seen: Seen,
    group: CutGroup,
    run: CutRun | None,
    form: TypedForm,
    *,
    notice: Notice = NO_NOTICE,
    status: int = 200,
) -> Response:
    view = cut_view(seen, group, run)
    return render(
        "plumbing/cut_list.html",
        status=status,
        title=f"Cut list, {view.name}",
        page=page,
        view=view,
        form=form,
        rows=form.row_numbers("length"),
        choices=[(str(seconds), f"{seconds} seconds") for seconds in SECONDS],
        notice=notice,
    )


def _here(page: PageContext, what: str) -> tuple[Seen, CutGroup]:
    seen = seen_of(page)
    if seen is None:
        raise missing_thing(page.slug, "cut list", what[:60])
    return seen, _wanted(page.slug, seen, what)


def _wanted(slug: str, seen: Seen, what: str) -> CutGroup:
    group = next((one for one in seen.plumbed.cut if one.what == what), None)
    if group is None:
        raise missing_thing(slug, "cut list", what[:60])
    return group


def _refused(
    page: PageContext, what: str, texts: tuple[str, ...], *, status: int = 422
) -> Response:
    return not_yet(page, NOT_STORED, texts, addresses.cut_list(page.slug, what), status)
