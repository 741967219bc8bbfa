"""The builds over HTTP: the list, a new one, import, export, the schema and deleting."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import JSONResponse, RedirectResponse, Response
from starlette.datastructures import UploadFile

from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.build.limits import MOST_FULL_DOCUMENT_BYTES
from webapp.exchange.build_document import (
    document_pieces,
    document_schema,
    read_with_photographs,
    write_document,
)
from webapp.exchange.cut_document import cut_schema
from webapp.exchange.document_writer import (
    most_bytes_with_photographs,
    too_large_with_photographs,
)
from webapp.pages import addresses
from webapp.pages.builds.deleting import goes_with_build, may_be_deleted
from webapp.pages.builds.forms import OWN, RECORD, new_build_values, read_new_build
from webapp.pages.forms.asking import seen_of
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import missing_build
from webapp.pages.frame.kept_files import streamed, to_keep
from webapp.pages.frame.rendering import render, render_question, render_refusal
from webapp.pages.frame.security import UPLOAD_LIMIT_BYTES
from webapp.pages.sharing.views import whose_next
from webapp.pages.words import amounts as words
from webapp.pages.words.earlier_records import offer_words as record_offer
from webapp.pages.words.faults import said
from webapp.pages.words.own_lists import offer_words
from webapp.pages.words.photographs import HOW_TO_FIND, left_out_words
from webapp.services.earlier_records import records_there
from webapp.services.imports import store_document
from webapp.services.own_lists import read_list
from webapp.services.program import Services
from webapp.services.seed_builds import starter_lists, store_demo
from webapp.services.sharing import leave_sharing, planned_at, shared_hours
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, delete_build, list_builds, revision_of
from webapp.storage.own_lists import OwnListHeading, own_list_called, own_list_headings

router = APIRouter(include_in_schema=False)
SHOWN_FAULTS = 1_000
SHOWN_AGAIN_BYTES = 1_000_000
"""A faulty file up to this is shown to be mended at once; a larger one is mended where it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildLine:
    """One build in the list, in strings."""

    slug: str
    name: str
    vehicle: str
    changed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnOffer:
    """A list of one's own, or the record of an earlier build, that a new build begins with."""

    value: str
    words: str


@router.get("/")
def builds(services: ServicesOf) -> Response:
    """The builds; where there is none, three ways in."""
    today = services.settings.now().date()
    with services.database.reading() as session:
        headings = list_builds(session)
        shared = shared_hours(services.plans, session, services.settings.now())
    lines = tuple(
        BuildLine(
            slug=heading.slug,
            name=heading.name,
            vehicle=heading.vehicle,
            changed=words.day(_local_date(heading.changed_at), today=today),
        )
        for heading in headings
    )
    return render("builds/builds.html", title="Builds", builds=lines, whose=whose_next(shared))


def _local_date(stamp: dt.datetime) -> dt.date:
    return stamp.astimezone().date()


@router.post("/builds/demo")
def load_demo(services: ServicesOf) -> Response:
    """Load the demo build and open it."""
    with services.database.writing() as session:
        slug = store_demo(session, services.settings.now(), services.database.photographs)
    return RedirectResponse(addresses.bench(slug), status_code=303)


@router.get("/builds/demo")
def demo_again() -> Response:
    return RedirectResponse(addresses.builds(), status_code=303)


# new build ----------------------------------------------------------------------------------
@router.get("/builds/new")
def new_build(services: ServicesOf, begin: str = "") -> Response:
    values = new_build_values(
        services.settings.now().date(),
        begin,
        starter_lists(),
        _own_lists(services),
        records_there(services),
    )
    return _show_new_build(services, TypedForm(values))


@router.post("/builds/new")
def enter_build(services: ServicesOf, posted: Typed) -> Response:
    form, now = TypedForm.of(posted), services.settings.now()
    own = {f"{OWN}{each.key}": _own_list(services, form, each) for each in _own_lists(services)}
    build = read_new_build(form, starter_lists(), now, own, records_there(services))
    for fault in faults_of(build) if not form.faults else ():
        form.fault("name" if fault.kind == "build" else "", said(fault))
    if form.faults:
        return _show_new_build(services, form, status=422)
    then = addresses.starter if build.starter_list else addresses.new_task
    if own.get(form.typed("begin_with")) is not None:
        then = addresses.tasks
    return _created(services, build, then)


def _show_new_build(services: Services, form: TypedForm, *, status: int = 200) -> Response:
    return render(
        "builds/new_build.html",
        status=status,
        title="New build",
        form=form,
        lists=starter_lists(),
        own=tuple(
            OwnOffer(value=f"{OWN}{each.key}", words=offer_words(each.name, each.tasks, each.taken))
            for each in _own_lists(services)
        ),
        records=tuple(
            OwnOffer(value=f"{RECORD}{each.key}", words=record_offer(each))
            for each in records_there(services)
        ),
    )


def _own_lists(services: Services) -> tuple[OwnListHeading, ...]:
    """The lists of one's own that are offered."""
    with services.database.reading() as session:
        return tuple(each for each in own_list_headings(session) if each.taken_out_at is None)


def _own_list(services: Services, form: TypedForm, each: OwnListHeading) -> BuildInput | None:
    """A list of one's own, read only where it is the one that is asked for."""
    if form.typed("begin_with") != f"{OWN}{each.key}":
        return None
    with services.database.reading() as session:
        kept = own_list_called(session, each.key)
    return None if kept is None else read_list(kept, now=services.settings.now())


