"""The commands that read or write a document: plan, plumbing, starter, cut, import and so on."""

import json
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from webapp.build.build_input import BuildInput, Fault
from webapp.build.circuit_dependencies import as_planned
from webapp.build.limits import MOST_FULL_DOCUMENT_BYTES
from webapp.build.time.given_away import with_own_hours
from webapp.command.files import read_file, write_file, write_out
from webapp.command.refusal import RefusedError
from webapp.command.settings import settings_of
from webapp.exchange.build_document import SentPhotograph, document_pieces, read_with_photographs
from webapp.exchange.document_writer import (
    most_bytes_with_photographs,
    too_large_with_photographs,
)
from webapp.pages.words.photographs import left_out_words
from webapp.settings import Settings

if TYPE_CHECKING:
    from webapp.command.drawing import Drawing
    from webapp.planning.chances.forecast import Forecast
    from webapp.planning.tighten.tighten import Tightened


def print_plan(
    file: str,
    *,
    as_json: bool,
    tighten_seconds: float | None = None,
    drawing: "Drawing | None" = None,
) -> None:
    """Print the plan of a document, tightened for at most so many seconds. Raises RefusedError.

    With a `drawing` the chances of first start are printed too; they are those of the house
    rules' order.
    """
    read, _ = read_build(file, settings_of())
    build = with_own_hours(as_planned(read))
    from webapp.command.plan_table import chance_words, plan_table
    from webapp.exchange.forecast_document import with_chances
    from webapp.exchange.plan_document import assumed_parts, plan_document
    from webapp.pages.words.the_end import call_the_end
    from webapp.pages.words.unplanned import unplanned_words
    from webapp.planning.order.job_order import days_cost
    from webapp.planning.order.kept_order import plan_that_holds
    from webapp.planning.order.known_date import with_known_date
    from webapp.planning.simulator.work_arrays import lay_out

    call_the_end(build)
    tightened: Tightened | None = None
    forecast: Forecast | None = None
    on_path: dict[str, float] = {}
    if tighten_seconds is None:
        if drawing is not None:
            forecast, on_path = drawing.chances(build, on_path=as_json)
        work = lay_out(build) if drawing is None else drawing.laid_out(build, forecast)
        plan = with_known_date(build, plan_that_holds(build, work=work))
        cost = days_cost(build, work=work)
    else:
        from webapp.planning.order.order_that_holds import KeptOrder
        from webapp.planning.proof.proved import proved
        from webapp.planning.tighten.tighten import tighten

        tightened = tighten(build, seconds=tighten_seconds)
        plan = with_known_date(build, proved(build, tightened.plan))
        as_kept = KeptOrder(keys=tightened.order).kept_in(build)
        cost = days_cost(as_kept)
        if drawing is not None:
            forecast, on_path = drawing.chances(as_kept, on_path=as_json)
    if as_json:
        whys, assumed = unplanned_words(build, plan), assumed_parts(build)
        document = plan_document(plan, cost, tightened, unplanned=whys, assumed=assumed)
        if drawing is not None:
            document = with_chances(document, forecast, on_path) | drawing.earlier(build)
        write_out(json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1) + "\n")
    else:
        chances = [] if drawing is None else [chance_words(forecast), *drawing.heard(build)]
        write_out(plan_table(build, plan, cost, tightened, chances) + "\n")


def print_plumbing(file: str, *, as_json: bool) -> None:
    """Print what follows from the plumbing of a document. Raises RefusedError."""
    build, _ = read_build(file, settings_of())
    from webapp.command.plumbing_table import plumbing_table
    from webapp.exchange.plumbed_document import plumbed_document
    from webapp.plumbing.nearest import nearest_sizes
    from webapp.plumbing.plumbed import plumbed
    from webapp.sizing.checks import checks_of

    answer, nearest = plumbed(build), nearest_sizes(build)
    checks = checks_of(build, answer)
    if as_json:
        document = plumbed_document(answer, nearest, checks)
        write_out(json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1) + "\n")
    else:
        write_out(plumbing_table(build, answer, nearest, checks) + "\n")


def print_first_start(file: str, *, as_json: bool) -> None:
    """Print what stands between the build of a document and the key. Raises RefusedError."""
    build, _ = read_build(file, settings_of())
    from webapp.build.moments import by_the_end_of_minute
    from webapp.command.start_table import start_table
    from webapp.exchange.start_document import start_document
    from webapp.first_start.evaluation import start_standing
    from webapp.pages.words.first_start import open_words
    from webapp.services.seed_builds import check_list_of

    at = by_the_end_of_minute(build.now)
    standing = start_standing(build, check_list_of(build), at=at)
    if as_json:
        document = start_document(standing, open_words(standing))
        write_out(json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1) + "\n")
    else:
        write_out(start_table(standing) + "\n")


