"""What would win a week, in words: each lever with what it asks, wins and leads to."""

from dataclasses import dataclass

from webapp.build.by_key import get_by_key
from webapp.build.time.shop_weeks import later_week_on
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How
from webapp.pages.words.how_moves import levers_how
from webapp.pages.words.levers import asks_words, firm_by_words, lever_words
from webapp.pages.words.moves import gain_words
from webapp.planning.chances.levers import Lever
from webapp.services.background import Answer
from webapp.services.levers_found import Levers


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverLine:
    """One lever. `press` is the button that leads to it."""

    name: str
    note: str
    asks: str
    days: str
    firm: str
    press: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverGroup:
    title: str
    lines: tuple[LeverLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WinningView:
    """`turned` is the other way round: what it takes to be firm by the wanted-by date."""

    groups: tuple[LeverGroup, ...]
    turned: str
    working: bool
    nothing: bool
    how: How | None


def winning_view(page: PageContext, answer: Answer[Levers]) -> WinningView:
    """The levers as far as they are worked out."""
    found = answer.value
    levers = found.levers if found is not None else ()
    groups = [
        LeverGroup(title=title, lines=tuple(_line(page, one) for one in some))
        for title, some in (
            ("Costs no hour of yours", [one for one in levers if not one.costs_hours]),
            ("Costs hours", [one for one in levers if one.costs_hours]),
        )
        if some
    ]
    turned = ""
    if found is not None and found.firm_by is not None and page.build.wanted_by is not None:
        day = words.day(page.build.wanted_by, today=page.today)
        turned = firm_by_words(found.firm_by.more_hours, day)
    return WinningView(
        groups=tuple(groups),
        turned=turned,
        working=not answer.ready,
        nothing=answer.ready and not levers,
        how=_how(page, levers[0]) if levers else None,
    )


def _how(page: PageContext, lever: Lever) -> How:
    return levers_how(lever_words(page.build, lever, today=page.today).name, lever.move)


def _line(page: PageContext, lever: Lever) -> LeverLine:
    said = lever_words(page.build, lever, today=page.today)
    return LeverLine(
        name=said.name,
        note=said.note,
        asks=asks_words(page.build, lever),
        days=gain_words(lever.days_won, lever.move.error_days),
        firm=f"firm {words.day(lever.firm_at, today=page.today)}",
        press=said.press,
        address=_address(page, lever),
    )


def _address(page: PageContext, lever: Lever) -> str:
    slug = page.slug
    if lever.kind == "wish":
        return addresses.wish(slug, get_by_key(page.build.wishes, lever.what).key)
    if lever.kind == "part":
        return addresses.part(slug, lever.what)
    if lever.kind in ("outside", "offer"):
        return addresses.task(slug, lever.what)
    if lever.kind == "order":
        return addresses.tightening_on_path(slug)
    if lever.kind == "attendance":
        return addresses.record(slug)
    later = later_week_on(page.build.shop, page.today)
    if later is not None:
        return f"{addresses.shop(slug, 'later')}?week={later.from_on.isoformat()}#t-week"
    return f"{addresses.shop(slug)}#t-week"
