"""The sheet: the day on one page with every caution and fields for the readings; the whole list.

A caution is never what is left out to fit. `static/start.css` sets it small in two columns; the
heights belong together with `tests/browser/test_first_start.py`, which counts the pages.
"""

from dataclasses import dataclass

from fastapi import APIRouter
from fastapi.responses import Response

from webapp.first_start.list_facts import facts_of
from webapp.first_start.standing import CheckStanding
from webapp.pages.first_start.at_hand import AtHand, on_the_day
from webapp.pages.first_start.check_view import CheckViews
from webapp.pages.first_start.day_step import LAST_STAGE
from webapp.pages.first_start.day_view import StopLines, road_words, stop_lines
from webapp.pages.frame.context import ServicesOf
from webapp.pages.frame.rendering import render
from webapp.pages.words import start_page as words
from webapp.pages.words.amounts import day
from webapp.pages.words.first_start import open_words

MOST_AT_EIGHT_POINTS = 52
"""So many checks of a day fit one page at 8 pt; with more, unanswered ones, it is set smaller."""
router = APIRouter(include_in_schema=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetCheck:
    """A check on paper. `fields`: what is written in, each with its unit and usual range."""

    number: str
    text: str
    caution: str
    fields: tuple[tuple[str, str], ...]
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStage:
    title: str
    note: str
    checks: tuple[SheetCheck, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetView:
    """One sheet. `aborts` stand on the whole list only: key words, and what is done first."""

    name: str
    printed: str
    stop: StopLines
    known: str
    aside: tuple[str, ...]
    stages: tuple[SheetStage, ...]
    aborts: tuple[tuple[str, str], ...]
    road: str
    is_whole: bool
    is_dense: bool


def sheet_view(hand: AtHand, *, whole: bool) -> SheetView:
    """The day, or (`whole`) every stage."""
    views = CheckViews(hand)
    places = [stage.stage.key for stage in hand.standing.stages]
    begin = 0 if whole else places.index(facts_of(hand.checks).place_stage)
    watch = facts_of(hand.checks).fire_watch
    stages = []
    for number, stage in enumerate(hand.standing.stages[begin:], start=begin + 1):
        kept = [one for one in stage.checks if one.is_kept]
        if not whole and stage.stage.key == LAST_STAGE:
            kept = [one for one in kept if one.check.key == watch]
        if kept:
            title = f"{number}. {stage.stage.title}"
            lines = tuple(_on_paper(views, one, hand) for one in kept)
            stages.append(SheetStage(title=title, note=stage.stage.note, checks=lines))
    aborts = hand.checks.aborts_for(hand.standing.answers) if whole else ()
    return SheetView(
        name=hand.build.name,
        printed=f"{day(hand.at, today=hand.today)} {hand.at.year}",
        stop=stop_lines(hand),
        known=open_words(hand.standing),
        aside=tuple(
            f"{one.check.text} {words.state_words(one, today=hand.today)}"
            for one in hand.standing.set_aside
        ),
        stages=tuple(stages),
        aborts=tuple((one.notice, one.action) for one in aborts),
        road=road_words(hand) or (words.WATER if hand.checks.key == "boat" else words.ROAD),
        is_whole=whole,
        is_dense=whole or sum(len(stage.checks) for stage in stages) > MOST_AT_EIGHT_POINTS,
    )


def _on_paper(views: CheckViews, one: CheckStanding, hand: AtHand) -> SheetCheck:
    check = one.check
    is_said = one.state in ("stands", "set aside", "figures missing")
    return SheetCheck(
        number=views.of(one).number,
        text=check.text,
        caution=check.caution.removesuffix(words.LOCAL_CODES).strip(),
        fields=tuple((wanted.name, f"{wanted.unit}; {wanted.usual}") for wanted in check.readings),
        state=words.state_words(one, today=hand.today) if is_said else "",
    )


@router.get("/builds/{slug}/first-start/sheet")
def sheet(slug: str, services: ServicesOf, whole: str = "") -> Response:
    """The day on one page; with `whole` the list, printed on both sides."""
    hand = on_the_day(services, slug)
    return render(
        "first_start/sheet.html",
        title="The sheet",
        slug=slug,
        view=sheet_view(hand, whole=bool(whole)),
    )
