"""The kept order: what pages say of it, and how a build gets or loses one."""

from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.pages.forms.asking import GoesWith, is_as_asked, seen_of
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words import kept_order as say
from webapp.pages.words.how import How
from webapp.pages.words.how_moves import order_how
from webapp.planning.order.order_that_holds import KeptOrder
from webapp.services.changes import Edit

SEARCHED_SECONDS = 30
"""What one press searches again for."""


def follow(order: KeptOrder) -> Edit[None]:
    """The edit that keeps an order from now on; without keys it goes back to the house rules."""

    def edit(build: BuildInput) -> Edited[None]:
        keys = {task.key for task in build.tasks}
        known = tuple(key for key in order.keys if key in keys)
        kept = replace(order, keys=known) if known else KeptOrder()
        kept_on = build.now.date() if known else None
        return Edited(build=replace(kept.kept_in(build), kept_on=kept_on), made=None)

    return edit


def let_go(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The edit that goes back from the kept order that the form showed to the house rules."""
    if build.kept_order and not is_as_asked(form, [_kept_in(build)]):
        return Edited(build=build, made=None)
    return follow(KeptOrder())(build)


def _kept_in(build: BuildInput) -> GoesWith:
    kept = KeptOrder.of(build), build.kept_on
    return GoesWith(name="kept order", state=kept, now="another order is kept now")


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptView:
    """The kept order that the page follows. `let_go` says what letting go of it wins; `working`
    that what it gains is still worked out; `seen` is what the press to let go of it carries."""

    since: str
    setup_first: str
    against_house: str
    fell_out: str
    set_in: str
    let_go: str
    how: How | None
    working: bool
    seen: str


def kept_view(page: PageContext) -> KeptView | None:
    """What the page says of its kept order; None where the house rules hold."""
    order, plan = page.build.kept_order, page.plan
    if not order or plan is None:
        return None
    known = set(order)
    names = {task.key: task.name for task in page.build.tasks}
    still_open = {task.key for task in page.build.tasks if task.is_open}
    fell_out = [names[key] for key in order if key in names and key not in still_open]
    set_in = [names[key] for key in names if key in still_open and key not in known]
    gain = page.planned.move_of_kept_order()
    since = words.day(page.build.kept_on, today=page.today) if page.build.kept_on else ""
    return KeptView(
        since=since,
        setup_first=say.SETUP_FIRST if page.build.kept_setup_first else "",
        against_house=say.against_house_words(gain.value) if gain.ready else say.GAIN_COMES,
        fell_out=_some(fell_out),
        set_in=_some(set_in),
        let_go=say.let_go_words(gain.value),
        how=order_how("The kept order against the house rules", gain.value) if gain.value else None,
        working=not gain.ready,
        seen=seen_of([_kept_in(page.build)]),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchedAgainView:
    """What searching again would win against the kept order: `text` "" where that is nothing,
    `working` while it is measured."""

    text: str
    working: str
    how: How | None
    seconds: int = SEARCHED_SECONDS


def searched_again_view(page: PageContext) -> SearchedAgainView | None:
    """None where no order is kept."""
    if not page.build.kept_order or page.plan is None:
        return None
    answer = page.planned.searched_again()
    move = answer.value.move if answer.value is not None else None
    text = say.would_win_words(move)
    return SearchedAgainView(
        text=text,
        working="" if answer.ready else say.MEASURE_COMES,
        how=order_how("An order of now against the kept one", move) if move and text else None,
    )


MOST_NAMED = 6


def _some(names: list[str]) -> str:
    """The first few names, and how many more."""
    if len(names) > MOST_NAMED:
        more = f"{len(names) - MOST_NAMED} more"
        return words.listed([*names[:MOST_NAMED], more])
    return words.listed(names)
