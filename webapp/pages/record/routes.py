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
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.record.views import finding_views, record_view
from webapp.services.changes import Refused
from webapp.services.frozen import Headings, sound_build
from webapp.services.snapshots import frozen_build
from webapp.storage.snapshots import snapshot_headings

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/record")
def record(slug: str, services: ServicesOf, since: str = "") -> Response:
    page = page_of(services, slug, "Week")
    form = TypedForm.opened(record_shown(page.build))
    return _show(page, form, notice=notice_of(services, page, since, addresses.record(slug)))


def _show(
    page: PageContext, form: TypedForm, *, status: int = 200, notice: Notice = NO_NOTICE
) -> Response:
    return render(
        "record/record.html",
        status=status,
        title="The record",
        page=page,
        form=form,
        view=record_view(page),
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
        return _show(page, form, status=422, notice=Notice(text=texts))
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
