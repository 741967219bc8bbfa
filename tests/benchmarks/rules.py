"""Which order of the house rules brings first start soonest, over realistic builds."""

from itertools import permutations

import numpy as np

from tests.benchmarks.timing import Table
from tests.benchmarks.workshop_builds import workshop_build
from webapp.build.build_input import BuildInput
from webapp.build.house_rules import HOUSE_RULES, SOONEST_RULES
from webapp.planning.chances.factors import NO_RECORD
from webapp.planning.chances.rule_prices import rules_priced
from webapp.services.seed_builds import shipped_demo

DRAWS = 512
BUILDS: tuple[tuple[int, int], ...] = tuple((n, seed) for n in (75, 150) for seed in (1, 2, 3, 4))
BEST = 3


def house_rules_of_builds(table: Table) -> None:
    """Days that the best orders of the rules bring first start earlier than the old order, in the
    mean over the builds, and the rules of a new build on each of them."""
    orders = [order for order in permutations(HOUSE_RULES) if order != HOUSE_RULES]
    builds = [("the Heron", shipped_demo())]
    builds += [(f"{n} tasks, seed {seed}", workshop_build(n, seed)) for n, seed in BUILDS]
    gains = np.array([_gains(build, orders) for _, build in builds])
    new = orders.index(SOONEST_RULES)
    for (name, _), gained in zip(builds, gains[:, new], strict=True):
        table.row(f"rules of a new build, {name}", f"{gained:+.2f} days sooner", None)
    means = gains.mean(axis=0)
    for place in np.argsort(-means)[:BEST]:
        told = ", ".join(orders[place])
        table.row(told, f"{means[place]:+.2f} days sooner in the mean", None)


def _gains(build: BuildInput, orders: list[tuple[str, ...]]) -> list[float]:
    return [-price.move.days for price in rules_priced(build, NO_RECORD, orders, draws=DRAWS)]
