"""Week over HTTP: the sheet of any week, closing it, comparing two."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.pages import addresses
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.errors import Missing, missing_build, missing_thing
from webapp.pages.frame.notice import notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.log.routes import router as log_router
from webapp.pages.record.routes import router as record_router
from webapp.pages.week.bridges import TODAY, bridge_that_moved, bridge_view, side_of
from webapp.pages.week.from_to import FromTo
from webapp.pages.week.labels import label_of, week_named
from webapp.pages.week.showing import PAGE, show_week
from webapp.pages.week.to_do_routes import router as to_do_router
from webapp.pages.week.views import all_choices, may_close
from webapp.pages.words import amounts as words
from webapp.pages.words.snapshots import MOVING
from webapp.planning.record.week_figures import IsoWeek, week_of
from webapp.services.baseline import freeze
from webapp.services.snapshots import headings_of
from webapp.storage.snapshots import SnapshotHeading

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/week")
def this_week(slug: str, services: ServicesOf, request: FromTo, since: str = "") -> Response:
    page = page_of(services, slug, PAGE)
    notice = notice_of(services, page, since, addresses.week(slug))
    return show_week(services, page, week_of(page.today), notice=notice, since=request.earlier)


@router.get("/builds/{slug}/week/compare")
def compare(slug: str, services: ServicesOf, request: FromTo) -> Response:
    """The bridge between any two snapshots, or one and today."""
    page = page_of(services, slug, PAGE)
    headings = headings_of(services, slug)
    first = headings.all[0] if headings.all else None
    earlier = request.earlier or (str(first.id) if first else "")
    later = request.later or TODAY
    sides = side_of(services, page, headings, earlier), side_of(services, page, headings, later)
    said = ""
    if not headings.all:
        said = "Nothing is kept yet to compare with: close a week, or freeze the baseline."
    elif sides[0] is None or sides[1] is None:
        said = "One of the two is not kept here, or no more. Pick another from the list."
    bridge = None
    if sides[0] is not None and sides[1] is not None:
        bridge = bridge_view(page, sides[0], sides[1])
    return render(
        "week/compare.html",
        title="Compare",
        page=page,
        said=said,
        bridge=bridge,
        earlier=all_choices(page, headings, earlier),
        later=all_choices(page, headings, later),
    )


@router.get("/builds/{slug}/bridge")
def bridge_alone(slug: str, services: ServicesOf, request: FromTo) -> Response:
    """The bridge alone, for the page that waits for it."""
    page = page_of(services, slug, PAGE)
    headings = headings_of(services, slug)
    sides = tuple(
        side_of(services, page, headings, name) for name in (request.earlier, request.later)
    )
    if sides[0] is None or sides[1] is None:
        raise missing_thing(slug, "snapshot", request.earlier)
    start = side_of(services, page, headings, request.start)
    bridge = bridge_that_moved(page, sides[0], sides[1], start, folded=request.folded)
    return render("week/_bridge.html", page=page, bridge=bridge)


@router.get("/builds/{slug}/week/{label}")
def one_week(
    slug: str, label: str, services: ServicesOf, request: FromTo, today: str = ""
) -> Response:
    page = page_of(services, slug, PAGE)
    week = _week_of(slug, label)
    return show_week(services, page, week, since=request.earlier, as_today=bool(today))


def _week_of(slug: str, label: str) -> IsoWeek:
    week = week_named(label)
    if week is None:
        raise Missing(
            f"There is no week “{label}” in the calendar. A week is written like 2026-W07; "
            "most years have 52 of them, some 53.",
            back_to=addresses.week(slug),
        )
    return week


@router.get("/builds/{slug}/close-week")
def after_a_refusal(slug: str, week: str = "") -> Response:
    """A reload of an address that only takes changes leads back to the week."""
    named = week_named(week)
    address = addresses.week(slug, label_of(named)) if named else addresses.week(slug)
    return RedirectResponse(address, status_code=303)


@router.post("/builds/{slug}/close-week")
def close_week(slug: str, services: ServicesOf, week: str = "") -> Response:
    """Keep the build, the plan and the forecast as the close of a week; once for each week."""
    page = page_of(services, slug, PAGE)
    named = _week_of(slug, week)
    if not may_close(named, page.today):
        said = (
            "Only this week and the last one can be closed: what is kept is the build as it is "
            "now. Nothing was changed."
        )
        return show_week(services, page, named, status=409, said=said)
    label = label_of(named)
    outcome = freeze(services, slug, "week", label)
    if outcome == "no build":
        raise missing_build(slug)
    if outcome != "frozen":
        page = page_of(services, slug, PAGE)
        closed = headings_of(services, slug).closed(label)
        said = _closed_already(page, closed) if closed else MOVING
        return show_week(services, page, named, status=409, said=said)
    return RedirectResponse(addresses.week(slug, label), status_code=303)


def _closed_already(page: PageContext, closed: SnapshotHeading) -> str:
    return (
        f"This week was closed {words.moment(closed.taken_at, today=page.today)}, and a week is "
        "closed once: it stays as it was then. What came after counts in the next one."
    )


@router.post("/builds/{slug}/week")
def freeze_baseline(slug: str, services: ServicesOf) -> Response:
    """Freeze the build as it is as the next baseline."""
    outcome = freeze(services, slug, "baseline")
    if outcome == "no build":
        raise missing_build(slug)
    if outcome != "frozen":
        page = page_of(services, slug, PAGE)
        return show_week(services, page, week_of(page.today), status=409, said=MOVING)
    return RedirectResponse(addresses.week(slug), status_code=303)


router.include_router(to_do_router)
router.include_router(log_router)
router.include_router(record_router)