# import and export --------------------------------------------------------------------------
async def _document(request: Request) -> tuple[str | bytes, str]:
    """The document that was sent, and its text to be shown again."""
    form = await request.form(max_files=5, max_fields=50, max_part_size=UPLOAD_LIMIT_BYTES)
    pasted, file = form.get("document", ""), form.get("file")
    if isinstance(file, UploadFile) and file.filename:
        content = await file.read()
        if content.strip():
            is_small = len(content) <= SHOWN_AGAIN_BYTES
            return content, content.decode("utf-8", "replace") if is_small else ""
    text = pasted if isinstance(pasted, str) else ""
    return text, text


@router.get("/builds/import")
def import_form() -> Response:
    return _show_import(TypedForm())


@router.post("/builds/import")
def import_build(
    services: ServicesOf, sent: Annotated[tuple[str | bytes, str], Depends(_document)]
) -> Response:
    """Store the build of a document, or list every fault of it; nothing half written."""
    document, text = sent
    form = TypedForm({"document": [text]})
    if not document.strip():
        form.fault(
            "document", "There is no document. Choose a file, or paste the text of a document."
        )
        return _show_import(form, status=422)
    build, faults, sent_along = read_with_photographs(document, now=services.settings.now())
    slug = ""
    if build is not None and not faults:
        done = store_document(services.database, build, sent_along, at=services.settings.moment())
        slug, faults = done.slug, done.faults
    for fault in faults[:SHOWN_FAULTS]:
        form.fault("document", fault.text)
    if len(faults) > SHOWN_FAULTS:
        more = len(faults) - SHOWN_FAULTS
        form.fault("document", f"… and {more:,} more. Mend these first, then read it again.")
    if form.faults:
        return _show_import(form, status=422)
    return RedirectResponse(addresses.order(slug), status_code=303)


def _show_import(form: TypedForm, *, status: int = 200) -> Response:
    return render("builds/import.html", status=status, title="Import a build", form=form)


def _created(services: Services, build: BuildInput, then: Callable[[str], str]) -> Response:
    with services.database.writing() as session:
        slug = create_build(session, build)
    return RedirectResponse(then(slug), status_code=303)


@router.get("/builds/{slug}")
def open_build(slug: str, services: ServicesOf) -> Response:
    """The short address of a build leads to its Bench."""
    with services.database.reading() as session:
        if revision_of(session, slug) is None:
            raise missing_build(slug)
    return RedirectResponse(addresses.bench(slug), status_code=303)


@router.get("/builds/{slug}/document")
def export_build(slug: str, services: ServicesOf, photographs: str = "") -> Response:
    """The build document, as a file to keep; with its photographs where they are asked for."""
    with services.database.reading() as session:
        found = planned_at(services.plans, session, slug, services.settings.now())
    if found is None:
        raise missing_build(slug)
    build = replace(found.planned.whole, now=services.settings.now())
    if photographs and most_bytes_with_photographs(build) > MOST_FULL_DOCUMENT_BYTES:
        text = too_large_with_photographs(build)
        back = addresses.shop(slug, "copies")
        return render_refusal(422, title="Too large", texts=(text,), back_to=back)
    headers = to_keep(slug, ".json")
    if not photographs:
        return Response(write_document(build), media_type="application/json", headers=headers)
    pieces = document_pieces(build, services.database.photographs.read)
    return streamed(pieces, "application/json", headers)


@router.get("/schema/build-document-1.json")
def schema() -> Response:
    return JSONResponse(document_schema(), media_type="application/schema+json")


@router.get("/schema/cut-document-1.json")
def schema_of_cut_documents() -> Response:
    return JSONResponse(cut_schema(), media_type="application/schema+json")


# deleting -----------------------------------------------------------------------------------
@router.get("/builds/{slug}/delete")
def ask_to_delete(slug: str, services: ServicesOf) -> Response:
    return _ask_to_delete(services, page_of(services, slug, "Shop"), TypedForm())


@router.post("/builds/{slug}/delete")
def delete(slug: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted)
    with services.database.writing() as session:
        revision = revision_of(session, slug)
        build = load_build(session, slug, now=services.settings.now())
        if revision is None or build is None:
            raise missing_build(slug)
        is_meant = may_be_deleted(form, build, revision)
        if is_meant:
            leave_sharing(services.plans, session, slug, services.settings.now())
            delete_build(session, slug)
    if not is_meant:
        return _ask_to_delete(services, page_of(services, slug, "Shop"), form, status=422)
    services.tightenings.put_away(slug)
    services.cuttings.put_away(slug)
    with services.database.reading() as session:
        services.database.photographs.sweep(session)
    return RedirectResponse(addresses.builds(), status_code=303)


def _ask_to_delete(
    services: Services, page: PageContext, form: TypedForm, *, status: int = 200
) -> Response:
    lost = left_out_words(services.database.photographs.lost(page.build.photographs))
    has_photographs = bool(page.build.photographs)
    return render_question(
        f"Delete the build “{page.build.name}”?",
        status=status,
        title="Delete this build?",
        page=page,
        seen=seen_of(goes_with_build(page.build, page.revision)),
        texts=(
            *(fault.text for fault in form.faults),
            f"All of it goes: {words.count(len(page.build.tasks), 'task')},"
            f" {words.count(len(page.build.parts), 'part')}, the shop and the log.",
            "There is no Undo for this. Export it first if you may want it again: the document "
            "holds all of it, but for baselines, closed weeks and the journal"
            f"{', and the photographs unless you take them along' if has_photographs else ''}.",
            *((f"{lost} {HOW_TO_FIND}",) if lost else ()),
        ),
        action=addresses.delete_build(page.slug),
        button="Delete the build",
        back=addresses.shop(page.slug, "build"),
        offer_export=True,
    )
