"""Bench over HTTP: what to do now; begin, stop, done."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from webapp.build.by_key import find_by_key
from webapp.pages import addresses
from webapp.pages.bench import forms
from webapp.pages.bench.views import bench_view
from webapp.pages.forms.posted import Typed, text_of
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.wishes.forms import log_wish, place_of_line
from webapp.pages.wishes.headroom_view import headroom_view
from webapp.services.changes import Refused, Stored
from webapp.services.program import Services

router = APIRouter()


def show(
    page: PageContext,
    *,
    status: int = 200,
    stop: TypedForm | None = None,
    refused: TypedForm | None = None,
    wish: TypedForm | None = None,
    logged: str = "",
    notice: Notice = NO_NOTICE,
) -> HTMLResponse:
    """The Bench; `refused` is a press that was not stored, and why.

    `stop` is the stop form while it is open, `wish` the line of a wish that is shown again,
    `logged` the key of one just logged.
    """
    return render(
        "bench/bench.html",
        status=status,
        title="Bench",
        page=page,
        view=bench_view(page, stop=stop),
        refused=tuple(fault.text for fault in refused.faults) if refused else (),
        headroom=headroom_view(page),
        wish_line=wish or TypedForm(),
        logged=find_by_key(page.build.wishes, logged),
        notice=notice,
    )


@router.get("/builds/{slug}/bench")
def bench(
    slug: str,
    services: ServicesOf,
    stop: str = "",
    then: str = "",
    logged: str = "",
    since: str = "",
) -> HTMLResponse:
    page = page_of(services, slug, "Bench")
    form = forms.stop_form(page.build, page.clock, then) if stop and page.clock else None
    notice = notice_of(services, page, since)
    return show(page, stop=form, logged=logged, notice=notice)


@router.post("/builds/{slug}/bench/begin")
def begin(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Begin a task. While another is on the bench, ask first what became of it."""
    return _begun(slug, services, text_of(posted, "task"))


def _begun(
    slug: str, services: Services, key: str, stopped: Stored[bool] | None = None
) -> Response:
    """Begin a task, and tell of it together with a stop just before it."""
    press = TypedForm()
    done = change_by_form(services, slug, press, forms.begin(key))
    if isinstance(done, Stored):
        since = stopped.since if stopped else None
        return RedirectResponse(told(addresses.bench(slug), done, since=since), status_code=303)
    if not done.edited.made:
        return RedirectResponse(addresses.bench_stopping(slug, then=key), status_code=303)
    return show(page_of(services, slug, "Bench"), status=422, refused=press)


@router.get("/builds/{slug}/bench/begin")
@router.get("/builds/{slug}/bench/done")
@router.get("/builds/{slug}/bench/wish")
def after_a_refusal(slug: str) -> Response:
    """A reload of an address that only takes changes leads back to the Bench."""
    return RedirectResponse(addresses.bench(slug), status_code=303)


@router.get("/builds/{slug}/bench/stop")
def stopping(slug: str) -> Response:
    return RedirectResponse(addresses.bench_stopping(slug), status_code=303)


@router.post("/builds/{slug}/bench/stop")
def stop(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """What became of the task on the bench; then the next is begun, where one was asked for."""
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, forms.stop)
    if isinstance(done, Refused):
        if not done.edited.made:
            press = TypedForm()
            press.fault("", forms.stopped_elsewhere(form, done.before))
            return show(page_of(services, slug, "Bench"), status=409, refused=press)
        return show(page_of(services, slug, "Bench"), status=422, stop=form)
    then = form.typed("then")
    if then and then != form.typed("task") and any(t.key == then for t in done.build.tasks):
        return _begun(slug, services, then, stopped=done)
    return RedirectResponse(told(addresses.bench(slug), done), status_code=303)


@router.post("/builds/{slug}/bench/done")
def done(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Work that needed no hands is done: back from outside, or run to its end."""
    press = TypedForm.of(posted)
    stored = change_by_form(services, slug, press, forms.done)
    if isinstance(stored, Refused):
        return show(page_of(services, slug, "Bench"), status=422, refused=press)
    return RedirectResponse(told(addresses.bench(slug), stored), status_code=303)


@router.post("/builds/{slug}/bench/wish")
def wish(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Log a wish and stay on the Bench; work goes on."""
    form = TypedForm.of(posted)
    stored = change_by_form(services, slug, form, log_wish, place_of_line)
    if isinstance(stored, Refused):
        return show(page_of(services, slug, "Bench"), status=422, wish=form)
    address = addresses.bench_logged(slug, stored.made)
    return RedirectResponse(told(address, stored), status_code=303)
