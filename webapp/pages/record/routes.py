"""The record and the soundness of the plan over HTTP."""

from dataclasses import replace

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import BuildInput
from webapp.pages import addresses
from webapp.pages.forms.form_change import change_by_form, notice_of, nowhere, told
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.rendering import render
from webapp.pages.record.views import finding_views, record_view
from webapp.pages.week.frozen import Headings, frozen_build, sound_build
from webapp.storage.snapshots import snapshot_headings

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/record")
def record(slug: str, services: ServicesOf, since: str = "") -> Response:
    page = page_of(services, slug, "Week")
    notice = notice_of(services, page, since)
    return render(
        "record/record.html", title="The record", page=page, view=record_view(page), notice=notice
    )


@router.post("/builds/{slug}/record")
def switch(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Let either half of the record count in the forecast, or not."""
    form = TypedForm.of(posted)

    def edit(build: BuildInput) -> BuildInput:
        return replace(
            build, calibrated=form.ticked("calibrated"), attended=form.ticked("attended")
        )

    since = change_by_form(services, slug, form, edit, nowhere)
    if since is None:
        page = page_of(services, slug, "Week")
        texts = " ".join(fault.text for fault in form.faults)
        view = record_view(page)
        return render(
            "record/record.html", status=422, title="The record", page=page, view=view, notice=texts
        )
    return RedirectResponse(told(addresses.record(slug), since), status_code=303)


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
