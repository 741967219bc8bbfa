"""The house rules: their names, their price in days, and trying the order without them."""

import datetime as dt
from dataclasses import dataclass

from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How
from webapp.pages.words.how_moves import rules_how
from webapp.pages.words.moves import gain_words
from webapp.pages.words.the_end import of_the_end
from webapp.planning.chances.moves import Move
from webapp.planning.simulator.house_rules import OPTIONAL_RULES, HouseRules

RULE_NAMES = {
    "working_order": "Subsystems in working order",
    "setup_out": "The setup that is already out",
    "big_first": "The biggest piece claims its space first",
    "longest_way": "The longest way still to go to first start",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleLine:
    """One rule that can be switched off. `switch` is the address with it turned the other way."""

    name: str
    price: str
    without: str
    is_on: bool
    switch: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """The order tried without some rules, against the one that holds."""

    without: tuple[str, ...]
    first_start: str
    move: str
    back: str


def rules_off(asked: list[str]) -> tuple[str, ...]:
    """The known rules among those asked for, once each; others are left out."""
    return tuple(rule for rule in OPTIONAL_RULES if rule in asked)


def house_rules(off: tuple[str, ...]) -> HouseRules:
    rules = HouseRules()
    for rule in off:
        rules = rules.without(rule)
    return rules


def rule_lines(page: PageContext, off: tuple[str, ...]) -> tuple[RuleLine, ...]:
    """Every rule that can be switched off, with what it saves or costs."""
    answer = page.planned.rule_prices()
    prices = {price.rule: price for price in answer.value or ()}
    missing = "no date to measure by" if answer.ready else "being worked out"
    lines = []
    for rule in OPTIONAL_RULES:
        price = prices.get(rule)
        others = tuple(one for one in off if one != rule)
        at = price.likely_without if price else None
        lines.append(
            RuleLine(
                name=of_the_end(RULE_NAMES[rule]),
                price=price_words(price.move) if price else missing,
                without=words.day(at, today=page.today) if at else "",
                is_on=rule not in off,
                switch=addresses.order(page.slug, others if rule in off else (*others, rule)),
            )
        )
    return tuple(lines)


def how_of_rules(page: PageContext) -> How | None:
    """How the prices came about, with the rule that makes the largest difference as example."""
    prices = page.planned.rule_prices().value or ()
    largest = max(prices, key=lambda price: abs(price.move.days), default=None)
    return (
        None if largest is None else rules_how(of_the_end(RULE_NAMES[largest.rule]), largest.move)
    )


def price_words(move: Move) -> str:
    """ "saves 2 days", "costs about 0.5 days", "makes no difference"."""
    if words.number(abs(move.days), 1) == "0":
        return "makes no difference"
    days = gain_words(move.days, move.error_days)
    return f"{'saves' if move.days > 0 else 'costs'} {days}"


def trial_of(page: PageContext, off: tuple[str, ...], at: dt.datetime | None) -> Trial | None:
    """What switching rules off does to first start; None where all are on.

    The move is the one that stands with the rule: there is one only for one rule at a time.
    """
    if not off:
        return None
    prices = page.planned.rule_prices().value or ()
    move = next((price_words(p.move) for p in prices if (p.rule,) == off), "")
    return Trial(
        without=tuple(of_the_end(RULE_NAMES[rule]) for rule in off),
        first_start=words.day(at, today=page.today) if at else "not known",
        move=move,
        back=addresses.order(page.slug),
    )
