"""Photographs over HTTP: added, looked at, captioned, removed; and their files."""

import re
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import RedirectResponse, Response
from starlette.datastructures import FormData, UploadFile

from webapp.build.build_input import Photograph, Task
from webapp.build.by_key import find_by_key
from webapp.exchange.photographs import MEDIA_TYPE, NoPhotograph, file_words
from webapp.pages import addresses
from webapp.pages.forms.asking import seen_of
from webapp.pages.forms.posted import TOKEN_FIELD, Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.cut_body import IS_CUT
from webapp.pages.frame.errors import missing_thing
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render, render_question
from webapp.pages.photographs import forms
from webapp.pages.photographs.views import one_picture, pictures_of
from webapp.pages.words.photographs import (
    CHOOSE_AGAIN,
    FILE_NOT_THERE,
    HOW_TO_BRING_BACK,
    NONE_CHOSEN,
    TOO_LARGE,
    USUAL_CAPTIONS,
    called,
)
from webapp.services.changes import Refused
from webapp.services.photographs import taken_in
from webapp.services.program import Services
from webapp.storage.photograph_files import is_of_build

router = APIRouter(include_in_schema=False)
PAGE = "Order"
"""The page that is lit in the frame, as for the task."""
MOST_FILES = 30
KEPT_SECONDS = 365 * 24 * 3600
_FILE_NAME = re.compile(r"([0-9a-f]{64})(\.small)?\.jpg")
NOT_THERE_PICTURE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="400" height="300" viewBox="0 0 400 300">'
    '<rect x="1" y="1" width="398" height="298" fill="#fbf9f3" stroke="#6d7882" stroke-width="2"/>'
    '<text x="200" y="140" text-anchor="middle" font-family="sans-serif" font-size="26" '
    'fill="#14222d">The picture&#39;s file</text><text x="200" y="180" text-anchor="middle" '
    'font-family="sans-serif" font-size="26" fill="#14222d">is not there</text></svg>'
)
"""What stands in the place of a picture whose file is gone, on every page that shows it."""


def _task_of(page: PageContext, key: str) -> Task:
    found = find_by_key(page.build.tasks, key)
    if found is None:
        raise missing_thing(page.slug, "task", key[:60])
    return found


def _photograph_of(page: PageContext, task: str, digest: str) -> Photograph:
    found = forms.find_photograph(page.build, task, digest)
    if found is None:
        raise missing_thing(page.slug, "photograph", digest[:12])
    return found


# those of a task ----------------------------------------------------------------------------
async def _sent(request: Request) -> tuple[FormData, list[tuple[str, bytes]], bool]:
    """The fields that were sent, the files with their names, and whether those were too large."""
    form = await request.form(max_files=MOST_FILES, max_fields=50)
    texts = FormData([item for item in form.multi_items() if item[0] != TOKEN_FIELD])
    files = [
        (one.filename, await one.read())
        for one in form.getlist(forms.PICTURE)
        if isinstance(one, UploadFile) and one.filename
    ]
    return texts, files, IS_CUT in request.scope


