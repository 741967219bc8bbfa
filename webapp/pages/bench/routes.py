"""Bench over HTTP: what to do now; begin, stop, done."""

from typing import TYPE_CHECKING

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from webapp.build.build_input import BuildInput, Fault, Task
from webapp.build.verbs.work import begun_build, finished_build, stopped_build
from webapp.pages import addresses
from webapp.pages.bench.forms import StopForm, read_stop, stop_form_from_clock
from webapp.pages.bench.views import bench_view
from webapp.pages.bench.waiting import needs_hands
from webapp.pages.forms.form_change import first_start_before, notice_of, told
from webapp.pages.forms.hours_asked import question_about
from webapp.pages.forms.posted import Typed, text_of
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, Services, ServicesOf, page_of
from webapp.pages.frame.errors import missing_thing
from webapp.pages.frame.rendering import render
from webapp.pages.wishes.headroom_view import headroom_view
from webapp.pages.wishes.routes import log_wish
from webapp.services.changes import change_build
from webapp.storage.bench_clock import running_clock, start_clock, stop_clock

if TYPE_CHECKING:
    from sqlmodel import Session

router = APIRouter()


def show(
    page: PageContext,
    *,
    status: int = 200,
    stop: StopForm | None = None,
    then: str = "",
    refused: tuple[Fault, ...] = (),
    wish: TypedForm | None = None,
    logged: str = "",
    notice: str = "",
) -> HTMLResponse:
    """The Bench; `refused` are the faults that kept a change from being stored.

    `wish` is the line of a wish that is shown again, `logged` the key of one just logged.
    """
    return render(
        "bench/bench.html",
        status=status,
        title="Bench",
        page=page,
        view=bench_view(page, stop=stop, then=then or None),
        refused=tuple(fault.text for fault in refused),
        headroom=headroom_view(page),
        wish_line=wish or TypedForm(),
        logged=next((one for one in page.build.wishes if one.key == logged), None),
        notice=notice,
    )


def task_of(build: BuildInput, slug: str, key: str) -> Task:
    found = next((task for task in build.tasks if task.key == key), None)
    if found is None:
        raise missing_thing(slug, "task", key)
    return found


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
    form = stop_form_from_clock(page, page.clock, then) if stop and page.clock else None
    notice = notice_of(services, page, since)
    return show(page, stop=form, then=then, logged=logged, notice=notice)


@router.post("/builds/{slug}/bench/begin")
def begin(slug: str, services: ServicesOf, form: Typed) -> Response:
    """Begin a task. While another is on the bench, ask first what became of it."""
    page, key = page_of(services, slug, "Bench"), text_of(form, "task")
    task = task_of(page.build, slug, key)
    if page.clock and page.clock.task_key != key:
        return RedirectResponse(addresses.bench_stopping(slug, then=key), status_code=303)
    since = first_start_before(services, slug)
    try:
        faults = begin_task(services, slug, task)
    except OtherOnBenchError:
        return RedirectResponse(addresses.bench_stopping(slug, then=key), status_code=303)
    if faults:
        return show(page, status=422, refused=faults)
    return RedirectResponse(told(addresses.bench(slug), since), status_code=303)


class OtherOnBenchError(Exception):
    """Another device has put another task on the bench since the page was looked at."""


def begin_task(services: Services, slug: str, task: Task) -> tuple[Fault, ...]:
    """Store that a task is begun; its clock runs where it needs hands.

    Raises OtherOnBenchError where the clock of another task runs: its hours would be lost.
    """
    now = services.settings.now()

    def start(session: "Session") -> None:
        if needs_hands(task):
            clock = running_clock(session, slug)
            if clock is not None and clock.task_key != task.key:
                raise OtherOnBenchError
            start_clock(session, slug, task.key, now)

    def edit(build: BuildInput) -> BuildInput:
        task_of(build, slug, task.key)
        return begun_build(build, task.key, now=now)

    return change_build(services, slug, edit, also=start)


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
def stop(slug: str, services: ServicesOf, form: Typed) -> Response:
    """What became of the task on the bench; then the next is begun, where one was asked for."""
    page, key = page_of(services, slug, "Bench"), text_of(form, "task")
    if page.clock is None or page.clock.task_key != key:
        return RedirectResponse(addresses.bench(slug), status_code=303)
    meant, typed = read_stop(form)
    if meant is None:
        return show(page, status=422, stop=typed, then=typed.then)
    now, on = services.settings.now(), page.clock.since.date()
    question = question_about(page.build, page.build.log, on, meant.worked_hours)
    if question and not typed.sure:
        typed.errors["sure"] = [f"{question} If it is right, tick that it is, and press again."]
        return show(page, status=422, stop=typed, then=typed.then)

    def edit(build: BuildInput) -> BuildInput:
        task_of(build, slug, key)
        return stopped_build(build, key, meant, on=on, now=now)

    since = first_start_before(services, slug)
    faults = change_build(services, slug, edit, also=lambda session: stop_clock(session, slug))
    if faults:
        return show(page, status=422, stop=typed, then=typed.then, refused=faults)
    follower = next((task for task in page.build.tasks if task.key == typed.then), None)
    if follower is not None and follower.key != key:
        try:
            refused = begin_task(services, slug, follower)
        except OtherOnBenchError:
            then = addresses.bench_stopping(slug, then=follower.key)
            return RedirectResponse(then, status_code=303)
        if refused:
            return show(page_of(services, slug, "Bench"), status=422, refused=refused)
    return RedirectResponse(told(addresses.bench(slug), since), status_code=303)


@router.post("/builds/{slug}/bench/done")
def done(slug: str, services: ServicesOf, form: Typed) -> Response:
    """Work that needed no hands is done: back from outside, or run to its end."""
    key = text_of(form, "task")
    now = services.settings.now()

    def edit(build: BuildInput) -> BuildInput:
        task = task_of(build, slug, key)
        return finished_build(build, key, now=now) if task.is_open else build

    since = first_start_before(services, slug)
    faults = change_build(services, slug, edit)
    if faults:
        return show(page_of(services, slug, "Bench"), status=422, refused=faults)
    return RedirectResponse(told(addresses.bench(slug), since), status_code=303)


@router.post("/builds/{slug}/bench/wish")
def wish(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Log a wish and stay on the Bench; work goes on."""
    form = TypedForm.of(posted)
    logged, since = log_wish(services, slug, form)
    if since is None:
        return show(page_of(services, slug, "Bench"), status=422, wish=form)
    return RedirectResponse(addresses.bench_logged(slug, logged), status_code=303)
