"""Coolant mixed for a frost: how strong, how much of each to buy, how to bring what is there to it.

Shares are by volume, concentrate in all. Volumes are taken as adding up: the real shrinkage is
under 1 %. The label on the drum goes before this table: inhibitors and what is sold ready mixed
differ.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from webapp.build.plumbing import Antifreeze

FREEZES_AT_C: dict[Antifreeze, tuple[tuple[float, float], ...]] = {
    "ethylene": (
        *((0.20, -9.0), (0.25, -12.1), (0.30, -15.7), (0.35, -19.9), (0.40, -24.8)),
        *((0.45, -30.5), (0.50, -37.1), (0.55, -44.4), (0.60, -52.0)),
    ),
    "propylene": (
        *((0.20, -7.4), (0.25, -10.0), (0.30, -13.1), (0.35, -16.9), (0.40, -21.5)),
        *((0.45, -27.0), (0.50, -33.7), (0.55, -41.6), (0.60, -51.1)),
    ),
}
"""Freezing points by share: those of the ASHRAE tables as CoolProp has them (AEG, APG); trade
tables say -36.8 and -37 °C for half ethylene glycol. Straight lines lie between."""
LEAST_SHARE, MOST_SHARE = 0.20, 0.60
THIN_SHARE = 0.30
"""Below it the inhibitors are too thin against corrosion: common practice, no source."""

Refusal = Literal["too cold", "too strong", "too weak", "no volume", "more than it holds"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mixture:
    """A share of concentrate, and where it freezes. `is_thin`: too little against corrosion."""

    antifreeze: Antifreeze
    share: float
    freezes_at_c: float

    @property
    def is_thin(self) -> bool:
        """Whether it protects from frost and too little from corrosion."""
        return self.share < THIN_SHARE


@dataclass(frozen=True, slots=True, kw_only=True)
class NoMixture:
    """Why there is no answer.

    too cold : no mixture stays liquid there; above 60 % it freezes sooner again and carries heat
        worse
    too strong, too weak : a share outside of the table, 20 to 60 %
    no volume : nobody said how much the circuit holds
    more than it holds : more is said to be in it than it holds
    """

    why: Refusal


@dataclass(frozen=True, slots=True, kw_only=True)
class CoolantFill:
    """What to drain and what to pour in, in litres, until the circuit is full of the mixture.

    `drained` 0: what is there stays in. Concentrate and water are what to buy and to pour.
    """

    mixture: Mixture
    circuit_litres: float
    drained_litres: float
    concentrate_litres: float
    water_litres: float


def mixture_for(frost_c: float, antifreeze: Antifreeze = "ethylene") -> Mixture | NoMixture:
    """The thinnest mixture that stays liquid at a frost, never under 30 % for the corrosion."""
    table = FREEZES_AT_C[antifreeze]
    if frost_c < table[-1][1]:
        return NoMixture(why="too cold")
    share = THIN_SHARE
    for (low, mild), (high, hard) in pairwise(table):
        if hard <= frost_c <= mild:
            share = low + (high - low) * (mild - frost_c) / (mild - hard)
    share = max(share, THIN_SHARE)
    return Mixture(
        antifreeze=antifreeze, share=share, freezes_at_c=_freezes_at_c(share, antifreeze)
    )


def mixture_of(share: float, antifreeze: Antifreeze = "ethylene") -> Mixture | NoMixture:
    """A mixture by its share, 0 to 1; refused above 60 %, and below 20 % where no table reaches."""
    if share > MOST_SHARE:
        return NoMixture(why="too strong")
    if share < LEAST_SHARE:
        return NoMixture(why="too weak")
    return Mixture(
        antifreeze=antifreeze, share=share, freezes_at_c=_freezes_at_c(share, antifreeze)
    )


def _freezes_at_c(share: float, antifreeze: Antifreeze) -> float:
    for (low, mild), (high, hard) in pairwise(FREEZES_AT_C[antifreeze]):
        if low <= share <= high:
            return mild + (hard - mild) * (share - low) / (high - low)
    raise ValueError(f"no freezing point is known of a share of {share}")


def coolant_fill(
    circuit_litres: float,
    mixture: Mixture,
    *,
    there_litres: float = 0.0,
    there_share: float = 0.0,
) -> CoolantFill | NoMixture:
    """What brings a circuit that holds so much, and has so much of another mix in it, to a mixture.

    As little is drained as can be. With c0 in what is there, V litres of the whole and c1 wanted:
    of a full circuit V (c1 - c0) / (1 - c0) goes, for concentrate.
    """
    if circuit_litres <= 0:
        return NoMixture(why="no volume")
    if not 0 <= there_litres <= circuit_litres:
        return NoMixture(why="more than it holds")
    if not 0 <= there_share <= 1:
        return NoMixture(why="too strong")
    wanted = circuit_litres * mixture.share
    drained = 0.0
    if wanted - there_litres * there_share > circuit_litres - there_litres:
        # even concentrate alone leaves it too thin: what is there makes room
        thin_share = 1 - there_share
        drained = there_litres - circuit_litres * (1 - mixture.share) / thin_share
    elif there_litres * there_share > wanted:
        drained = there_litres - wanted / there_share
    stays = there_litres - drained
    concentrate = max(wanted - stays * there_share, 0.0)
    return CoolantFill(
        mixture=mixture,
        circuit_litres=circuit_litres,
        drained_litres=drained,
        concentrate_litres=concentrate,
        water_litres=max(circuit_litres - stays - concentrate, 0.0),
    )


def topped_up(
    circuit_litres: float, there_litres: float, there_share: float, with_share: float
) -> float:
    """The share that a circuit comes to when it is filled up with another mix."""
    poured = circuit_litres - there_litres
    return (there_litres * there_share + poured * with_share) / circuit_litres
