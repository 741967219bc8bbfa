"""How a good builder picks the next task; rules 3 to 6 can each be switched off."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseRules:
    """Which of the optional house rules are on.

    Always on: what first start needs comes first; what is begun gets finished; at last the
    order in which tasks were entered.
    """

    working_order: bool = True
    setup_out: bool = True
    big_first: bool = True
    least_float: bool = True
