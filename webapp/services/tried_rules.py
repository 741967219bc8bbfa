"""What other house rules do to first start, and the pace at which their plan says so."""

from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.pace import pace_of
from webapp.planning.chances.rule_prices import Rules, RulesPrice, rules_priced


@dataclass(frozen=True, slots=True, kw_only=True)
class TriedRules:
    """What other rules do, and the factor of the pace at which their plan ends on that day."""

    price: RulesPrice
    factor: float


def tried_rules(
    build: BuildInput, factors: Factors, rules: Rules, *, last: float
) -> TriedRules | None:
    """Of a faultless build by those rules alone; None where they bring no date."""
    for price in rules_priced(build, factors, [rules]):
        by_rules = replace(build, house_rules=rules, kept_order=())
        factor = pace_of(by_rules, factors, price.likely.date(), last=last)
        return TriedRules(price=price, factor=factor)
    return None
