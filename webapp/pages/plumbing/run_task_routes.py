"""The tasks of a run over HTTP: made of it with their hours, or picked among those there are."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.gone import gone
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing import run_task_forms as forms
from webapp.pages.plumbing.drawn_page import PAGE, not_to_be_drawn
from webapp.pages.plumbing.seen import seen_of
from webapp.pages.words import plumbing_tasks as words
from webapp.services.changes import Refused
from webapp.services.program import Services

router = APIRouter(include_in_schema=False)
MAKE, RECKON = "make", "reckon"


@router.get("/builds/{slug}/tasks-of-run")
def tasks_of_run(slug: str, services: ServicesOf, key: str = "") -> Response:
    """The tasks of a run: those it has, those it can make, and which make or fit it."""
    return _show(slug, services, key)


@router.post("/builds/{slug}/tasks-of-run")
def make_or_name(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    """Make the tasks that are ticked; or say which of those there are make or fit the run."""
    form = TypedForm.of(posted)
    does = form.typed("does")
    if form.typed("more"):
        more = max(form.row_numbers("task"), default=-1) + 1
        return _show(slug, services, key, named=form.with_blanks(f"task-{more}"))
    if form.typed("reckon"):
        return _show(slug, services, key, steps=form, is_reckoned=True)
    if does == MAKE:
        done = change_by_form(services, slug, form, forms.make_steps(key))
        if isinstance(done, Refused):
            return _show(slug, services, key, steps=form, status=422)
    else:
        done = change_by_form(services, slug, form, forms.name_tasks(key), forms.place_of_fault)
        if isinstance(done, Refused):
            return _show(slug, services, key, named=form, status=422)
    return RedirectResponse(told(addresses.run(slug, key), done), status_code=303)


def _show(
    slug: str,
    services: Services,
    key: str,
    *,
    steps: TypedForm | None = None,
    named: TypedForm | None = None,
    is_reckoned: bool = False,
    status: int = 200,
) -> Response:
    page = page_of(services, slug, PAGE)
    seen = seen_of(page)
    if seen is None:
        return not_to_be_drawn(page)
    if key not in seen.runs:
        raise gone(services, slug, "run", key, steps or named)
    view = forms.steps_view(seen, key)
    if steps is not None and is_reckoned and view is not None:
        steps = forms.reckoned(steps, seen.build, key)
        status = 422 if steps.faults else 200
    if steps is None:
        steps = forms.opened_steps(seen.build, key)
    if named is None:
        named = TypedForm.opened(forms.shown_tasks(seen.build, seen.runs[key].run))
    run = seen.runs[key].run
    return render(
        "plumbing/tasks_of_run.html",
        status=status,
        title=f"Tasks of {seen.run_name(key)}",
        page=page,
        key=key,
        name=seen.run_name(key),
        view=view,
        steps=steps,
        named=named,
        rows=named.row_numbers("task"),
        own=tuple(
            (seen.tasks[task], words.task_said(seen.build, task, seen.today))
            for task in run.tasks
            if task in seen.tasks
        ),
        tasks=PickList.of("task", page.build.tasks).labels,
    )
