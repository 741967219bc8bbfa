"""The house rules of a build that can be switched off and put in another order, by their names.

They follow upon what always holds: what first start needs comes first, then what is begun.
"""

HOUSE_RULES: tuple[str, ...] = ("working_order", "setup_out", "big_first", "longest_way")
"""All of them, as they hold where a build says nothing else: subsystems in working order, the
setup that is already out, the biggest space claim, the longest way still to go to first start."""

SOONEST_RULES: tuple[str, ...] = ("setup_out", "longest_way", "working_order", "big_first")
"""What a new build begins with: working order decides between equals. Over the builds of
`python -m tests.benchmarks house_rules_of` no order brings first start sooner by more than the
error of the draws."""
