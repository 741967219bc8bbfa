"""The questions of a starter list over HTTP: asked, tried out, taken."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from webapp.build.starter.starter_list import StarterList
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import Missing
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.starter.forms import (
    answers_shown,
    edit_answers,
    is_answered,
    read_change,
)
from webapp.pages.starter.views import starter_view
from webapp.pages.words.starter import LOOK_FIRST, not_from_a_list
from webapp.services.changes import Refused
from webapp.services.program import Services
from webapp.services.seed_builds import starter_list

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/starter")
def starter_questions(
    slug: str, services: ServicesOf, request: Request, since: str = ""
) -> HTMLResponse:
    """The answers that are kept, or what others would change: nothing is stored."""
    page, starter = _page(services, slug)
    opened = TypedForm.opened(answers_shown(page.build, starter))
    typed = TypedForm(
        {name: [value] for name, value in request.query_params.items() if name != "since"},
        carried=opened.carried,
    )
    form = typed if is_answered(typed) else opened
    form.settle(answers_shown(page.build, starter))
    return _show(
        page, starter, form, notice=notice_of(services, page, since, addresses.starter(slug))
    )


@router.post("/builds/{slug}/starter")
def take_answers(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Take the answers, where what they change was shown; else show it."""
    form = TypedForm.of(posted)
    _, starter = _page(services, slug)
    done = change_by_form(services, slug, form, edit_answers(starter))
    if isinstance(done, Refused):
        page, starter = _page(services, slug)
        return _show(page, starter, form, said="" if form.faults else LOOK_FIRST)
    return RedirectResponse(told(addresses.starter(slug), done), status_code=303)


def _page(services: Services, slug: str) -> tuple[PageContext, StarterList]:
    page = page_of(services, slug, "Starter list")
    starter = starter_list(page.build.starter_list)
    if starter is None:
        raise Missing(
            not_from_a_list(page.build.starter_list), back_to=addresses.shop(slug, "build")
        )
    return page, starter


def _show(
    page: PageContext,
    starter: StarterList,
    form: TypedForm,
    *,
    said: str = "",
    notice: Notice = NO_NOTICE,
) -> HTMLResponse:
    faults = len(form.faults)
    change = read_change(form, page.build, starter)
    status = 422 if faults or form.faults or said else 200
    return render(
        "starter/starter.html",
        status=status,
        title="What is in this build",
        page=page,
        form=form,
        said=said,
        notice=notice,
        view=starter_view(page.build, starter, change),
    )
