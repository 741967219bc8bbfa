"""Bench over HTTP: what to do now; begin, stop, done; not tonight."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.pages import addresses
from webapp.pages.bench import forms
from webapp.pages.bench.bench_view import Asks
from webapp.pages.bench.not_tonight import pass_over, passed_over
from webapp.pages.bench.setting_aside import aside_words
from webapp.pages.bench.views import bench_view
from webapp.pages.first_start.beside_tasks import bench_watch, checks_of_task
from webapp.pages.forms.posted import Typed, text_of
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render, render_question
from webapp.pages.sharing.begun import asked_of_session
from webapp.pages.wishes.forms import log_wish, place_of_line
from webapp.pages.wishes.headroom_view import headroom_view
from webapp.pages.words.wishes import logged_again
from webapp.services.changes import Refused, Stored
from webapp.services.program import Services
from webapp.services.sharing import hand_over

router = APIRouter()


def show(
    page: PageContext,
    *,
    status: int = 200,
    stop: TypedForm | None = None,
    asks: Asks | None = None,
    passed: tuple[str, ...] = (),
    refused: TypedForm | None = None,
    wish: TypedForm | None = None,
    logged: str = "",
    again: bool = False,
    notice: Notice = NO_NOTICE,
) -> HTMLResponse:
    """The Bench; `refused` is a press that was not stored, and why.

    `stop` is the stop form while it is open, which `asks` before it stores; `passed` is what is
    passed over for tonight; `wish` the line of a wish that is shown again, `logged` the key of
    one just logged, `again`: for the second time.
    """
    just = find_by_key(page.build.wishes, logged)
    return render(
        "bench/bench.html",
        status=status,
        title="Bench",
        page=page,
        view=bench_view(page, stop=stop, asks=asks, passed=passed),
        refused=tuple(fault.text for fault in refused.faults) if refused else (),
        headroom=headroom_view(page),
        wish_line=wish or TypedForm(),
        logged=(logged_again(just.text) if again else f"Logged: {just.text}.") if just else "",
        logged_key=logged,
        notice=notice,
        ran=bench_watch(page),
        task_checks=checks_of_task(page, page.clock.task) if page.clock and not stop else (),
    )


@router.get("/builds/{slug}/bench")
def bench(
    slug: str,
    services: ServicesOf,
    request: Request,
    stop: str = "",
    then: str = "",
    logged: str = "",
    again: str = "",
    since: str = "",
) -> HTMLResponse:
    page = page_of(services, slug, "Bench")
    form = forms.stop_form(page.build, page.clock, then) if stop and page.clock else None
    notice = notice_of(services, page, since, addresses.bench(slug))
    passed = passed_over(request.cookies, page.now)
    return show(page, stop=form, passed=passed, logged=logged, again=bool(again), notice=notice)


@router.post("/builds/{slug}/bench/not-tonight")
def not_tonight(slug: str, services: ServicesOf, request: Request, posted: Typed) -> Response:
    """Pass a task over until the morning; without a task offer all of them again."""
    page, key = page_of(services, slug, "Bench"), text_of(posted, "task")
    passed = [one for one in passed_over(request.cookies, page.now) if one != key]
    answer = RedirectResponse(addresses.bench(slug), status_code=303)
    pass_over(answer, addresses.bench(slug), (*passed, key) if key else (), page.now)
    return answer


@router.post("/builds/{slug}/bench/begin")
def begin(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Begin a task. While another is on the bench, ask first what became of it."""
    return _begun(slug, services, text_of(posted, "task"), press=TypedForm.of(posted))


def _begun(
    slug: str,
    services: Services,
    key: str,
    *,
    press: TypedForm,
    stopped: Stored[bool] | None = None,
) -> Response:
    """Begin a task, and tell of it together with a stop just before it."""
    asked, taken = asked_of_session(services, slug)
    done = change_by_form(services, slug, press, forms.begin(key, asked))
    if isinstance(done, Stored):
        if taken is not None and done.build.on_bench is not None:
            with services.database.writing() as session:
                hand_over(services.plans, session, taken, slug, services.settings.now())
        since = stopped.since if stopped else None
        return RedirectResponse(told(addresses.bench(slug), done, since=since), status_code=303)
    if not done.edited.made:
        return RedirectResponse(addresses.bench_stopping(slug, then=key), status_code=303)
    page = page_of(services, slug, "Bench")
    if press.faults_at("sure"):
        return _ask_about_begin(page, key, press)
    return show(page, status=422, refused=press)


def _ask_about_begin(page: PageContext, key: str, press: TypedForm) -> Response:
    return _ask(page, key, press, "Begin {}?", "Begin", addresses.bench_begin(page.slug))


def _ask(
    page: PageContext, key: str, press: TypedForm, question: str, verb: str, action: str
) -> Response:
    """Ask once more before a task is begun or done; `question` has a place for its name."""
    task = find_by_key(page.build.tasks, key)
    return render_question(
        question.format(f"“{task.name if task else key}”"),
        status=422,
        title=f"{verb}?",
        seen="",
        page=page,
        texts=press.faults_at("sure"),
        action=action,
        fields=(("task", key), ("sure", "on")),
        button=f"{verb} all the same",
        back=addresses.bench(page.slug),
    )


@router.get("/builds/{slug}/bench/begin")
@router.get("/builds/{slug}/bench/not-tonight")
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
        page = page_of(services, slug, "Bench")
        return show(page, status=422, stop=form, asks=_asks(page, form, done.edited.build))
    then = form.typed("then")
    if then and then != form.typed("task") and any(t.key == then for t in done.build.tasks):
        return _begun(slug, services, then, press=TypedForm(), stopped=done)
    return RedirectResponse(told(addresses.bench(slug), done), status_code=303)


def _asks(page: PageContext, form: TypedForm, stopped: BuildInput) -> Asks | None:
    """What is asked before a task is finished or set aside; None while fields are to be mended."""
    said = form.faults_at(forms.CONFIRMED)
    task = find_by_key(page.build.tasks, form.typed("task"))
    if not said or task is None:
        return None
    if form.typed("outcome") == "finished":
        title, button = f"Is “{task.name}” finished?", "Finished all the same"
        return Asks(outcome="finished", title=title, texts=said, button=button)
    title = f"Set “{task.name}” aside?"
    texts = (*said, aside_words(page, stopped, task.key))
    return Asks(outcome="set_aside", title=title, texts=texts, button="Set it aside")


def _ask_about_done(page: PageContext, press: TypedForm) -> Response:
    key, action = press.typed("task"), addresses.bench_done(page.slug)
    return _ask(page, key, press, "Is {} done?", "Done", action)


@router.post("/builds/{slug}/bench/done")
def done(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Work that needed no hands is done: back from outside, or run to its end."""
    press = TypedForm.of(posted)
    stored = change_by_form(services, slug, press, forms.done)
    if isinstance(stored, Refused):
        page = page_of(services, slug, "Bench")
        if press.faults_at("sure"):
            return _ask_about_done(page, press)
        return show(page, status=422, refused=press)
    return RedirectResponse(told(addresses.bench(slug), stored), status_code=303)


@router.post("/builds/{slug}/bench/wish")
def wish(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Log a wish and stay on the Bench; work goes on."""
    form = TypedForm.of(posted)
    edit = log_wish(services.just_logged, slug)
    stored = change_by_form(services, slug, form, edit, place_of_line)
    if isinstance(stored, Refused):
        return show(page_of(services, slug, "Bench"), status=422, wish=form)
    made = stored.made
    address = addresses.bench_logged(slug, made.key, again=made.again)
    return RedirectResponse(address if made.again else told(address, stored), status_code=303)
