"""Tasks over HTTP: the list, entering many, editing one with its job card, removing one."""

from collections.abc import Callable

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import BuildInput, Fault, Task
from webapp.build.verbs.task_links import without_task
from webapp.pages import addresses
from webapp.pages.forms.form_change import change_by_form, notice_of, nowhere, told
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_thing
from webapp.pages.frame.rendering import render, render_question
from webapp.pages.tasks import quick_entry, task_form
from webapp.pages.tasks.views import job_card, task_list

router = APIRouter(include_in_schema=False)
PAGE = "Order"
"""The page that is lit in the frame: tasks belong to the job order."""


def task_of(build: BuildInput, slug: str, key: str) -> Task:
    """The task with this key, or an answer that names it and says where to go on."""
    found = next((task for task in build.tasks if task.key == key), None)
    if found is None:
        raise missing_thing(slug, "task", key[:60])
    return found


# many tasks ---------------------------------------------------------------------------------
@router.get("/builds/{slug}/tasks/new")
def new_tasks(slug: str, services: ServicesOf, since: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    return _show_entry(page, quick_entry.blank_form(), notice=notice_of(services, page, since))


@router.post("/builds/{slug}/tasks/new")
def enter_tasks(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Enter every filled-in row, or none of them and every fault at once."""
    form = TypedForm.of(posted)
    if form.typed("more"):
        return _show_entry(page_of(services, slug, PAGE), quick_entry.with_more_rows(form))
    entered: tuple[quick_entry.EnteredRow, ...] = ()

    def edit(build: BuildInput) -> BuildInput:
        nonlocal entered
        after, entered = quick_entry.enter_rows(form, build)
        return after

    def place() -> Callable[[Fault], str]:
        return quick_entry.place_of_fault(entered)

    since = change_by_form(services, slug, form, edit, place)
    if since is None:
        return _show_entry(page_of(services, slug, PAGE), form, status=422)
    return RedirectResponse(told(addresses.tasks(slug), since), status_code=303)


def _show_entry(
    page: PageContext, form: TypedForm, *, status: int = 200, notice: str = ""
) -> Response:
    build, rows = page.build, quick_entry.row_numbers(form)
    first = next((task.name for task in build.tasks if task.key == build.first_start), "")
    return render(
        "tasks/new_tasks.html",
        status=status,
        title="Enter tasks",
        page=page,
        form=form,
        rows=rows,
        row_fields=tuple(
            tuple(f"{field}-{row}" for field in quick_entry.ROW_FIELDS) for row in rows
        ),
        tasks=PickList.of("task", build.tasks).labels,
        subsystems=PickList.of("subsystem", build.subsystems).labels,
        first_start=first,
        most_rows=quick_entry.MOST_ROWS,
        notice=notice,
    )


# the list, and one task ---------------------------------------------------------------------
@router.get("/builds/{slug}/tasks")
def tasks(slug: str, services: ServicesOf, since: str = "", key: str = "") -> Response:
    """All tasks; with `key` the page of that one (a key that no path can carry)."""
    if key:
        return one_task(slug, key, services, since)
    page = page_of(services, slug, PAGE)
    return render(
        "tasks/tasks.html",
        title="Tasks",
        page=page,
        view=task_list(page),
        notice=notice_of(services, page, since),
    )


@router.post("/builds/{slug}/tasks")
def edit_task_by_key(slug: str, key: str, services: ServicesOf, posted: Typed) -> Response:
    return edit_task(slug, key, services, posted)


@router.get("/builds/{slug}/tasks/{key:path}")
def one_task(slug: str, key: str, services: ServicesOf, since: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    task = task_of(page.build, slug, key)
    form = TypedForm(task_form.values_of(page.build, task))
    return _show_task(page, task, form, notice=notice_of(services, page, since))


@router.post("/builds/{slug}/tasks/{key:path}")
def edit_task(slug: str, key: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted)

    def edit(build: BuildInput) -> BuildInput:
        task_of(build, slug, key)
        return task_form.edit_task(form, build, key)

    if form.typed("more"):
        page = page_of(services, slug, PAGE)
        more = task_form.with_more_rows(form)
        return _show_task(page, task_of(page.build, slug, key), more)
    since = change_by_form(services, slug, form, edit, lambda: task_form.place_of_fault(key))
    if since is None:
        page = page_of(services, slug, PAGE)
        return _show_task(page, task_of(page.build, slug, key), form, status=422)
    return RedirectResponse(told(addresses.task(slug, key), since), status_code=303)


def _show_task(
    page: PageContext, task: Task, form: TypedForm, *, status: int = 200, notice: str = ""
) -> Response:
    build = page.build
    return render(
        "tasks/task.html",
        status=status,
        title=task.name,
        page=page,
        task=task,
        card=job_card(page, task),
        form=form,
        links=task_form.rows_of(form),
        tasks=PickList.of("task", build.tasks).labels,
        parts=PickList.of("part", build.parts).labels,
        subsystems=(("", "none"), *PickList.of("subsystem", build.subsystems).labels),
        setups=(("", "none"), *PickList.of("setup", build.shop.setups).labels),
        stations=build.shop.stations,
        is_first_start=task.key == build.first_start,
        notice=notice,
    )


# removing -----------------------------------------------------------------------------------
@router.get("/builds/{slug}/remove-task")
def ask_to_remove(slug: str, services: ServicesOf, key: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    return _ask(page, task_of(page.build, slug, key), TypedForm())


@router.post("/builds/{slug}/remove-task")
def remove_task(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    form = TypedForm.of(posted)

    def edit(build: BuildInput) -> BuildInput:
        task = task_of(build, slug, key)
        if key == build.first_start:
            form.fault(
                "",
                f"“{task.name}” is first start: the plan ends there."
                " Name another task as first start on the Shop page, then remove this one.",
            )
        return without_task(build, key, keep_order=form.ticked("keep_order"))

    since = change_by_form(services, slug, form, edit, nowhere)
    if since is None:
        page = page_of(services, slug, PAGE)
        return _ask(page, task_of(page.build, slug, key), form, status=422)
    return RedirectResponse(told(addresses.tasks(slug), since), status_code=303)


def _ask(page: PageContext, task: Task, form: TypedForm, *, status: int = 200) -> Response:
    texts = (
        "Its hours, its log and its place in the order go with it."
        " To keep them for the record, set it aside instead: a date on its page.",
    )
    return render_question(
        f"Remove the task “{task.name}”?",
        status=status,
        title="Remove this task?",
        page=page,
        texts=(*(fault.text for fault in form.faults), *texts),
        action=addresses.remove_task(page.slug, task.key),
        button="Remove the task",
        back=addresses.task(page.slug, task.key),
        keep_order=status == 200 or form.ticked("keep_order"),
    )
