"""Deciding a wish, and taking it back: on the figures that were on the screen, or not at all."""

from dataclasses import replace

from webapp.build.build_input import WISH_WAYS, BuildInput, Wish, WishDecision, WishWay
from webapp.build.verbs.wish_decisions import accept, take_back
from webapp.pages import addresses
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, Services
from webapp.pages.frame.errors import Missing
from webapp.pages.wishes.prices import digest_of, price_waited_for
from webapp.pages.wishes.views import Refused
from webapp.pages.words import amounts as words
from webapp.services.changes import change_build
from webapp.services.plan_cache import PlannedBuild

WHY_LENGTH = 2_000


class _NotDecided(Exception):  # noqa: N818  ends the transaction, nothing went wrong
    """The decision can not be stored; `text` says why."""

    def __init__(self, text: str) -> None:
        self.text = text


def wish_of(build: BuildInput, slug: str, key: str) -> Wish:
    """The wish with this key, or an answer that names it."""
    found = next((wish for wish in build.wishes if wish.key == key), None)
    if found is None:
        raise Missing(
            text=f"There is no wish “{key[:60]}” in this build. It may have been removed; the"
            " wishes there are stand on their page.",
            back_to=addresses.wishes(slug),
        )
    return found


def decide(services: Services, page: PageContext, key: str, form: TypedForm) -> Refused | None:
    """Decide a wish as the form says; None when it is stored, else why nothing was accepted.

    The form carries a digest of the figures it was shown with. Where they are not those of the
    build as it is now, nothing is accepted. The figures are frozen with the decision.
    """
    wish = wish_of(page.build, page.slug, key)
    why = form.long_text("why", "The reason", limit=WHY_LENGTH)
    way: WishWay | None = next((one for one in WISH_WAYS if one == form.typed("way")), None)

    def refused(text: str) -> Refused:
        return Refused(key=key, text=text, why=form.typed("why"))

    if wish.decision is not None:
        return refused(decided_words(page, wish))
    if way is None:
        return refused("That is none of the four ways. Press one of them.")
    if form.faults:
        return refused(" ".join(fault.text for fault in form.faults))
    if page.faults:
        return refused("Nothing can be decided while faults stand in the way of a plan.")
    price = price_waited_for(page, wish)
    if price.value is None or price.value.priced is None:
        obstacles = price.value.obstacles if price.value else ()
        rest = " ".join(obstacles) or "The figures are still being worked out. Press again."
        return refused(f"Nothing is decided yet. {rest}")
    figures = price.value.priced.ways
    if digest_of(figures) != form.typed("shown"):
        return replace(
            refused(
                "Nothing is decided yet: the build has moved on since these figures were shown."
                " Here they are as they are now. Press again if it still holds."
            ),
            price=price,
        )
    decision = WishDecision(way=way, decided_on=page.today, why=why, figures=figures)
    priced_on = page.planned

    def edit(build: BuildInput) -> BuildInput:
        present = wish_of(build, page.slug, key)
        if present.decision is not None:
            raise _NotDecided(decided_words(page, present))
        if present != wish or PlannedBuild(build, page.clock).version != priced_on.version:
            raise _NotDecided(
                "Nothing is decided yet: the build was changed in this very moment."
                " Look at the figures again."
            )
        return accept(build, present, decision)

    try:
        faults = change_build(services, page.slug, edit)
    except _NotDecided as outcome:
        return refused(outcome.text)
    if faults:
        return refused(" ".join(fault.text for fault in faults))
    return None


def decided_words(page: PageContext, wish: Wish) -> str:
    """What is said to the second of two who decide one wish."""
    assert wish.decision is not None
    day = words.day(wish.decision.decided_on, today=page.today)
    why = f" (“{wish.decision.why}”)" if wish.decision.why else ""
    return (
        f"“{wish.text}” is decided already: {wish.decision.way}, on {day}{why}. Your press changed"
        " nothing. To decide otherwise, take that decision back first."
    )


def take_back_decision(build: BuildInput, slug: str, key: str) -> BuildInput | str:
    """The build with a decision undone, or the sentence why it can not be."""
    wish = wish_of(build, slug, key)
    if wish.decision is None:
        return f"“{wish.text}” is not decided, so there is nothing to take back."
    after = take_back(build, wish)
    if after is None:
        return (
            f"“{wish.text}” can not be taken back: work on it is begun. Set what is left of it"
            " aside on its task, if it is not to go on."
        )
    return after
