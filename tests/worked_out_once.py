"""Keeps, in one process, what is worked out of a build: the same build has the same answer."""

from collections.abc import Callable, Hashable
from importlib import import_module
from typing import Any

import pytest

from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.pages.wishes import prices
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.wish_prices import price_wish
from webapp.services import plan_cache
from webapp.services.draws_at_hand import DrawsAtHand
from webapp.services.kept import Kept

WORKED_OUT_ONCE = (
    *(("planned_state", name) for name in ("plumbed", "plan_at_pace", "record_factors")),
    ("planned_build", "forecast_figures"),
    *(("planned_build", name) for name in ("task_costs", "levers_found", "rule_prices")),
)
"""What a planned build asks of its build and of nothing else."""
MOST_WORKED_OUT = 300
"""So many answers of each, those asked for last: most tests begin with the same few builds."""


def keep_what_is_worked_out(patch: pytest.MonkeyPatch) -> None:
    """Have planned builds ask for each of these once, as long as `patch` holds."""
    for module, name in WORKED_OUT_ONCE:
        asked = import_module(f"webapp.services.{module}")
        patch.setattr(asked, name, _once(getattr(asked, name)))
    patch.setattr(plan_cache, "faults_of", _once(faults_of))
    patch.setattr(prices, "price_wish", _once(price_wish))
    draws = DrawsAtHand()
    patch.setattr(plan_cache, "DrawsAtHand", lambda: draws)


_HASHES: Kept[int, tuple[BuildInput, int]] = Kept(MOST_WORKED_OUT)


def _hash_of(one: Hashable) -> int:
    """Its hash; that of a build is kept, for it goes through every task of it."""
    if not isinstance(one, BuildInput):
        return hash(one)
    before = _HASHES.get(id(one))  # as long as it is kept no other has its id
    if before is None or before[0] is not one:
        before = _HASHES.keep(id(one), (one, hash(one)))
    return before[1]


def _once(work: Callable[..., Any]) -> Callable[..., Any]:
    """The same function, whatever luck was drawn before; what is None is not kept."""
    kept: Kept[int, tuple[Hashable, Any]] = Kept(MOST_WORKED_OUT)

    def worked_out(*given: Any, luck: Luck | None = None, **named: Any) -> Any:
        what = (*given, *(part for one in sorted(named.items()) for part in one))
        key = hash(tuple(map(_hash_of, what)))
        before = kept.get(key)
        if before is not None and before[0] == what:
            return before[1]
        answer = work(*given, **named) if luck is None else work(*given, luck=luck, **named)
        if answer is not None:
            kept.keep(key, (what, answer))
        return answer

    return worked_out
