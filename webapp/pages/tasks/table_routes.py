"""The table of all tasks over HTTP: shown, saved as a whole or row by row, tasks dropped."""

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import BuildInput
from webapp.pages import addresses
from webapp.pages.forms.asking import seen_of
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.frame.since import Since
from webapp.pages.tasks import dropping, table_form, table_row
from webapp.pages.tasks.table_filter import TableFilter, page_of_tasks
from webapp.pages.tasks.table_view import table_view
from webapp.services.changes import Refused
from webapp.services.program import Services

router = APIRouter(include_in_schema=False)
PAGE = "Order"


def show(services: Services, slug: str, request: Request, since: str) -> Response:
    """One page of the table as it is stored."""
    page, asked = page_of(services, slug, PAGE), TableFilter.of(request.query_params)
    turned = page_of_tasks(page.build, asked)
    form = table_form.opened(page.build, turned.tasks)
    added = "added" in request.query_params
    here = addresses.tasks_shown(slug, **asked.fields)
    return _show(page, form, asked, notice=notice_of(services, page, since, here), added=added)


def save(services: Services, slug: str, request: Request, sent: TypedForm) -> Response:
    """Write every row that was changed, or none of them and every fault at once."""
    asked, form = TableFilter.of(request.query_params), table_form.as_sent(sent)
    press = form.typed("press")
    picked = table_form.ticked_keys(form)
    edit = table_form.edit_table(confirms=press == "right")
    if press == "drop" and not picked:
        form.fault("", "No task is ticked. Tick those that are to go.")
    done = change_by_form(services, slug, form, edit, table_form.place_of_fault)
    if isinstance(done, Refused):
        return _show(page_of(services, slug, PAGE), form, asked, status=422)
    if press == "drop":
        there = addresses.drop_tasks(slug, picked, asked.query)
    else:
        there = addresses.tasks_shown(slug, **asked.fields, added="1" if done.made.entered else "")
    return RedirectResponse(told(there, done), status_code=303)


def _show(
    page: PageContext,
    form: TypedForm,
    asked: TableFilter,
    *,
    status: int = 200,
    notice: Notice = NO_NOTICE,
    added: bool = False,
) -> Response:
    return render(
        "tasks/tasks.html",
        status=status,
        title="Tasks",
        page=page,
        form=form,
        view=table_view(page, form, asked, page_of_tasks(page.build, asked)),
        notice=notice,
        added=added,
    )


@router.post("/builds/{slug}/task-row")
def save_row(slug: str, services: ServicesOf, request: Request, posted: Typed) -> Response:
    """Write one row of the table; what is answered are the places of the page that it changes.

    The address says what the table was asked: Undo leads back to the same rows.
    """
    asked = TableFilter.of(request.query_params)
    sent = TypedForm.of(posted)
    number = table_row.number_of(sent)
    form = table_form.as_sent(sent, number)
    done = change_by_form(services, slug, form, table_form.edit_table(), table_form.place_of_fault)
    page, is_refused = page_of(services, slug, PAGE), isinstance(done, Refused)
    since = "" if isinstance(done, Refused) else str(Since(before=done.since, after=done.revision))
    return render(
        "tasks/row_saved.html",
        status=422 if is_refused else 200,
        title="Tasks",
        page=page,
        row=table_row.saved_row(page, sent, form, number, is_refused=is_refused),
        notice=notice_of(services, page, since, addresses.tasks_shown(slug, **asked.fields)),
    )


# dropping -----------------------------------------------------------------------------------
Keys = Annotated[list[str] | None, Query()]


@router.get("/builds/{slug}/drop-tasks")
def ask_to_drop(
    slug: str, services: ServicesOf, task: Keys = None, back: str = "", since: str = ""
) -> Response:
    page = page_of(services, slug, PAGE)
    here = addresses.tasks_shown(slug, **TableFilter.of_query(back).fields)
    notice = notice_of(services, page, since, here)
    return _ask(page, TypedForm({"task": task or []}), back, notice=notice)


@router.post("/builds/{slug}/drop-tasks")
def drop_tasks(slug: str, services: ServicesOf, posted: Typed, back: str = "") -> Response:
    """Take them out, all or none."""
    form, asked = TypedForm.of(posted), TableFilter.of_query(back)
    done = change_by_form(services, slug, form, dropping.drop_tasks)
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        return _ask(page, form, back, build=done.before, status=422)
    there = addresses.tasks_shown(slug, **asked.fields)
    return RedirectResponse(told(there, done), status_code=303)


def _ask(
    page: PageContext,
    form: TypedForm,
    back: str,
    *,
    build: BuildInput | None = None,
    status: int = 200,
    notice: Notice = NO_NOTICE,
) -> Response:
    """The question, about the tasks as they are in `build`."""
    build = build or page.build
    tasks = dropping.to_drop(build, form.chosen("task"))
    going = tuple(task.key for task in tasks if not task.stays)
    return render(
        "tasks/drop_tasks.html",
        status=status,
        title="Drop these tasks?",
        page=page,
        form=form,
        tasks=tasks,
        going=len(going),
        seen=seen_of(dropping.going_with(build, going)),
        keep_order=status == 200 or form.ticked("keep_order"),
        action=addresses.drop_tasks(page.slug, back=back),
        back=addresses.tasks_shown(page.slug, **TableFilter.of_query(back).fields),
        notice=notice,
    )
