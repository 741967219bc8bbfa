"""What the page of wishes shows."""

from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.three_point import ThreePoint
from webapp.build.verbs.wish_tasks import sized
from webapp.build.wish import Wish, WishSize
from webapp.pages.forms.typed_values import number_text
from webapp.pages.frame.context import PageContext
from webapp.pages.wishes.decided import DecidedView, decided_view
from webapp.pages.wishes.headroom_view import HeadroomView, headroom_view
from webapp.pages.wishes.prices import Price
from webapp.pages.wishes.taken import Taken
from webapp.pages.wishes.ways import PRICED_ON_PAGE, FourWays, four_ways, undecided_wishes
from webapp.pages.words import amounts as words
from webapp.services.background import Answer

UNDECIDED_SHOWN = 8
"""So many of the last logged wishes stand open on the page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UndecidedWish:
    """One undecided wish. `ways` is None where it is left to the wish's own page."""

    key: str
    text: str
    facts: str
    ways: FourWays | None


@dataclass(frozen=True, slots=True, kw_only=True)
class NotDecided:
    """A decision that was not accepted: on which wish, why, and what was typed with it."""

    key: str
    text: str
    why: str
    price: Answer[Price] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WishesView:
    """The first `shown` of the undecided stand open, those logged before them folded."""

    headroom: HeadroomView
    undecided: tuple[UndecidedWish, ...]
    shown: int
    decided: DecidedView
    percent: str


def wishes_view(page: PageContext, taken: Taken, refused: NotDecided | None = None) -> WishesView:
    """The page; undecided wishes the last logged first, the one refused before all others."""
    undecided = list(undecided_wishes(page.build))
    if refused is not None:
        undecided.sort(key=lambda wish: wish.key != refused.key)
    return WishesView(
        headroom=headroom_view(page, taken),
        undecided=tuple(
            _undecided(page, wish, place, refused) for place, wish in enumerate(undecided)
        ),
        shown=UNDECIDED_SHOWN,
        decided=decided_view(page),
        percent=number_text(page.build.confidence * 100),
    )


def _undecided(
    page: PageContext, wish: Wish, place: int, refused: NotDecided | None
) -> UndecidedWish:
    price = refused.price if refused is not None and refused.key == wish.key else None
    return UndecidedWish(
        key=wish.key,
        text=wish.text,
        facts=wish_facts(page, wish),
        ways=four_ways(page, wish, price) if place < PRICED_ON_PAGE else None,
    )


def wish_facts(page: PageContext, wish: Wish) -> str:
    """ "Electrical · logged Thu 5 February · an evening · after the loom · 140 for parts"."""
    build = page.build
    names = {one.key: one.name for one in build.subsystems}
    tasks = {task.key: task.name for task in build.tasks}
    facts = [names[wish.subsystem]] if wish.subsystem in names else []
    facts.append(f"logged {words.day(wish.logged_on, today=page.today)}")
    facts.append(size_words(build, wish))
    if wish.after in tasks:
        facts.append(f"after {tasks[wish.after]}")
    if wish.before in tasks:
        facts.append(f"before {tasks[wish.before]}")
    if wish.parts:
        facts.append(words.count(len(wish.parts), "part"))
    return " · ".join(facts)


def size_words(build: BuildInput, wish: Wish) -> str:
    """The size that was said: "an evening", "2 to 5 h, likely 3 h", "not sized yet".

    Where one number of hours was said, with the range that is assumed round it.
    """
    if wish.hours is not None:
        of = sized(build, wish)
        return range_words(of.hours, assumed=of.hours_ranged)
    size = find_by_key(build.wish_sizes, wish.size)
    return size.name if size else "not sized yet"


def range_words(hours: ThreePoint, *, assumed: bool = False) -> str:
    """Three hours as a range: "1.5 to 5 h, likely 3 h"; an assumed one from an hour on to
    half an hour.
    """
    if hours.optimistic == hours.pessimistic:
        return words.hours(hours.most_likely)
    likely = words.hours(hours.most_likely)
    if assumed and hours.optimistic >= 1:
        low, high = (round(2 * end) / 2 for end in (hours.optimistic, hours.pessimistic))
        return f"about {words.number(low)} to {words.hours(high)}, assumed, likely {likely}"
    said = "assumed, likely" if assumed else "likely"
    return f"{words.number(hours.optimistic)} to {words.hours(hours.pessimistic)}, {said} {likely}"


def size_choices(sizes: tuple[WishSize, ...]) -> tuple[tuple[str, str], ...]:
    """The quick sizes to pick from, each with its range."""
    named = tuple((size.key, f"{size.name}: {range_words(size.hours)}") for size in sizes)
    return (("", "not sized"), *named)
