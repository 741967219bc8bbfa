"""Deciding a wish: on the figures that were on the screen, or not at all."""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.verbs.wish_decisions import accept
from webapp.build.wish import WISH_WAYS, Wish, WishDecision, WishWay
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext
from webapp.pages.frame.form_change import missing
from webapp.pages.wishes.prices import digest_of, price_waited_for
from webapp.pages.wishes.views import NotDecided
from webapp.pages.words import amounts as words
from webapp.pages.words.faults import said
from webapp.services.changes import Edit, Refused, Stored, change
from webapp.services.planned_build import PlannedBuild
from webapp.services.program import Services

WHY_LENGTH = 2_000


def wish_of(build: BuildInput, slug: str, key: str) -> Wish:
    """The wish with this key, or an answer that names it."""
    found = find_by_key(build.wishes, key)
    if found is None:
        raise missing(slug, Lost(kind="wish", key=key))
    return found


def decide(
    services: Services, page: PageContext, key: str, form: TypedForm
) -> Stored[str] | NotDecided:
    """Decide a wish as the form says; where it is not stored, why nothing was accepted.

    The form carries a digest of the figures it was shown with. Where they are not those of the
    build as it is now, nothing is accepted. The figures are frozen with the decision.
    """
    wish = wish_of(page.build, page.slug, key)
    why = form.long_text("why", "The reason", limit=WHY_LENGTH)
    way: WishWay | None = next((one for one in WISH_WAYS if one == form.typed("way")), None)

    def refused(text: str) -> NotDecided:
        return NotDecided(key=key, text=text, why=form.typed("why"))

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
    if digest_of(figures) != form.typed("figures"):
        return replace(
            refused(
                "Nothing is decided yet: the build has moved on since these figures were shown."
                " Here they are as they are now. Press again if it still holds."
            ),
            price=price,
        )
    decision = WishDecision(way=way, decided_on=page.today, why=why, figures=figures)
    done = change(services, page.slug, _accepting(page, wish, decision))
    if done is None or (isinstance(done, Refused) and done.edited.lost):
        raise missing(page.slug, Lost(kind="wish", key=key))
    if isinstance(done, Stored):
        return done
    return refused(done.edited.made or " ".join(said(fault) for fault in done.new_faults))


def _accepting(page: PageContext, wish: Wish, decision: WishDecision) -> Edit[str]:
    """The edit that accepts a decision on the figures of `page`; why not is made, "" if it is."""

    def edit(build: BuildInput) -> Edited[str]:
        present = find_by_key(build.wishes, wish.key)
        if present is None:
            return Edited(build=build, made="", lost=Lost(kind="wish", key=wish.key))
        if present.decision is not None:
            return Edited(build=build, made=decided_words(page, present), is_refused=True)
        # The sessions that belong to other builds are worked out, not stored.
        shop = replace(build.shop, given=page.build.shop.given)
        version = PlannedBuild(replace(build, shop=shop)).version
        if present != wish or version != page.planned.version:
            changed = (
                "Nothing is decided yet: the build was changed in this very moment."
                " Look at the figures again."
            )
            return Edited(build=build, made=changed, is_refused=True)
        return Edited(build=accept(build, present, decision), made="")

    return edit


def decided_words(page: PageContext, wish: Wish) -> str:
    """What is said to the second of two who decide one wish."""
    assert wish.decision is not None
    day = words.day(wish.decision.decided_on, today=page.today)
    why = f" (“{wish.decision.why}”)" if wish.decision.why else ""
    return (
        f"“{wish.text}” is decided already: {wish.decision.way}, on {day}{why}. Your press changed"
        " nothing. To decide otherwise, take that decision back first."
    )
