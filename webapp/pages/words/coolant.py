"""What is said of coolant: why there is no mixture, and what goes before the table."""

from webapp.plumbing.coolant import LEAST_SHARE, MOST_SHARE, Refusal

NO_MIXTURE: dict[Refusal, str] = {
    "too cold": (
        f"No mixture protects from that frost: above {MOST_SHARE:.0%} it freezes sooner again "
        "and carries heat worse. Drain it, or keep it warm."
    ),
    "too strong": (
        f"Above {MOST_SHARE:.0%} the mixture freezes sooner again and carries heat worse. "
        "Enter a weaker one."
    ),
    "too weak": f"Below {LEAST_SHARE:.0%} the table does not reach. Enter a stronger one.",
    "no volume": "Nobody said how much the circuit holds. Enter the litres of its components.",
    "more than it holds": "More is said to be in it than it holds. Correct one of the two.",
}
"""By the reason of `NoMixture`."""
THIN = "Thin: it protects from frost, and too little from corrosion."
THE_LABEL_FIRST = (
    "The label on the drum goes before this table. Never mix kinds of coolant blindly."
)
