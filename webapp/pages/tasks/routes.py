"""Tasks over HTTP: entering many, editing one with its job card, removing one.

The table of all of them stands in `table_routes`, but for the address that it shares.
"""

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse, Response

from webapp.build.assumed_range import shares_of_kind
from webapp.build.build_input import BuildInput, Task
from webapp.build.by_key import find_by_key
from webapp.build.usual_subsystems import subsystems_offered
from webapp.pages import addresses
from webapp.pages.bench.beginning import can_begin
from webapp.pages.bench.setting_aside import aside_words
from webapp.pages.cards.views import sheet_card
from webapp.pages.first_start.beside_tasks import checks_of_task
from webapp.pages.forms.asking import seen_of
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_thing
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render, render_question
from webapp.pages.photographs.forms import blank_form
from webapp.pages.photographs.views import pictures_of
from webapp.pages.tasks import quick_entry, removing, table_routes, task_form, ticking
from webapp.pages.tasks.estimate_fields import assumed_words, where_from
from webapp.pages.tasks.folds import FOLDS, ROW_FOLDS, filled, open_folds
from webapp.pages.tasks.step_fields import step_places
from webapp.pages.tasks.step_lines import hand_list
from webapp.pages.tasks.views import job_card
from webapp.pages.words.own_lists import confirm_words
from webapp.pages.words.photographs import USUAL_CAPTIONS
from webapp.pages.words.plumbing_gone import gone_with_task
from webapp.services.changes import Refused

router = APIRouter(include_in_schema=False)
router.include_router(table_routes.router)
router.include_router(ticking.router)
PAGE = "Order"
"""The page that is lit in the frame: tasks belong to the job order."""


def task_of(build: BuildInput, slug: str, key: str) -> Task:
    """The task with this key, or an answer that names it and says where to go on."""
    found = find_by_key(build.tasks, key)
    if found is None:
        raise missing_thing(slug, "task", key[:60])
    return found


# many tasks ---------------------------------------------------------------------------------
@router.get("/builds/{slug}/tasks/new")
def new_tasks(
    slug: str, services: ServicesOf, since: str = "", name: str = "", after: str = ""
) -> Response:
    """Blank rows; where another page offers a task, its name and what comes after it."""
    page = page_of(services, slug, PAGE)
    return _show_entry(
        page,
        quick_entry.blank_form(name=name, after=after),
        notice=notice_of(services, page, since, addresses.new_task(slug)),
    )


