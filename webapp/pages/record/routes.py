"""The record and the soundness of the plan over HTTP."""

from dataclasses import replace

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_build
from webapp.pages.frame.form_change import change_by_form, told, why_refused
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.record.earlier import earlier_view, edit_earlier
from webapp.pages.record.views import finding_views, record_view
from webapp.services.changes import Refused, change
from webapp.services.earlier_records import records_there
from webapp.services.frozen import Headings, sound_build
from webapp.services.program import Services
from webapp.services.snapshots import frozen_build
from webapp.storage.snapshots import snapshot_headings

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/record")
def record(slug: str, services: ServicesOf, since: str = "") -> Response:
    page = page_of(services, slug, "Week")
    notice = notice_of(services, page, since, addresses.record(slug))
    return _show(services, page, notice=notice)


def _show(
    services: Services,
    page: PageContext,
    form: TypedForm | None = None,
    *,
    status: int = 200,
    notice: Notice = NO_NOTICE,
) -> Response:
    return render(
        "record/record.html",
        status=status,
        title="The record",
        page=page,
        form=form or TypedForm.opened(record_shown(page.build)),
        view=record_view(page),
        earlier=earlier_view(page, records_there(services, apart_from=page.slug)),
        notice=notice,
    )


@router.post("/builds/{slug}/record")
def switch(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Let either half of the record count in the forecast, or not."""
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, edit_record)
    if isinstance(done, Refused):
        page = page_of(services, slug, "Week")
        texts = " ".join(fault.text for fault in form.faults)
        return _show(services, page, form, status=422, notice=Notice(text=texts))
    return RedirectResponse(told(addresses.record(slug), done), status_code=303)


@router.post("/builds/{slug}/record/earlier")
def press_earlier(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Take the record of another build along, switch one, or let it go."""
    there = records_there(services, apart_from=slug)
    done = change(services, slug, edit_earlier(TypedForm.of(posted), there))
    if done is None:
        raise missing_build(slug)
    if isinstance(done, Refused):
        wrong = done.edited.made or why_refused(done)
        page = page_of(services, slug, "Week")
        return _show(services, page, status=422, notice=Notice(text=wrong))
    return RedirectResponse(told(addresses.record(slug), done), status_code=303)


def record_shown(build: BuildInput) -> Shown:
    """The form of what counts in the forecast as it is opened."""
    return Shown().tick("calibrated", build.calibrated).tick("attended", build.attended)


def edit_record(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The edit that lets either half of the record count, or not."""
    form.settle(record_shown(build))
    calibrated, attended = form.ticked("calibrated"), form.ticked("attended")
    return Edited(build=replace(build, calibrated=calibrated, attended=attended), made=None)


@router.get("/builds/{slug}/soundness")
def soundness(slug: str, services: ServicesOf) -> Response:
    page = page_of(services, slug, "Week")
    with services.database.reading() as session:
        latest = Headings(all=snapshot_headings(session, slug)).baseline
    baseline = sound_build(frozen_build(services, slug, latest)) if latest else None
    return render(
        "week/soundness.html",
        title="Is the plan sound?",
        page=page,
        findings=finding_views(page, baseline),
    )
