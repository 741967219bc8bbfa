"""Lists over HTTP: pasted or uploaded, looked at, taken."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import RedirectResponse, Response
from starlette.datastructures import FormData, UploadFile

from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.exchange.delimited_text import decoded
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_build
from webapp.pages.frame.form_change import FormEdit, change_by_form, told
from webapp.pages.frame.rendering import render
from webapp.pages.frame.security import BODY_LIMIT_BYTES
from webapp.pages.lists.forms import KINDS, kind_called, sent_list, take_list
from webapp.pages.lists.kinds import ListKind, Made
from webapp.pages.lists.views import list_view
from webapp.pages.words import lists as words
from webapp.services.changes import Refused, change
from webapp.services.program import Services

router = APIRouter(include_in_schema=False)
PAGE = "Order"
TakesList = FormEdit[Made]


async def _sent(request: Request) -> tuple[FormData, bytes]:
    """The fields that were sent, and the file among them."""
    form = await request.form(max_files=5, max_fields=5_000, max_part_size=BODY_LIMIT_BYTES)
    file = form.get("file")
    content = await file.read() if isinstance(file, UploadFile) and file.filename else b""
    return form, content


@router.get("/builds/{slug}/list")
def new_list(slug: str, services: ServicesOf, of: str = "") -> Response:
    return _show(page_of(services, slug, PAGE), kind_called(of), TypedForm(), "")


@router.post("/builds/{slug}/list")
def read_list(
    slug: str,
    services: ServicesOf,
    sent: Annotated[tuple[FormData, bytes], Depends(_sent)],
    of: str = "",
) -> Response:
    """Show the list with its faults; take it where that was pressed and it has none."""
    (posted, file), kind = sent, kind_called(of)
    form = TypedForm.of(posted)
    text, fault = decoded(file) if file else (form.typed("text"), "")
    if fault:
        form.fault("", fault)
        page = page_of(services, slug, PAGE)
        return _show(page, kind, form, form.typed("text"), status=422)
    read = sent_list(form, text, kind)
    edit = take_list(read)
    is_taken = form.typed("press") == "take" and form.typed("looked") == read.looked
    if is_taken:
        done = change_by_form(services, slug, form, edit, kind.place)
        if not isinstance(done, Refused):
            return RedirectResponse(told(kind.page(slug), done), status_code=303)
    else:
        _look(services, slug, form, kind, edit)
    page, status = page_of(services, slug, PAGE), 422 if form.faults else 200
    return _show(page, kind, form, text, status=status, looked=True)


def _look(services: Services, slug: str, form: TypedForm, kind: ListKind, edit: TakesList) -> None:
    """Find every fault that taking the list would have, and store nothing."""
    tried = change(services, slug, lambda build: _refused(form, edit, build))
    if tried is None:
        raise missing_build(slug)
    if isinstance(tried, Refused):
        faulty = {fault.field for fault in form.faults}
        for fault in tried.new_faults:
            place = kind.place(tried.edited.made, fault)
            if not place or place not in faulty:
                form.fault(place, fault.text)


def _refused(form: TypedForm, edit: TakesList, build: BuildInput) -> Edited[Made]:
    edited = edit(form, build)
    return Edited(build=edited.build, made=edited.made, is_refused=True)


def _show(
    page: PageContext,
    kind: ListKind,
    form: TypedForm,
    text: str,
    *,
    status: int = 200,
    looked: bool = False,
) -> Response:
    return render(
        "lists/list.html",
        status=status,
        title=words.title(kind.many),
        page=page,
        form=form,
        text=text,
        kind=kind,
        kinds=KINDS,
        finished=words.FINISHED_CHOICES,
        view=list_view(form, sent_list(form, text, kind)) if looked else None,
    )
