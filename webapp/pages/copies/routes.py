"""The copies of the data file over HTTP: made, carried to another folder, put back."""

import datetime as dt
from pathlib import Path
from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.copies.views import build_lines, copy_lines, trouble_words
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf
from webapp.pages.frame.door import AT_THE_MACHINE_ALONE
from webapp.pages.frame.rendering import render
from webapp.pages.words import copies as words
from webapp.services.copies import look_over
from webapp.services.program import Services
from webapp.storage.copies import Copy
from webapp.storage.trouble import UnusableDatabaseError

router = APIRouter(include_in_schema=False)
LONGEST_PATH = 1000


@router.get("/copies")
def copies(services: ServicesOf, made: str = "", instead: str = "", named: str = "") -> Response:
    """All copies; `made` is one that was just made, `instead` one that was just put back.

    `named` says that another folder, or none, was named just now.
    """
    if named:
        folder = services.copies.elsewhere()
        said = words.carried("" if folder is None else str(folder))
        return _show(services, _form(services), said=said)
    said = _said(services, made, instead)
    back = made if said and instead else ""
    return _show(services, _form(services), said=said, back=back)


@router.post("/copies/new")
def make(services: ServicesOf) -> Response:
    """Make a copy now; what stands in the way is told on the page."""
    try:
        copy = services.copies.make()
    except UnusableDatabaseError as trouble:
        return _refused(services, str(trouble))
    return _to_copies(made=copy.name)


@router.post("/copies/elsewhere", dependencies=[AT_THE_MACHINE_ALONE])
def carry_elsewhere(services: ServicesOf, posted: Typed) -> Response:
    """Name another folder for the copies, or none: folders of the machine are named at it."""
    form = TypedForm.of(posted)
    typed = form.typed("folder").strip()
    folder = Path(typed).expanduser() if typed else None
    try:
        if folder is not None and (
            len(typed) > LONGEST_PATH or not folder.is_absolute() or not folder.is_dir()
        ):
            form.fault("folder", words.NO_FOLDER)
        elif folder is not None and folder.resolve() == services.copies.folder.resolve():
            form.fault("folder", words.OWN_FOLDER)
        else:
            services.copies.carry_to(folder)
    except (OSError, ValueError) as error:
        form.fault("folder", f"{typed}: {getattr(error, 'strerror', None) or error}.")
    if form.faults:
        return _show(services, form, status=422)
    return _to_copies(named="folder")


@router.get("/put-back")
def ask_to_put_back(services: ServicesOf, key: str = "") -> Response:
    """What a copy holds beside what is there now, and whether it is to be put back."""
    copy = services.copies.called(key)
    if copy is None:
        return _gone(services)
    try:
        held = look_over(copy.path, now=services.settings.now())
    except UnusableDatabaseError as trouble:
        return _refused(services, str(trouble))
    today = services.settings.now().date()
    made = _moments(services).get(copy.name)
    if made is None:
        return _gone(services)
    return render(
        "copies/put_back.html",
        title="Put a copy back?",
        copy=copy,
        made=made,
        builds=build_lines(services.database, held, today=today),
    )


@router.post("/put-back")
def put_back(services: ServicesOf, key: str = "") -> Response:
    """Put a copy back, after a copy was made of what is there now."""
    copy = services.copies.called(key)
    if copy is None:
        return _gone(services)
    try:
        before = services.copies.put_back(copy)
    except UnusableDatabaseError as trouble:
        return _refused(services, str(trouble))
    services.forget_work()
    return _to_copies(made=before.name, instead=copy.name)


def _to_copies(**said: str) -> Response:
    query = f"?{urlencode(said)}" if said else ""
    return RedirectResponse(addresses.copies() + query, status_code=303)


def _gone(services: Services) -> Response:
    return _refused(services, words.NOT_THERE, status=404)


def _refused(services: Services, text: str, *, status: int = 422) -> Response:
    """The page of the copies, with what stood in the way."""
    form = _form(services)
    form.fault("", text)
    return _show(services, form, status=status)


def _form(services: Services) -> TypedForm:
    folder = services.copies.elsewhere()
    return TypedForm(values={"folder": ("" if folder is None else str(folder),)})


def _said(services: Services, made: str, instead: str) -> str:
    """What is told of what was just done; nothing of copies that are not there."""
    copy, put = services.copies.called(made), services.copies.called(instead)
    if copy is None or (instead and put is None):
        return ""
    if put is None:
        return words.MADE
    moments = _moments(services)
    if not {put.name, copy.name} <= moments.keys():
        return ""
    return words.put_back(moments[put.name], moments[copy.name])


def _moments(services: Services) -> dict[str, str]:
    """When each copy that is there was made, by its name."""
    today: dt.date = services.settings.now().date()
    return {each.name: each.made for each in copy_lines(services.copies.all(), today=today)}


def _show(
    services: Services, form: TypedForm, *, status: int = 200, said: str = "", back: str = ""
) -> Response:
    found: tuple[Copy, ...] = services.copies.all()
    today = services.settings.now().date()
    return render(
        "copies/copies.html",
        status=status,
        title="Copies",
        form=form,
        said=said,
        back=back,
        copies=copy_lines(found, today=today),
        folder=str(services.copies.folder),
        data_file=str(services.database.path),
        troubles=trouble_words(services.copies, today=today),
    )
