"""The data sheet over HTTP."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.sizing.sheet_forms import edit_sheet, place_of_fault, sheet_shown
from webapp.pages.sizing.sheet_view import sheet_view
from webapp.services.changes import Refused

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/data-sheet")
def data_sheet(slug: str, services: ServicesOf, asked: str = "", since: str = "") -> Response:
    """The figures that checks hang on; with `asked` the one that a check missed is ready."""
    page = page_of(services, slug, "Plumbing")
    form = TypedForm.opened(sheet_shown(page.build.data_sheet))
    notice = notice_of(services, page, since, addresses.data_sheet(slug))
    return _show(page, form, asked=asked, notice=notice)


@router.post("/builds/{slug}/data-sheet")
def save_data_sheet(slug: str, services: ServicesOf, posted: Typed, asked: str = "") -> Response:
    """Store what was typed; whoever came from a check goes back to the checks."""
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, edit_sheet, place_of_fault)
    if isinstance(done, Refused):
        return _show(page_of(services, slug, "Plumbing"), form, asked=asked, status=422)
    back = addresses.sizing(slug) if asked else addresses.data_sheet(slug)
    return RedirectResponse(told(back, done), status_code=303)


def _show(
    page: PageContext,
    form: TypedForm,
    *,
    asked: str = "",
    status: int = 200,
    notice: Notice = NO_NOTICE,
) -> Response:
    return render(
        "sizing/data_sheet.html",
        status=status,
        title="Data sheet",
        page=page,
        form=form,
        asked=asked if asked in form.values else "",
        view=sheet_view(page.build, page.slug, form, asked),
        notice=notice,
    )
