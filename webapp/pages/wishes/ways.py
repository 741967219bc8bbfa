"""The four ways of a wish side by side, in words."""

from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.verbs.wish_tasks import sized
from webapp.build.wish import WayFigures, Wish
from webapp.pages.frame.context import PageContext
from webapp.pages.wishes.prices import Price, digest_of, price_of
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How
from webapp.pages.words.how_moves import ways_how
from webapp.pages.words.missing import missing_words
from webapp.pages.words.money import money
from webapp.pages.words.moves import way_note, way_words
from webapp.pages.words.the_end import of_the_end
from webapp.pages.words.wishes import assumed_words
from webapp.planning.chances.luck import DRAWS
from webapp.planning.chances.wish_prices import BEFORE_FIRST_START
from webapp.services.background import Answer

PRICED_ON_PAGE = 6
"""So many undecided wishes are priced on the page itself; the older ones on their own page."""
FAULTY = "Nothing can be priced while faults stand in the way of a plan."
WAY_NOTES = {
    "fit now": "before first start",
    "rough in": "provision now, finish after first start",
    "fit later": "after first start",
    "let go": "not at all",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class WayColumn:
    """One way: what it is called, what it means, and its figures in words."""

    way: str
    name: str
    note: str
    move: str
    move_note: str
    likely_day: str
    firm_day: str
    headroom: str
    hours: str
    money: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FourWays:
    """What stands under a wish: the table once it is worked out, or what stands in the way.

    `shown` is the digest of the figures, carried by the decision.
    """

    key: str
    text: str
    columns: tuple[WayColumn, ...]
    assumed: tuple[str, ...]
    obstacles: tuple[str, ...]
    working: str
    shown: str
    odds: str
    has_headroom: bool
    no_date: str
    """Why no move can be told, "" where it can."""
    how: How | None


def four_ways(page: PageContext, wish: Wish, answer: Answer[Price] | None = None) -> FourWays:
    """The four ways of an undecided wish as far as they are worked out."""
    if page.faults or page.plan is None:
        return _ways(page, wish, obstacles=(FAULTY,))
    answer = answer or price_of(page, wish)
    assumed = assumed_words(sized(page.build, wish))
    if not answer.ready:
        return _ways(page, wish, assumed=assumed, working=_progress(page, wish))
    if answer.value is None:
        return _ways(page, wish, obstacles=("It could not be worked out. Size the wish again.",))
    if answer.value.priced is None:
        return _ways(page, wish, obstacles=answer.value.obstacles)
    return _ways(page, wish, assumed=assumed, figures=answer.value.priced.ways)


def _ways(
    page: PageContext,
    wish: Wish,
    *,
    assumed: tuple[str, ...] = (),
    figures: tuple[WayFigures, ...] = (),
    obstacles: tuple[str, ...] = (),
    working: str = "",
) -> FourWays:
    return FourWays(
        key=wish.key,
        text=wish.text,
        columns=way_columns(page, figures),
        assumed=assumed,
        obstacles=obstacles,
        working=working,
        shown=digest_of(figures) if figures else "",
        odds=words.odds(page.build.confidence),
        no_date=missing_words(page.build),
        how=_how(figures),
        has_headroom=any(way.headroom_hours is not None for way in figures),
    )


def _how(figures: tuple[WayFigures, ...]) -> How | None:
    """How the moves came about; None where there are none."""
    moved = [
        (
            words.sentence(one.way),
            one.move_days,
            one.move_error_days or 0.0,
            one.moved_share or 0.0,
        )
        for one in figures
        if one.way in BEFORE_FIRST_START and one.move_days is not None
    ]
    return ways_how(moved, draws=DRAWS) if moved else None


def undecided_wishes(build: BuildInput) -> tuple[Wish, ...]:
    """The undecided wishes, the last logged first."""
    return tuple(wish for wish in reversed(build.wishes) if wish.decision is None)


def _progress(page: PageContext, wish: Wish) -> str:
    """ "Working it out: 2 of 3." """
    asked = undecided_wishes(page.build)[:PRICED_ON_PAGE]
    if wish not in asked or len(asked) == 1:
        return "Working it out."
    ready = sum(price_of(page, one).ready for one in asked)
    return f"Working it out: {ready} of {len(asked)} done."


def way_columns(page: PageContext, figures: tuple[WayFigures, ...]) -> tuple[WayColumn, ...]:
    """The figures of each way in words; "" where there are none."""
    return tuple(
        WayColumn(
            way=one.way,
            name=words.sentence(one.way),
            note=of_the_end(WAY_NOTES[one.way]),
            move=way_words(one),
            move_note=way_note(one),
            likely_day=words.day(one.likely, today=page.today) if one.likely else "no date",
            firm_day=words.day(one.firm, today=page.today) if one.firm else "no date",
            headroom=words.tenth_hours(one.headroom_hours)
            if one.headroom_hours is not None
            else "",
            hours=words.tenth_hours(one.hours),
            money=money(one.cost),
        )
        for one in figures
    )