def print_starter_list(file: str, *, as_json: bool, name: str | None) -> None:
    """Print the starter list that the build of a document makes. Raises RefusedError."""
    build, _ = read_build(file, settings_of())
    from webapp.build.checks.input_checks import faults_of
    from webapp.build.starter.own_list import own_list
    from webapp.command.list_table import list_table
    from webapp.exchange.build_document import write_document

    made = own_list(build, name or f"{build.name}, as it took")
    faults = faults_of(made)
    if faults:
        raise refused(faults)
    write_out(write_document(made) if as_json else list_table(made) + "\n")


def print_cut_list(file: str, *, as_json: bool, seconds: float) -> None:
    """Print the cut list of a cut document, worked at for at most so long. Raises RefusedError."""
    from webapp.command.cut_table import cut_table
    from webapp.exchange.cut_document import cut_answer, read_cut_document
    from webapp.plumbing.cutting.best_cut import cut_list
    from webapp.plumbing.cutting.faults import not_enough_fault

    job, faults = read_cut_document(read_file(file))
    if faults or job is None:
        raise refused(faults)
    answer = cut_list(job, seconds=seconds)
    if answer is None:
        raise refused([not_enough_fault()])
    if as_json:
        document = cut_answer(answer)
        write_out(json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1) + "\n")
    else:
        write_out(cut_table(job, answer) + "\n")


def import_build(file: str, data: Path | None) -> None:
    """Store the build of a document. Raises RefusedError: nothing is stored, or it says so."""
    settings = settings_of(data=data)
    build, sent = read_build(file, settings)
    from webapp.command.database import open_database
    from webapp.services.imports import store_document

    database = open_database(settings)
    done = store_document(database, build, sent, at=settings.moment())
    database.close()
    if done.faults:
        raise refused(done.faults)
    slug = done.slug
    stored = f"{build.name} is in {settings.data_file} as {slug}, with {len(build.tasks):,} tasks."
    try:
        write_out(stored + "\n")
    except RefusedError as unsaid:
        raise RefusedError([stored, *unsaid.lines]) from None


def export_build(
    slug: str, data: Path | None, output: Path | None, *, with_photographs: bool = False
) -> None:
    """Write the document of a stored build, to standard output or a file. Raises RefusedError.

    Photographs whose files are not there are left out, and said to be.
    """
    settings = settings_of(data=data)
    if not settings.data_file.exists():
        raise RefusedError(
            [f"There is no database {settings.data_file}. Name the right one with --data."]
        )
    from webapp.command.database import open_database
    from webapp.services.plan_cache import PlanCache
    from webapp.services.sharing import planned_at
    from webapp.storage.builds import list_builds

    database, plans = open_database(settings), PlanCache()
    with database.reading() as session:
        found = planned_at(plans, session, slug, settings.now())
        build = None if found is None else found.planned.whole
        slugs = ", ".join(heading.slug for heading in list_builds(session))
    database.close()
    plans.background.close()
    files = database.photographs
    if build is None:
        there = f"These are there: {slugs}." if slugs else "No build is there yet."
        raise RefusedError([f"There is no build {slug}. {there}"])
    if with_photographs and most_bytes_with_photographs(build) > MOST_FULL_DOCUMENT_BYTES:
        raise RefusedError([too_large_with_photographs(build)])
    document = "".join(document_pieces(build, files.read if with_photographs else None))
    if output is None:
        write_out(document)
    else:
        write_file(output, document)
    lost = left_out_words(files.lost(build.photographs))
    if with_photographs and lost:
        print(lost, file=sys.stderr)


def read_build(file: str, settings: Settings) -> tuple[BuildInput, tuple[SentPhotograph, ...]]:
    """The build of a document without faults, and its photographs as they stand in it.

    Raises RefusedError with every fault, each in one line.
    """
    build, faults, sent = read_with_photographs(read_file(file), now=settings.now())
    if faults or build is None:
        raise refused(faults)
    return build, sent


def refused(faults: Iterable[Fault]) -> RefusedError:
    return RefusedError(" ".join(fault.text.split()) for fault in faults)
