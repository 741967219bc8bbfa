"""Why tasks go before one of an earlier subsystem, with what that rule or order does in days."""

from dataclasses import dataclass

from webapp.build.house_rules import HOUSE_RULES
from webapp.pages.frame.context import PageContext
from webapp.pages.order.rules import price_words
from webapp.pages.words import departures as say
from webapp.pages.words.house_rules import RULE_NAMES
from webapp.pages.words.how import How
from webapp.pages.words.how_moves import order_how, rules_how
from webapp.pages.words.the_end import of_the_end
from webapp.planning.chances.rule_prices import NO_PRICES, Rules
from webapp.planning.order.departures import KEPT_ORDER, Departure


@dataclass(frozen=True, slots=True, kw_only=True)
class Priced:
    """What the rule or the kept order that put a task first does on this build; `figure` is its
    kind."""

    text: str
    figure: str
    how: How


class Ahead:
    """The departures of the order that a page shows; by other house rules where `tried` are."""

    def __init__(self, page: PageContext, tried: Rules | None = None) -> None:
        self.page, self.is_trial = page, tried is not None
        self.departures = page.planned.departures(tried)
        self._by_key = {one.key: one for one in self.departures.value or ()}
        self._tasks = {task.key: task for task in page.build.tasks}
        self._subsystems = {one.key: one.name for one in page.build.subsystems}

    def of(self, key: str) -> Departure | None:
        """Where the task with this key goes before one of an earlier subsystem."""
        return self._by_key.get(key)

    def in_short(self, one: Departure, price: str = "") -> str:
        """For its line in the job order."""
        return say.ahead_in_short(one.why, *self._named(one.before), price)

    def at_length(self, one: Departure, price: str = "") -> str:
        """For the page of the task."""
        return say.ahead_at_length(one.why, *self._named(one.before), price)

    def price(self, why: str) -> Priced | None:
        """What that rule or the kept order does, once it is worked out; not of rules tried.

        Under a kept order no rule has a price: it is that of house rules which do not hold.
        """
        if self.is_trial or (self.page.build.kept_order and why != KEPT_ORDER):
            return None
        if why == KEPT_ORDER:
            move = self.page.planned.move_of_kept_order().value
            if move is None:
                return None
            how = order_how("The kept order against the house rules", move)
            return Priced(text=price_words(move, is_on=False), figure="move", how=how)
        prices = self.page.planned.rule_prices().value or NO_PRICES
        by_rule = dict(zip(HOUSE_RULES, prices.switched, strict=False))
        if why not in by_rule:
            return None
        move = by_rule[why].move
        how = rules_how(of_the_end(RULE_NAMES[why]), move)
        return Priced(text=price_words(move), figure="rule", how=how)

    def _named(self, key: str) -> tuple[str, str]:
        task = self._tasks[key]
        return task.name, self._subsystems.get(task.subsystem or "", "")
