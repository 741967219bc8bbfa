"""The time log over HTTP: write hours down afterwards, correct them, take them out."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import BuildInput, Fault
from webapp.build.edited import Lost
from webapp.pages import addresses
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.posted import Typed, page_number
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, missing, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.log import forms
from webapp.pages.log.forms import Placed, digest_of, entry_shown, find_entry
from webapp.pages.log.views import log_view
from webapp.pages.words import amounts as words
from webapp.services.changes import Refused

router = APIRouter(include_in_schema=False)
PAGE = "Week"


def _show(
    page: PageContext,
    form: TypedForm,
    *,
    status: int = 200,
    notice: Notice = NO_NOTICE,
    number: int = 1,
    everything: bool = False,
) -> Response:
    return render(
        "log/log.html",
        status=status,
        title="Time log",
        page=page,
        form=form,
        tasks=PickList.of("task", page.build.tasks).labels,
        view=log_view(page, number=number, everything=everything),
        notice=notice,
    )


@router.get("/builds/{slug}/log")
def log(
    slug: str, services: ServicesOf, since: str = "", all: str = "", page: str = ""
) -> Response:
    """The entries, the latest first; `page` counts from 1, `all` shows every one."""
    context = page_of(services, slug, PAGE)
    form = TypedForm.opened(entry_shown(context.build, None))
    number = page_number(page)
    notice = notice_of(services, context, since, addresses.log(slug, number))
    return _show(context, form, notice=notice, number=number, everything=bool(all))


@router.post("/builds/{slug}/log")
def write_down(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Hours written down afterwards."""
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, forms.write_down, _place)
    if isinstance(done, Refused):
        return _show(page_of(services, slug, PAGE), form, status=422)
    return RedirectResponse(told(addresses.log(slug), done), status_code=303)


def _place(_made: object, fault: Fault) -> str:
    """Which field a fault of the build belongs to."""
    if fault.kind == "log":
        return fault.field if fault.field in ("task", "on", "hours", "left") else "hours"
    return "left" if fault.field == "hours_left" else ""


@router.get("/builds/{slug}/log-entry")
def one_entry(slug: str, services: ServicesOf, at: str = "", key: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    found = _found(page.build, slug, at, key)
    return _show_entry(page, found, TypedForm.opened(entry_shown(page.build, found.entry)))


def _found(build: BuildInput, slug: str, at: str, key: str) -> Placed:
    found = find_entry(build, at, key)
    if found is None:
        raise missing(slug, Lost(kind="log", key=key))
    return found


def _show_entry(
    page: PageContext, found: Placed, form: TypedForm, *, status: int = 200
) -> Response:
    entry = found.entry
    name = next((task.name for task in page.build.tasks if task.key == entry.task), entry.task)
    return render(
        "log/entry.html",
        status=status,
        title="Correct an entry",
        page=page,
        form=form,
        said=f"{words.worked(entry.hours)} on {name}, {words.day(entry.on, today=page.today)}",
        action=addresses.log_entry(page.slug, found.place, digest_of(entry)),
        remove=addresses.remove_log_entry(page.slug, found.place, digest_of(entry)),
        tasks=PickList.of("task", page.build.tasks).labels,
    )


@router.post("/builds/{slug}/log-entry")
def correct(
    slug: str, services: ServicesOf, posted: Typed, at: str = "", key: str = ""
) -> Response:
    """Correct an entry; the journal keeps what it said."""
    form = TypedForm.of(posted)

    done = change_by_form(services, slug, form, forms.correct(at, key), _place)
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        found = find_entry(page.build, at, key) or forms.entry_at(page.build, at)
        if not done.edited.made or found is None:
            return _show(page, form, status=409)
        return _show_entry(page, found, form, status=422)
    return RedirectResponse(told(addresses.log(slug), done), status_code=303)


@router.get("/builds/{slug}/remove-log-entry")
def after_a_refusal(slug: str) -> Response:
    """A reload of an address that only takes changes leads back to the log."""
    return RedirectResponse(addresses.log(slug), status_code=303)


@router.post("/builds/{slug}/remove-log-entry")
def remove(slug: str, services: ServicesOf, at: str = "", key: str = "") -> Response:
    """Take an entry out; the journal keeps it."""
    form = TypedForm()

    done = change_by_form(services, slug, form, forms.take_out(at, key))
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        return _show_entry(page, _found(page.build, slug, at, key), form, status=422)
    return RedirectResponse(told(addresses.log(slug), done), status_code=303)
