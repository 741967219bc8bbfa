"""The house rules in words."""

from collections.abc import Sequence

RULE_NAMES = {
    "working_order": "Subsystems in working order",
    "setup_out": "The setup that is already out",
    "big_first": "The biggest piece claims its space first",
    "longest_way": "The longest way still to go to first start",
}
RULES_IN_SHORT = {
    "working_order": "working order",
    "setup_out": "the setup that is out",
    "big_first": "the biggest piece",
    "longest_way": "the longest way",
}


def rules_told(rules: Sequence[str]) -> str:
    """Rules in their order: "the setup that is out, then the longest way"."""
    if not rules:
        return "none of the rules that can be switched off"
    return ", then ".join(RULES_IN_SHORT[rule] for rule in rules)