@router.get("/builds/{slug}/photographs")
def photographs(slug: str, services: ServicesOf, task: str = "", since: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    notice = notice_of(services, page, since, addresses.photographs(slug, task))
    return _show_all(page, _task_of(page, task), forms.blank_form(), notice=notice)


@router.post("/builds/{slug}/photographs")
def add(
    slug: str,
    services: ServicesOf,
    sent: Annotated[tuple[FormData, list[tuple[str, bytes]], bool], Depends(_sent)],
    task: str = "",
) -> Response:
    """Add what was sent, all of it or nothing; files are on disk before the build names them."""
    posted, files, are_too_large = sent
    page = page_of(services, slug, PAGE)
    of_task = _task_of(page, task)
    form = TypedForm.of(posted, scope="new")
    if are_too_large:
        form.fault(forms.PICTURE, TOO_LARGE)
        return _show_all(page, of_task, form, status=413)
    taken = _taken_in(services, page, of_task, form, files)
    done = change_by_form(services, slug, form, forms.add(task, taken), lambda *_: "caption")
    if isinstance(done, Refused):
        if files and not form.faults_at(forms.PICTURE):
            form.fault(forms.PICTURE, CHOOSE_AGAIN)
        return _show_all(page_of(services, slug, PAGE), of_task, form, status=422)
    back = addresses.task if form.typed("back") == "task" else addresses.photographs
    return RedirectResponse(told(back(slug, task), done), status_code=303)


def _taken_in(
    services: Services,
    page: PageContext,
    task: Task,
    form: TypedForm,
    files: list[tuple[str, bytes]],
) -> list[Photograph]:
    """The photographs of the files, on disk already; each file that is none is a fault."""
    caption = form.text("caption", forms.CAPTION)
    if not files:
        form.fault(forms.PICTURE, NONE_CHOSEN)
    taken = []
    for name, data in files if not form.faults else ():
        found = taken_in(
            services.database.photographs,
            data,
            task=task.key,
            on=page.today,
            caption=caption,
        )
        if isinstance(found, NoPhotograph):
            form.fault(forms.PICTURE, file_words(name, found))
        else:
            taken.append(found)
    return taken


def _show_all(
    page: PageContext, task: Task, form: TypedForm, *, status: int = 200, notice: Notice = NO_NOTICE
) -> Response:
    return render(
        "photographs/photographs.html",
        status=status,
        title=f"Photographs of {task.name}",
        page=page,
        task=task,
        view=pictures_of(page, task),
        form=form,
        captions=USUAL_CAPTIONS,
        notice=notice,
    )


# one photograph -----------------------------------------------------------------------------
@router.get("/builds/{slug}/photographs/{digest}")
def photograph(
    slug: str, digest: str, services: ServicesOf, task: str = "", since: str = ""
) -> Response:
    page = page_of(services, slug, PAGE)
    found = _photograph_of(page, task, digest)
    form = TypedForm.opened(forms.caption_shown(found))
    notice = notice_of(services, page, since, addresses.photograph(slug, task, digest))
    return _show_one(services, page, found, form, notice=notice)


@router.post("/builds/{slug}/photographs/{digest}")
def save_caption(
    slug: str, digest: str, services: ServicesOf, posted: Typed, task: str = ""
) -> Response:
    form = TypedForm.of(posted)
    edit = forms.edit_caption(task, digest)
    done = change_by_form(services, slug, form, edit, lambda *_: "caption")
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        return _show_one(services, page, _photograph_of(page, task, digest), form, status=422)
    return RedirectResponse(told(addresses.photograph(slug, task, digest), done), status_code=303)


def _show_one(
    services: Services,
    page: PageContext,
    found: Photograph,
    form: TypedForm,
    *,
    status: int = 200,
    notice: Notice = NO_NOTICE,
) -> Response:
    task = _task_of(page, found.task)
    is_there = services.database.photographs.has(found.digest)
    return render(
        "photographs/photograph.html",
        status=status,
        title=called(found, task.name),
        page=page,
        task=task,
        view=one_picture(page, task, found),
        digest=found.digest,
        missing="" if is_there else f"{FILE_NOT_THERE} {HOW_TO_BRING_BACK}",
        form=form,
        captions=USUAL_CAPTIONS,
        remove=addresses.remove_photograph(page.slug, task.key, found.digest),
        notice=notice,
    )


@router.get("/builds/{slug}/photographs/{digest}/remove")
def ask_to_remove(slug: str, digest: str, services: ServicesOf, task: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    return _ask(page, _photograph_of(page, task, digest), TypedForm())


@router.post("/builds/{slug}/photographs/{digest}/remove")
def remove(slug: str, digest: str, services: ServicesOf, posted: Typed, task: str = "") -> Response:
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, forms.remove(task, digest))
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        return _ask(page, _photograph_of(page, task, digest), form, status=422)
    return RedirectResponse(told(addresses.photographs(slug, task), done), status_code=303)


def _ask(page: PageContext, found: Photograph, form: TypedForm, *, status: int = 200) -> Response:
    task = _task_of(page, found.task)
    said = f"“{found.caption}” of “{task.name}”" if found.caption else f"of “{task.name}”"
    return render_question(
        f"Remove the photograph {said}?",
        status=status,
        title="Remove this photograph?",
        page=page,
        seen=seen_of(forms.goes_with(found)),
        texts=(
            *(fault.text for fault in form.faults),
            "Undo brings it back, as long as the build is there.",
        ),
        action=addresses.remove_photograph(page.slug, task.key, found.digest),
        button="Remove the photograph",
        back=addresses.photograph(page.slug, task.key, found.digest),
    )


# the files ----------------------------------------------------------------------------------
@router.get("/builds/{slug}/pictures/{name}")
def picture(slug: str, name: str, services: ServicesOf) -> Response:
    """The JPEG of a photograph of this build: its address holds its digest, so it is kept."""
    found = _FILE_NAME.fullmatch(name)
    if found is None:
        raise missing_thing(slug, "photograph", name[:12])
    with services.database.reading() as session:
        if not is_of_build(session, slug, found[1]):
            raise missing_thing(slug, "photograph", name[:12])
    jpeg = services.database.photographs.read(found[1], small=bool(found[2]))
    if jpeg is None:
        return Response(NOT_THERE_PICTURE, status_code=404, media_type="image/svg+xml")
    return Response(
        jpeg,
        media_type=MEDIA_TYPE,
        headers={"Cache-Control": f"private, max-age={KEPT_SECONDS}, immutable"},
    )
