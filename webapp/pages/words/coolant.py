"""What is said of coolant: why there is no mixture, and what goes before the table."""

from webapp.build.plumbing import Antifreeze
from webapp.pages.words import sizes
from webapp.pages.words.amounts import listed
from webapp.pages.words.how import How
from webapp.plumbing.coolant import (
    LEAST_SHARE,
    MOST_SHARE,
    THIN_SHARE,
    CoolantFill,
    Mixture,
    NoMixture,
    Refusal,
)

_NOTHING_LITRES = 0.005

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


HARD_FROST_C = -25.0
CAUTIONS = (
    "Hot coolant: open nothing that is warm. The cap holds back steam that scalds face and arms.",
    "Coolant is poisonous and tastes sweet to animals and children: catch it, wipe it up, lock it"
    " away.",
    "Water is soft or demineralised. What is sold ready mixed is not thinned again. Kinds of"
    " coolant are not mixed: look at the label of what is in there, or rinse it out first.",
    "Local codes and licensed practice come first.",
)
ANTIFREEZE_WORDS: dict[Antifreeze, str] = {
    "ethylene": "ethylene glycol (the usual one)",
    "propylene": "propylene glycol",
}


NAME_A_FROST = "Name the hardest frost that it has to stand first."
INTO_PARTS = "Put it into Parts"
UPDATE = "Bring its part up to date"
HERE = "here, not poured in yet"


def origin(*, is_kept: bool) -> str:
    """Where a mixture is kept, and what goes before what."""
    if is_kept:
        return "It is kept with this circuit: fill day and the checks go by it."
    return (
        "As the data sheet has it. Mixed here, it is kept with this circuit and goes before that."
    )


def over_said(what: str, ordered: float, wanted: float) -> str:
    """That more of a thing was ordered than is wanted by now."""
    amounts = f"ordered already {sizes.litres(ordered)}, wanted now {sizes.litres(wanted)}"
    return f"{what[:1].upper()}{what[1:]}: {amounts}. The rest stays in the can."


def no_frost() -> str:
    """What is said of a frost above freezing: most likely its minus was left out."""
    return (
        "A frost lies below freezing: write it with its minus where it is below zero, as"
        f" {sizes.temperature(HARD_FROST_C)}."
    )


def percent(share: float) -> str:
    """A share of the volume: "46 %"."""
    return f"{share * 100:.0f} %"


def mixture_said(mixture: Mixture) -> str:
    """A mixture in a sentence."""
    return (
        f"{percent(mixture.share)} concentrate and {percent(1 - mixture.share)} water by volume:"
        f" it begins to freeze at {sizes.temperature(mixture.freezes_at_c)}."
    )


def cautions(mixture: Mixture | None) -> tuple[str, ...]:
    """What belongs beside a mixture, the label first."""
    thin = (THIN,) if mixture is not None and mixture.is_thin else ()
    return (*thin, THE_LABEL_FIRST, *CAUTIONS)


def fill_lines(fill: CoolantFill) -> tuple[tuple[str, str], ...]:
    """What to drain, buy and pour, in that order."""
    concentrate, water = map(sizes.litres, (fill.concentrate_litres, fill.water_litres))
    drained = fill.drained_litres > _NOTHING_LITRES
    return (
        *((("Drain first", sizes.litres(fill.drained_litres)),) if drained else ()),
        ("Concentrate to buy and pour in", concentrate),
        ("Water to pour in", water),
        ("Full", sizes.litres(fill.circuit_litres)),
    )


def topped_said(share: float, mixture: Mixture | NoMixture) -> tuple[str, str]:
    """What comes of it where what is in there stays and is filled up with the new mixture."""
    frost = (
        f"begins to freeze at {sizes.temperature(mixture.freezes_at_c)}"
        if isinstance(mixture, Mixture)
        else "outside of the table"
    )
    return "Filled up with the new mixture alone", f"{percent(share)}, {frost}"


def without(names: tuple[str, ...]) -> str:
    """What nobody said the litres of; "" where all is known."""
    return f"Nobody said what these hold, so measure as you fill: {listed(names)}." if names else ""


def coolant_how(fill: CoolantFill) -> How:
    """How a mixture and its litres came about."""
    mixture = fill.mixture
    return How(
        figures=("coolant",),
        of="the mixture",
        sentences=(
            "The share is where a straight line between the nearest points of the published"
            f" freezing points reaches the frost, and never under {percent(THIN_SHARE)}, for the"
            f" corrosion. {percent(mixture.share)} of {sizes.litres(fill.circuit_litres)} is"
            f" {sizes.litres(fill.circuit_litres * mixture.share)} of concentrate in all; what is"
            " in there already goes off. Volumes are taken as adding up: the real shrinkage is"
            " under 1 %.",
        ),
    )
