"""Whether the coolant stays liquid at the frost that is reckoned with, and keeps corrosion off.

The table of freezing points, and how a circuit is brought to a mixture and topped up, stand in
`webapp.plumbing.coolant`.
"""

from dataclasses import dataclass

from webapp.build.plumbing import Antifreeze
from webapp.plumbing.coolant import (
    LEAST_SHARE,
    MOST_SHARE,
    THIN_SHARE,
    NoMixture,
    mixture_of,
)
from webapp.sizing.answers import Answer, Figure, Limit, Outside, most, not_checked

THIN = "Under 30 % the inhibitors are too thin against corrosion."
_ROUNDING_C = 1e-6
"""A mixture that was worked out for a frost freezes at that very frost, but for rounding."""
LABEL = (
    "The label on the drum goes before this table. Never mix kinds or colours blindly: organic-acid"
    " and silicate kinds do not go together. Water is soft or demineralised, and what is sold ready"
    " mixed is not thinned again."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MixtureForFrost:
    """What is in the circuit, or shall be (share by volume, 0 to 1), and the hardest frost."""

    share: float
    frost_c: float
    antifreeze: Antifreeze = "ethylene"


def mixture(at: str, inputs: MixtureForFrost, limit: Limit | None = None) -> Answer:
    """Where the mixture freezes in °C, held against the frost; thin mixtures are tight.

    Freezing points after the ASHRAE tables as CoolProp has them. Valid from 20 to 60 %: above,
    the protection turns back and heat is carried worse.
    """
    of = mixture_of(inputs.share, inputs.antifreeze)
    if isinstance(of, NoMixture):
        outside = Outside(
            name="share of antifreeze",
            value=100 * inputs.share,
            least=100 * LEAST_SHARE,
            most=100 * MOST_SHARE,
            unit="%",
        )
        return not_checked("mixture", at, outside)
    held = limit or Limit(
        ok=inputs.frost_c, tight=inputs.frost_c, origin="typed", source="the hardest frost"
    )
    word = most(of.freezes_at_c - _ROUNDING_C, held, "too weak")
    if word == "ok" and of.is_thin:
        word = "tight"
    return Answer(
        check="mixture",
        at=at,
        word=word,
        value=of.freezes_at_c,
        unit="°C",
        limit=held,
        used=(
            Figure(name="share of antifreeze", value=100 * inputs.share, unit="%"),
            Figure(name="antifreeze", value=f"{inputs.antifreeze} glycol"),
        ),
        remarks=(*((THIN,) if inputs.share < THIN_SHARE else ()), LABEL),
    )
