"""The house rules: their names, their price in days, and trying and keeping others."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.build.house_rules import HOUSE_RULES
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.house_rules import RULE_NAMES, rules_told
from webapp.pages.words.how import How
from webapp.pages.words.how_moves import rules_how
from webapp.pages.words.moves import gain_words
from webapp.pages.words.the_end import of_the_end, the_end
from webapp.planning.chances.moves import Move
from webapp.planning.chances.rule_prices import NO_PRICES, Rules, RulesPrice, switched
from webapp.services.changes import Edit

LOOK_AGAIN = "Look again at what those you tried do, and press anew to let them hold."


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleLine:
    """One rule that can be switched off. `switch` is the address with it turned the other way,
    `sooner` with it one place further up, "" for the first and for those that are off."""

    name: str
    price: str
    without: str
    is_on: bool
    switch: str
    sooner: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """The order tried by other rules, against the one that holds. `rules` are to be kept by a
    press, `held` those that hold while it is offered."""

    told: str
    first_start: str
    move: str
    again: str
    """Where it is asked for again while the move is worked out, "" once it is."""
    rules: Rules
    held: Rules
    back: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """An order of the rules that brings first start sooner, and where it is tried."""

    text: str
    at: str


def rules_of(asked: Sequence[str], held: Rules) -> Rules:
    """The known rules among those asked for, once each; where nothing is asked, those that hold."""
    known = tuple(dict.fromkeys(rule for rule in asked if rule in HOUSE_RULES))
    return known if asked else held


def keep_rules(asked: Sequence[str], shown: Sequence[str]) -> Edit[str]:
    """The edit that lets rules hold from now on, unless others hold than were shown: `made` says
    so then."""

    def edit(build: BuildInput) -> Edited[str]:
        held = build.house_rules
        rules = rules_of(asked, held)
        if rules_of(shown, held) != held and rules != held:
            wrong = f"Other rules hold by now: {rules_told(held)}. {LOOK_AGAIN}"
            return Edited(build=build, made=wrong, is_refused=True)
        return Edited(build=replace(build, house_rules=rules), made="")

    return edit


def rule_lines(page: PageContext, tried: Rules) -> tuple[RuleLine, ...]:
    """Every rule that can be switched off, those that are on in their order first."""
    prices = _by_rule(page)
    missing = "no date to measure by" if page.planned.rule_prices().ready else "being worked out"
    lines = []
    off = tuple(rule for rule in HOUSE_RULES if rule not in tried)
    for at, rule in enumerate((*tried, *off)):
        price = prices.get(rule)
        lines.append(
            RuleLine(
                name=of_the_end(RULE_NAMES[rule]),
                price=price_words(price.move, is_on=_holds(page, rule)) if price else missing,
                without=words.day(price.likely, today=page.today) if price else "",
                is_on=rule in tried,
                switch=addresses.order(page.slug, switched(tried, rule)),
                sooner=addresses.order(page.slug, _sooner(tried, at))
                if 0 < at < len(tried)
                else "",
            )
        )
    return tuple(lines)


def _by_rule(page: PageContext) -> dict[str, RulesPrice]:
    """The price of each rule turned the other way than it holds."""
    prices = page.planned.rule_prices().value or NO_PRICES
    return dict(zip(HOUSE_RULES, prices.switched, strict=False))


def _holds(page: PageContext, rule: str) -> bool:
    return rule in page.build.house_rules


def _sooner(rules: Rules, at: int) -> Rules:
    """The rules with the one at a place a place further up."""
    return (*rules[: at - 1], rules[at], rules[at - 1], *rules[at + 1 :])


def how_of_rules(page: PageContext) -> How | None:
    """How the prices came about, with the rule that makes the largest difference as example."""
    on = {rule: price for rule, price in _by_rule(page).items() if _holds(page, rule)}
    largest = max(on.items(), key=lambda item: abs(item[1].move.days), default=None)
    if largest is None:
        return None
    return rules_how(of_the_end(RULE_NAMES[largest[0]]), largest[1].move)


def price_words(move: Move, *, is_on: bool = True) -> str:
    """ "saves 2 days", "costs about 0.5 days", "makes no difference".

    `move` is that of turning the rule the other way than it holds.
    """
    if words.number(abs(move.days), 1) == "0":
        return "makes no difference"
    days = gain_words(move.days, move.error_days)
    saves = (move.days > 0) == is_on
    return f"{'saves' if saves else 'costs'} {days}"


def offer_of(page: PageContext) -> Offer | None:
    """The soonest order of all rules, where it is surely sooner than the one that holds."""
    best = (page.planned.rule_prices().value or NO_PRICES).soonest
    if best is None or words.number(abs(best.move.days), 1) == "0":
        return None
    return Offer(
        text=f"Sooner by {gain_words(best.move.days, best.move.error_days)} in the mean: "
        f"{rules_told(best.rules)}.",
        at=addresses.order(page.slug, best.rules),
    )


def trial_of(page: PageContext, tried: Rules) -> Trial | None:
    """What other rules do to first start; None where those that hold are looked at."""
    held = page.build.house_rules
    if tried == held:
        return None
    answer = page.planned.tried_rules(tried)
    move = "" if answer.ready else f"What that does to {the_end()} is being worked out."
    if answer.value is not None:
        move = _move_words(answer.value.price.move)
    return Trial(
        told=rules_told(tried),
        first_start=words.day(answer.value.price.likely, today=page.today) if answer.value else "",
        move=move,
        again="" if answer.ready else addresses.order(page.slug, tried),
        rules=tried,
        held=held,
        back=addresses.order(page.slug),
    )


def _move_words(move: Move) -> str:
    if words.number(abs(move.days), 1) == "0":
        return f"In the mean {the_end()} is where it is by the rules that hold."
    side = "later" if move.days > 0 else "sooner"
    return f"In the mean that is {gain_words(move.days, move.error_days)} {side}."
