"""What house rules cost, and which order of them is soonest."""

from dataclasses import replace
from itertools import permutations

import pytest

from tests.build.builds import EVENINGS, build_of, task
from tests.planning.chances.test_move_costs import SAW, TIG, chain
from tests.planning.chances.test_wish_prices import EXACT
from webapp.build.build_input import BuildInput
from webapp.build.house_rules import HOUSE_RULES, SOONEST_RULES
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.forecast import forecast_of
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.rule_prices import (
    NO_PRICES,
    RulePrices,
    rule_prices,
    rules_priced,
    soonest_rules,
    switched,
)
from webapp.planning.order.kept_order import plan_that_holds
from webapp.planning.simulator.house_rules import HouseRules


def by_rule(prices: RulePrices) -> dict[str, float]:
    return {rule: one.move.days for rule, one in zip(HOUSE_RULES, prices.switched, strict=True)}


def three_setups() -> BuildInput:
    tasks = [task("t1", 1, setup="tig"), task("s", 1, setup="saw"), task("t2", 1, setup="tig")]
    links = [(t.key, "z") for t in tasks]
    return build_of([*tasks, task("z", 0)], links, first_start="z", setups=(TIG, SAW))


def test_a_house_rule_costs_what_first_start_would_be_later_without_it() -> None:
    prices = by_rule(rule_prices(three_setups(), EXACT, draws=30))
    # Tig, tig, saw gets two setups out; tig, saw, tig three: 0.75 h more.
    assert prices["setup_out"] == pytest.approx(0.75 / 24)
    assert prices["big_first"] == 0


def test_a_rule_that_is_off_is_priced_switched_on() -> None:
    build = replace(three_setups(), house_rules=("big_first",))
    assert by_rule(rule_prices(build, EXACT, draws=30))["setup_out"] == pytest.approx(-0.75 / 24)


def test_the_likely_date_by_other_rules_is_that_of_their_own_draws() -> None:
    build = chain(EVENINGS)
    for price in rule_prices(build, Factors(), draws=50).switched:
        rules = HouseRules(order=price.rules)
        forecast = forecast_of(build, Luck(50), factors=Factors(), rules=rules)
        assert forecast is not None
        assert price.likely == forecast.at(0.5)


def test_without_a_date_no_rule_has_a_price() -> None:
    build = build_of([task("a", 1), task("b", 1)], first_start=None)
    assert rule_prices(build, EXACT) == NO_PRICES


def test_the_soonest_order_is_the_best_of_all_of_them() -> None:
    """Exact estimates: each of the 24 orders planned by itself, the earliest counts."""
    build = replace(three_setups(), house_rules=("working_order", "big_first"))
    ends = {
        order: plan_that_holds(replace(build, house_rules=order)).first_start_at
        for order in permutations(HOUSE_RULES)
    }
    best = soonest_rules(build, EXACT)
    assert best is not None
    assert ends[best] == min(end for end in ends.values() if end is not None)
    offered = rule_prices(build, EXACT, draws=30).soonest
    assert offered is not None
    assert offered.rules == best
    assert offered.move.days == pytest.approx(-0.75 / 24)


def test_nothing_is_offered_where_no_order_is_surely_sooner() -> None:
    build = replace(chain(EVENINGS), house_rules=SOONEST_RULES)
    assert rule_prices(build, Factors(), draws=50).soonest is None


def test_the_rules_of_a_build_are_followed_and_others_move_first_start_as_priced() -> None:
    build = three_setups()
    without = switched(HOUSE_RULES, "setup_out")
    (price,) = rules_priced(build, EXACT, [without], draws=1)
    held, other = (
        plan_that_holds(replace(build, house_rules=rules)).first_start_at
        for rules in (HOUSE_RULES, without)
    )
    assert held is not None
    assert other is not None
    assert (other - held).total_seconds() / 86_400 == pytest.approx(price.move.days)
