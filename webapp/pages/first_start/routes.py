"""First start over HTTP: what is open, a stage, a circuit; the forms stand beside it."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from webapp.pages import addresses
from webapp.pages.first_start import check_routes, day_routes, list_routes, sheet
from webapp.pages.first_start.at_hand import framed
from webapp.pages.first_start.views import (
    HOLES_SHOWN,
    circuit_list,
    hole_address,
    hole_name,
    open_of,
    overview,
    stage_list,
)
from webapp.pages.forms.posted import page_number
from webapp.pages.frame.context import ServicesOf
from webapp.pages.frame.errors import Missing, missing_thing
from webapp.pages.frame.notice import notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.words.first_start import open_words
from webapp.pages.words.start_page import HOLES
from webapp.pages.words.the_end import capital_end

router = APIRouter(include_in_schema=False)
for _of in (check_routes, list_routes, day_routes, sheet):
    router.include_router(_of.router)


@router.get("/builds/{slug}/first-start")
def first_start(slug: str, services: ServicesOf, since: str = "") -> HTMLResponse:
    """May I turn the key: all that is open, by kind, by stage and by circuit."""
    page, hand = framed(services, slug)
    return render(
        "first_start/overview.html",
        title=capital_end(),
        page=page,
        view=overview(hand),
        notice=notice_of(services, page, since, addresses.first_start(slug)),
    )


@router.get("/builds/{slug}/first-start/stage")
def stage(
    slug: str, services: ServicesOf, key: str = "", page: str = "", signed: str = ""
) -> HTMLResponse:
    """The checks of a stage, in the order they are walked."""
    frame, hand = framed(services, slug)
    found = next((one for one in hand.standing.stages if one.stage.key == key), None)
    if found is None:
        raise missing_thing(slug, "stage", key[:60])
    return render(
        "first_start/list.html",
        title=found.stage.title,
        page=frame,
        view=stage_list(hand, found, page_number(page)),
        known=open_words(hand.standing),
        said=check_routes.said_of(hand, signed),
    )


@router.get("/builds/{slug}/first-start/circuit")
def circuit(slug: str, services: ServicesOf, key: str = "") -> HTMLResponse:
    """The checks of a circuit, those that are offered among them."""
    page, hand = framed(services, slug)
    if key not in dict(hand.checks.groups):
        raise missing_thing(slug, "circuit of the list", key[:60])
    return render(
        "first_start/list.html",
        title=key.capitalize(),
        page=page,
        view=circuit_list(hand, key),
        known=open_words(hand.standing),
        said=None,
    )


@router.get("/builds/{slug}/first-start/open")
def every_hole(slug: str, services: ServicesOf, kind: str = "") -> HTMLResponse:
    """Everything of one kind that is open."""
    page, hand = framed(services, slug)
    if kind not in HOLES:
        raise Missing(
            f"Nothing that may be open is called “{kind[:60]}”. All that is open stands on "
            f"{capital_end()}, kind by kind.",
            back_to=addresses.first_start(slug),
        )
    holes = open_of(hand, kind)
    return render(
        "first_start/open.html",
        title=f"What is open: {HOLES[kind].lower()}",
        page=page,
        lines=[(hole_name(one), one.why, hole_address(slug, one)) for one in holes[:HOLES_SHOWN]],
        more=max(0, len(holes) - HOLES_SHOWN),
        known=open_words(hand.standing),
    )
