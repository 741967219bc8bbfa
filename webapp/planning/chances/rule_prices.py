"""What house rules cost in days of first start, and which order of them brings it soonest.

Each price is the mean move over the same draws by these rules and by those of the build; see
`moves`. The kept order of a build is left out of it.
"""

import datetime as dt
from dataclasses import dataclass, replace
from itertools import permutations

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.build.house_rules import HOUSE_RULES
from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.chances.draws import Drawn, drawn_of
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.forecast import place_of
from webapp.planning.chances.likely_day import LIKELY
from webapp.planning.chances.luck import DRAWS, SEED, Luck
from webapp.planning.chances.moves import Move, move_between
from webapp.planning.simulator.house_rules import HouseRules, rank_tasks
from webapp.planning.simulator.simulate import first_starts

Rules = tuple[str, ...]
"""House rules by their names, the one that decides first in front."""
LOOKED_FOR_DRAWS = 200
"""On so many draws the soonest of all orders is looked for; its price comes from others, or the
luckiest of them would be told too well."""
LOOKED_FOR_SEED = SEED + 1


@dataclass(frozen=True, slots=True, kw_only=True)
class RulesPrice:
    """What other house rules than those of the build do.

    `move` is by how much first start comes later with them, negative if earlier;
    `likely` is when half of the same draws have reached it then.
    """

    rules: Rules
    move: Move
    likely: dt.datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class RulePrices:
    """`switched` has each rule switched off, or on again behind all others; `soonest` is the best
    order of all rules, None where it is that of the build or is not surely sooner."""

    switched: tuple[RulesPrice, ...] = ()
    soonest: RulesPrice | None = None


NO_PRICES = RulePrices()


def switched(rules: Rules, rule: str) -> Rules:
    """The rules with one of them off, or behind all others where it was off."""
    if rule in rules:
        return tuple(one for one in rules if one != rule)
    return (*rules, rule)


def rule_prices(build: BuildInput, factors: Factors, *, draws: int = DRAWS) -> RulePrices:
    """What each house rule of a faultless build costs or saves; nothing without a date."""
    held = build.house_rules
    asked = [switched(held, rule) for rule in HOUSE_RULES]
    soonest = soonest_rules(build, factors)
    if soonest is not None:
        asked.append(soonest)
    prices = rules_priced(build, factors, asked, draws=draws)
    if soonest is None or not prices:
        return RulePrices(switched=prices)
    *others, best = prices
    surely = best.rules != held and best.move.days < -2 * best.move.error_days
    return RulePrices(switched=tuple(others), soonest=best if surely else None)


def rules_priced(
    build: BuildInput, factors: Factors, asked: list[Rules], *, draws: int = DRAWS
) -> tuple[RulesPrice, ...]:
    """The price of each of the rules that are asked for; none without a date."""
    drawn = _drawn_by_rules(build, factors, Luck(draws))
    if drawn is None:
        return ()
    by_held = first_starts(drawn.work, drawn.variants).wall
    if (by_held >= NEVER).any():
        return ()
    return tuple(_price(drawn, by_held, rules) for rules in asked)


def soonest_rules(build: BuildInput, factors: Factors) -> Rules | None:
    """The order of all rules with the soonest mean first start; None without a date."""
    drawn = _drawn_by_rules(build, factors, Luck(LOOKED_FOR_DRAWS, LOOKED_FOR_SEED))
    if drawn is None:
        return None
    orders = list(permutations(HOUSE_RULES))
    columns = np.tile(np.arange(LOOKED_FOR_DRAWS), len(orders))
    variants = replace(
        drawn.variants.columns(columns),
        rankings=tuple(rank_tasks(drawn.work, HouseRules(order=order)) for order in orders),
        ranking_of=np.repeat(np.arange(len(orders)), LOOKED_FOR_DRAWS),
    )
    ends = first_starts(drawn.work, variants).wall.reshape(len(orders), LOOKED_FOR_DRAWS)
    if (ends >= NEVER).any():
        return None
    return orders[int(ends.mean(axis=1).argmin())]


def _drawn_by_rules(build: BuildInput, factors: Factors, luck: Luck) -> Drawn | None:
    rules = HouseRules(order=build.house_rules)
    return drawn_of(build, luck, factors=factors, rules=rules)


def _price(drawn: Drawn, by_held: Seconds, rules: Rules) -> RulesPrice:
    ranking = rank_tasks(drawn.work, HouseRules(order=rules))
    ends = first_starts(drawn.work, replace(drawn.variants, rankings=(ranking,))).wall
    likely = int(np.sort(ends)[place_of(LIKELY, len(ends))])
    return RulesPrice(
        rules=rules,
        move=move_between(by_held, ends),
        likely=drawn.work.calendar.minute(likely),
    )
