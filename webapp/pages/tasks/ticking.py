"""Ticking a step of a task over HTTP, from the Bench or from the task's own page; moving it.

The form says which step, by its text, and whether it is to be ticked or not: so two windows that
tick different steps both succeed, and what another window ticked already is ticked.
"""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.verbs.steps import with_step_moved, with_step_ticked
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf
from webapp.pages.frame.errors import Missing
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.words.quoted import shown
from webapp.services.changes import Refused

router = APIRouter(include_in_schema=False)


def tick(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The edit that ticks a step, or takes its tick away."""
    key, text = form.typed("task"), form.typed("step")
    task = find_by_key(build.tasks, key)
    if task is None:
        return Edited(build=build, made=None, lost=Lost(kind="task", key=key))
    if all(step.text != text for step in task.steps):
        return Edited(build=build, made=None, is_refused=True)
    ticked = with_step_ticked(build, key, text, done=form.ticked("done"))
    return Edited(build=ticked, made=None)


@router.post("/builds/{slug}/tick-step")
def tick_step(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Tick a step and go back to where it was tapped."""
    form = TypedForm.of(posted)
    key = form.typed("task")
    done = change_by_form(services, slug, form, tick)
    back = addresses.task(slug, key) if form.typed("on") == "task" else addresses.bench(slug)
    if isinstance(done, Refused):
        raise Missing(
            f"The step “{shown(form.typed('step'))}” is not there any more: it was worded"
            " otherwise or taken out since. Nothing is stored; the steps as they are now stand on"
            " the page of the task.",
            back_to=addresses.task(slug, key),
        )
    return RedirectResponse(told(f"{back}#steps", done), status_code=303)


def move(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The edit that lets a step change places with the one above or below it.

    The button that was pressed says "up" or "down", and behind a space the step.
    """
    key = form.typed("task")
    way, _, text = form.typed("move").partition(" ")
    if find_by_key(build.tasks, key) is None:
        return Edited(build=build, made=None, lost=Lost(kind="task", key=key))
    return Edited(build=with_step_moved(build, key, text, down=way == "down"), made=None)


@router.post("/builds/{slug}/move-step")
def move_step(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Move a step one place, and show the steps again; one that is gone since moves nothing."""
    form = TypedForm.of(posted)
    key = form.typed("task")
    done = change_by_form(services, slug, form, move)
    if isinstance(done, Refused):
        return RedirectResponse(addresses.task(slug, key), status_code=303)
    return RedirectResponse(told(addresses.task_steps(slug, key), done), status_code=303)


@router.get("/builds/{slug}/move-step")
@router.get("/builds/{slug}/tick-step")
def after_a_refusal(slug: str) -> Response:
    """A reload of an address that only takes changes leads to the Bench."""
    return RedirectResponse(addresses.bench(slug), status_code=303)
