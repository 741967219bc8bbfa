"""What the money page shows, in strings."""

from collections.abc import Iterable
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.money import (
    MoneyGrowth,
    MoneyItem,
    MoneyState,
    Sums,
    cents_of,
    money_growth,
    money_items,
    offers_of,
    sums_by,
    sums_of,
)
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How
from webapp.pages.words.how_money import growth_how, limit_how, saved_how, sums_how
from webapp.pages.words.money import cents
from webapp.pictures.dipstick import Dipstick, dipstick

SHOWN_AT_ONCE = 6
"""So many of a list stand open, the rest is folded."""
STATE_WORDS: dict[MoneyState, str] = {
    "spent": "paid",
    "committed": "ordered, not paid",
    "to come": "to come",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SumsLine:
    """A subsystem, a wish or the whole: its three sums and their total."""

    name: str
    spent: str
    committed: str
    to_come: str
    total: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemLine:
    """One thing that costs money; `can_pay`: one press says that it was paid as estimated."""

    kind: str
    key: str
    name: str
    address: str
    sum: str
    note: str
    can_pay: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferLine:
    """Work that could be had done, and what an hour of it saved costs."""

    name: str
    address: str
    sum: str
    days: str
    hours: str
    an_hour: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MoneyView:
    """`unknown` says how many things have no price, "" where all have."""

    whole: SumsLine
    sums_how: How
    unknown: str
    growth: str
    growth_how: How | None
    limit: str
    limit_how: How | None
    dip: Dipstick | None
    subsystems: tuple[SumsLine, ...]
    wishes: tuple[SumsLine, ...]
    committed: tuple[ItemLine, ...]
    to_come: tuple[ItemLine, ...]
    spent: tuple[ItemLine, ...]
    offers: tuple[OfferLine, ...]
    saved_how: How | None


def money_view(page: PageContext, baseline: BuildInput | None, frozen: str) -> MoneyView:
    """The money of a build; `frozen` names the baseline that its first sum is from."""
    build = page.build
    items = money_items(build)
    sums = sums_of(items)
    growth = money_growth(baseline, build) if baseline is not None else None
    unknown = sum(not item.is_known for item in items)
    offers = _offers(page)
    return MoneyView(
        whole=_line("The build", sums),
        sums_how=sums_how(sums, len(items), unknown),
        unknown=f"{words.count(unknown, 'part has', 'parts have')} no price." if unknown else "",
        growth=_growth_words(growth, frozen) if growth is not None else "",
        growth_how=growth_how(growth) if growth is not None else None,
        limit=_limit_words(build, sums),
        limit_how=None
        if build.money_limit is None
        else limit_how(limit=cents_of(build.money_limit), sums=sums),
        dip=_dip(build, sums),
        subsystems=_by_subsystem(build, items),
        wishes=_by_wish(build, items),
        committed=_items(page, items, "committed"),
        to_come=_items(page, items, "to come"),
        spent=_items(page, items, "spent"),
        offers=offers,
        saved_how=_saved_how(build),
    )


def _line(name: str, sums: Sums) -> SumsLine:
    return SumsLine(
        name=name,
        spent=cents(sums.spent),
        committed=cents(sums.committed),
        to_come=cents(sums.to_come),
        total=cents(sums.total),
    )


def _by_subsystem(build: BuildInput, items: Iterable[MoneyItem]) -> tuple[SumsLine, ...]:
    """In working order; what belongs to none comes last."""
    found = sums_by(items, lambda item: item.subsystem)
    order = sorted(build.subsystems, key=lambda one: one.order)
    named = [_line(one.name, found[one.key]) for one in order if one.key in found]
    known = {one.key for one in build.subsystems}
    rest = [sums for key, sums in found.items() if key not in known]
    return (*named, *(_line("no subsystem", sums) for sums in rest))


def _by_wish(build: BuildInput, items: Iterable[MoneyItem]) -> tuple[SumsLine, ...]:
    found = sums_by(items, lambda item: item.wish)
    return tuple(_line(one.text, found[one.key]) for one in build.wishes if one.key in found)


def _growth_words(growth: MoneyGrowth, frozen: str) -> str:
    text = f"The first sum was {cents(growth.first)} ({frozen}); it is {cents(growth.now)} now"
    if growth.growth is None:
        return f"{text}."
    more = "more" if growth.now >= growth.first else "less"
    return f"{text}, {words.number(abs(growth.growth) * 100, 1)} % {more}."


def _limit_words(build: BuildInput, sums: Sums) -> str:
    if build.money_limit is None:
        return ""
    limit = cents_of(build.money_limit)
    left = limit - sums.total
    if left < 0:
        return f"The build comes to {cents(-left)} more than the limit of {cents(limit)}."
    return f"{cents(left)} are left of the limit of {cents(limit)}."


def _dip(build: BuildInput, sums: Sums) -> Dipstick | None:
    """What is left of the limit: from MAX down what is spent, ordered and to come took it."""
    if build.money_limit is None:
        return None
    left = cents_of(build.money_limit) - sums.total
    took = [max(0.0, one / 100) for one in (sums.spent, sums.committed, sums.to_come)]
    return dipstick(left / 100, took, title=_limit_words(build, sums))


def _items(
    page: PageContext, items: Iterable[MoneyItem], state: MoneyState
) -> tuple[ItemLine, ...]:
    """The things in one state, the largest sum first."""
    there = sorted((one for one in items if one.state == state), key=lambda one: -one.cents)
    return tuple(
        ItemLine(
            kind=one.kind,
            key=one.key,
            name=one.name,
            address=_address(page.slug, one),
            sum=cents(one.cents) if one.is_known else "no price",
            note=_note(one),
            can_pay=one.paid is None and one.estimate is not None,
        )
        for one in there
    )


def _note(item: MoneyItem) -> str:
    what = {"part": "part", "task": "work", "wish": "other money of the wish"}[item.kind]
    if item.paid is not None and item.estimate is not None and item.paid != item.estimate:
        return f"{what}, estimated {cents(item.estimate)}"
    return what


def _address(slug: str, item: MoneyItem) -> str:
    if item.kind == "part":
        return addresses.part(slug, item.key)
    return addresses.task(slug, item.key) if item.kind == "task" else addresses.wish(slug, item.key)


def _offers(page: PageContext) -> tuple[OfferLine, ...]:
    build = page.build
    names = {task.key: task.name for task in build.tasks}
    return tuple(
        OfferLine(
            name=names[one.task],
            address=addresses.task(page.slug, one.task),
            sum=cents(one.cents),
            days=words.days(one.days),
            hours=words.tenth_hours(one.hours),
            an_hour="" if one.cents_an_hour is None else cents(one.cents_an_hour),
        )
        for one in offers_of(build)
    )


def _saved_how(build: BuildInput) -> How | None:
    offers = [one for one in offers_of(build) if one.cents_an_hour is not None]
    if not offers:
        return None
    task = next(task for task in build.tasks if task.key == offers[0].task)
    return saved_how(task.name, offers[0], own=cents_of(task.cost or 0.0))
