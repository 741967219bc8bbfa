"""The time log over HTTP: write hours down afterwards, correct them, take them out."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import BuildInput, Fault
from webapp.pages import addresses
from webapp.pages.forms.form_change import change_by_form, notice_of, nowhere, told
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import Missing
from webapp.pages.frame.rendering import render
from webapp.pages.log.forms import (
    Placed,
    digest_of,
    entry_values,
    find_entry,
    with_entry,
    without_entry,
)
from webapp.pages.log.views import log_view
from webapp.pages.words import amounts as words

router = APIRouter(include_in_schema=False)
PAGE = "Week"


def _show(
    page: PageContext,
    form: TypedForm,
    *,
    status: int = 200,
    notice: str = "",
    everything: bool = False,
) -> Response:
    return render(
        "log/log.html",
        status=status,
        title="Time log",
        page=page,
        form=form,
        tasks=PickList.of("task", page.build.tasks).labels,
        view=log_view(page, everything=everything),
        notice=notice,
    )


@router.get("/builds/{slug}/log")
def log(slug: str, services: ServicesOf, since: str = "", all: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    form = TypedForm(entry_values(page.build, None))
    notice = notice_of(services, page, since)
    return _show(page, form, notice=notice, everything=bool(all))


@router.post("/builds/{slug}/log")
def write_down(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Hours written down afterwards."""
    form = TypedForm.of(posted)
    since = change_by_form(
        services, slug, form, lambda build: with_entry(form, build, None), lambda: _place
    )
    if since is None:
        return _show(page_of(services, slug, PAGE), form, status=422)
    return RedirectResponse(told(addresses.log(slug), since), status_code=303)


def _place(fault: Fault) -> str:
    """Which field a fault of the build belongs to."""
    if fault.kind == "log":
        return fault.field if fault.field in ("task", "on", "hours", "left") else "hours"
    return "left" if fault.field == "hours_left" else ""


@router.get("/builds/{slug}/log-entry")
def one_entry(slug: str, services: ServicesOf, at: str = "", key: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    found = _found(page.build, slug, at, key)
    return _show_entry(page, found, TypedForm(entry_values(page.build, found.entry)))


def _found(build: BuildInput, slug: str, at: str, key: str) -> Placed:
    found = find_entry(build, at, key)
    if found is None:
        raise Missing(
            "This entry of the log was corrected or taken out since. What there is stands in "
            "the time log.",
            back_to=addresses.log(slug),
        )
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
        said=f"{words.hours(round(entry.hours, 2))} on {name},"
        f" {words.day(entry.on, today=page.today)}",
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

    def edit(build: BuildInput) -> BuildInput:
        return with_entry(form, build, _found(build, slug, at, key))

    since = change_by_form(services, slug, form, edit, lambda: _place)
    if since is None:
        page = page_of(services, slug, PAGE)
        return _show_entry(page, _found(page.build, slug, at, key), form, status=422)
    return RedirectResponse(told(addresses.log(slug), since), status_code=303)


@router.get("/builds/{slug}/remove-log-entry")
def after_a_refusal(slug: str) -> Response:
    """A reload of an address that only takes changes leads back to the log."""
    return RedirectResponse(addresses.log(slug), status_code=303)


@router.post("/builds/{slug}/remove-log-entry")
def remove(slug: str, services: ServicesOf, at: str = "", key: str = "") -> Response:
    """Take an entry out; the journal keeps it."""
    form = TypedForm()

    def edit(build: BuildInput) -> BuildInput:
        return without_entry(build, _found(build, slug, at, key))

    since = change_by_form(services, slug, form, edit, nowhere)
    if since is None:
        page = page_of(services, slug, PAGE)
        return _show_entry(page, _found(page.build, slug, at, key), form, status=422)
    return RedirectResponse(told(addresses.log(slug), since), status_code=303)
