"""The four ways of each undecided wish, worked out in the background and kept with the build."""

import hashlib
from dataclasses import dataclass

from webapp.build.wish import WayFigures, Wish
from webapp.pages.frame.context import PageContext
from webapp.pages.wishes.attachment import attachment_faults
from webapp.pages.words import amounts as words
from webapp.pages.words.money import money
from webapp.pages.words.moves import way_words
from webapp.planning.chances.luck import DRAWS
from webapp.planning.chances.wish_prices import PricedWish, price_wish
from webapp.services.background import Answer
from webapp.services.planned_build import PlannedBuild

LONGEST_PRESS_SECONDS = 25.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """A wish priced four ways, or the sentences that say why it can not be."""

    priced: PricedWish | None
    obstacles: tuple[str, ...] = ()


def price_of(page: PageContext, wish: Wish) -> Answer[Price]:
    """The price of a wish if it is at hand, else it is begun."""
    planned = page.planned
    return planned.background.ask(
        _key(page, wish), _version(page, wish), lambda: worked_out(planned, wish), now=page.now
    )


def price_waited_for(page: PageContext, wish: Wish) -> Answer[Price]:
    """The same, waited for: a decision needs the figures as they are now."""
    planned = page.planned
    return planned.background.wait(
        _key(page, wish),
        _version(page, wish),
        lambda: worked_out(planned, wish),
        now=page.now,
        seconds=LONGEST_PRESS_SECONDS,
    )


def _key(page: PageContext, wish: Wish) -> tuple[str, str, str]:
    return (page.slug, "wish", wish.key)


def _version(page: PageContext, wish: Wish) -> tuple[int, int]:
    return (page.planned.version, hash(wish))


def worked_out(planned: PlannedBuild, wish: Wish) -> Price:
    """Price a wish in a faultless build, with what the record says of the estimates."""
    build = planned.planned_input
    obstacles = attachment_faults(build, wish)
    if obstacles:
        return Price(priced=None, obstacles=tuple(fault.text for fault in obstacles))
    priced = price_wish(
        build,
        wish,
        planned.draws.luck(DRAWS),
        factors=planned.factors,
        factor=planned.factor,
        present=planned.forecast_at_hand,
    )
    return Price(priced=priced)


def digest_of(figures: tuple[WayFigures, ...]) -> str:
    """A short digest of the figures as they stand on the screen: days, tenths, money.

    A decision carries it, so that nothing is accepted on figures that were outgrown.
    """
    said = [
        (
            way.way,
            way.likely.date().isoformat() if way.likely else "",
            way.firm.date().isoformat() if way.firm else "",
            way_words(way),
            "" if way.headroom_hours is None else words.tenth_hours(way.headroom_hours),
            words.tenth_hours(way.hours),
            money(way.cost),
        )
        for way in figures
    ]
    return hashlib.sha256(repr(said).encode()).hexdigest()[:16]