@router.post("/builds/{slug}/tasks/new")
def enter_tasks(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Enter every filled-in row, or none of them and every fault at once."""
    form = TypedForm.of(posted)
    if form.typed("more"):
        return _show_entry(page_of(services, slug, PAGE), quick_entry.with_more_rows(form))
    done = change_by_form(services, slug, form, quick_entry.enter_rows, quick_entry.place_of_fault)
    if isinstance(done, Refused):
        return _show_entry(page_of(services, slug, PAGE), form, status=422)
    return RedirectResponse(told(addresses.tasks(slug), done), status_code=303)


def _show_entry(
    page: PageContext, form: TypedForm, *, status: int = 200, notice: Notice = NO_NOTICE
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
        opened=tuple(row for row in rows if quick_entry.says_more(form, row)),
        row_fields=tuple(
            tuple(f"{field}-{row}" for field in quick_entry.ROW_FIELDS) for row in rows
        ),
        tasks=PickList.of("task", build.tasks).labels,
        subsystems=PickList.of("subsystem", subsystems_offered(build)).labels,
        setups=PickList.of("setup", build.shop.setups).labels,
        stations=PickList.of("station", build.shop.stations).labels,
        first_start=first,
        where_from=where_from(shares_of_kind(build, None)),
        notice=notice,
    )


# the list, and one task ---------------------------------------------------------------------
@router.get("/builds/{slug}/tasks")
def tasks(
    slug: str, services: ServicesOf, request: Request, since: str = "", key: str = ""
) -> Response:
    """All tasks; with `key` the page of that one (a key that no path can carry)."""
    if key:
        return one_task(slug, key, services, since, request.query_params.get("open", ""))
    return table_routes.show(services, slug, request, since)


@router.post("/builds/{slug}/tasks")
def save_tasks(
    slug: str, services: ServicesOf, request: Request, posted: Typed, key: str = ""
) -> Response:
    """The same when they are saved."""
    if key:
        return edit_task(slug, key, services, posted)
    return table_routes.save(services, slug, request, TypedForm.of(posted))


@router.get("/builds/{slug}/tasks/{key:path}")
def one_task(
    slug: str, key: str, services: ServicesOf, since: str = "", open: str = ""
) -> Response:
    """A task; `open` is a fold of its form that is unfolded."""
    page = page_of(services, slug, PAGE)
    task = task_of(page.build, slug, key)
    form = TypedForm.opened(task_form.shown_of(page.build, task))
    notice = notice_of(services, page, since, addresses.task(slug, key))
    return _show_task(page, task, form, notice=notice, folds=(open,) if open in FOLDS else ())


@router.post("/builds/{slug}/tasks/{key:path}")
def edit_task(slug: str, key: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted)
    if form.typed("more"):
        page = page_of(services, slug, PAGE)
        more = task_form.with_more_rows(form)
        return _show_task(page, task_of(page.build, slug, key), more, folds=tuple(ROW_FOLDS))
    done = change_by_form(
        services, slug, form, task_form.edit_task(key), task_form.place_of_fault(key)
    )
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        task = task_of(page.build, slug, key)
        _say_the_date(page, form, task, done.edited.build)
        return _show_task(page, task, form, status=422)
    return RedirectResponse(told(addresses.task(slug, key), done), status_code=303)


def _say_the_date(page: PageContext, form: TypedForm, task: Task, typed: BuildInput) -> None:
    """Where all that is asked is whether to set a task aside: what that does to the date."""
    aside = find_by_key(typed.tasks, task.key)
    if aside is None or aside.set_aside_on is None or task.set_aside_on is not None:
        return
    if all(fault.field == "sure" for fault in form.faults):
        asked = " ".join(fault.text for fault in form.faults)
        form.fault_instead("sure", f"{aside_words(page, typed, task.key)} {asked}".strip())


def _show_task(
    page: PageContext,
    task: Task,
    form: TypedForm,
    *,
    status: int = 200,
    notice: Notice = NO_NOTICE,
    folds: tuple[str, ...] = (),
) -> Response:
    build = page.build
    shares = shares_of_kind(build, task.setup)
    return render(
        "tasks/task.html",
        status=status,
        title=task.name,
        page=page,
        task=task,
        card=job_card(page, task),
        sheet=sheet_card(page, task),
        assumed=assumed_words(task, shares),
        where_from=where_from(shares),
        confirm_words=confirm_words(task),
        form=form,
        links=task_form.rows_of(form),
        opened=open_folds(form, folds),
        filled={name: filled(form, stem) for name, stem in ROW_FOLDS.items()},
        hands=hand_list(task),
        steps=step_places(task),
        step_texts=tuple(step.text for step in task.steps),
        tasks=PickList.of("task", build.tasks).labels,
        parts=PickList.of("part", build.parts).labels,
        subsystems=PickList.of("subsystem", subsystems_offered(build)).labels,
        setups=PickList.of("setup", build.shop.setups).labels,
        stations=build.shop.stations,
        begins=can_begin(page).get(task.key, ""),
        is_on_bench=page.clock is not None and page.clock.task == task.key,
        photographs=pictures_of(page, task),
        new_photograph=blank_form(),
        captions=USUAL_CAPTIONS,
        is_first_start=task.key == build.first_start,
        notice=notice,
        task_checks=checks_of_task(page, task.key),
    )


# removing -----------------------------------------------------------------------------------
@router.get("/builds/{slug}/remove-task")
def ask_to_remove(slug: str, services: ServicesOf, key: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    return _ask(page, page.build, task_of(page.build, slug, key), TypedForm())


@router.post("/builds/{slug}/remove-task")
def remove_task(slug: str, services: ServicesOf, posted: Typed, key: str = "") -> Response:
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, removing.remove_task(key))
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        return _ask(page, done.before, task_of(done.before, slug, key), form, status=422)
    return RedirectResponse(told(addresses.tasks(slug), done), status_code=303)


def _ask(
    page: PageContext, build: BuildInput, task: Task, form: TypedForm, *, status: int = 200
) -> Response:
    """The question, about the task as it is in `build`."""
    texts = (
        "Its hours, its log, its photographs and its place in the order go with it."
        " To keep them for the record, set it aside instead: a date on its page.",
        *filter(None, (gone_with_task(build, task.key),)),
    )
    return render_question(
        f"Remove the task “{task.name}”?",
        status=status,
        title="Remove this task?",
        page=page,
        seen=seen_of(removing.goes_with_task(build, task)),
        texts=(*(fault.text for fault in form.faults), *texts),
        action=addresses.remove_task(page.slug, task.key),
        button="Remove the task",
        back=addresses.task(page.slug, task.key),
        keep_order=status == 200 or form.ticked("keep_order"),
    )
