"""Belts round any number of pulleys, idlers on their back too: length and wraps."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from webapp.build.data_sheet import Drives, Pulley
from webapp.sizing.answers import (
    Answer,
    Figure,
    Limit,
    Missing,
    held,
    least,
    no_sum,
    not_checked,
)

WRAPS: dict[Drives, Limit] = {
    "crank": Limit(ok=150.0, tight=130.0, at_least=True),
    "alternator": Limit(ok=120.0, tight=100.0, at_least=True),
}
"""Degrees of a belt with a tensioner; of others nobody says."""
PITCH_LINE = (
    "Diameters are those of the pitch line of the profile. Whether the pulleys are in line is "
    "measured, not worked out."
)
_TURN = 2 * math.pi


@dataclass(frozen=True, slots=True, kw_only=True)
class BeltWay:
    """A belt: how long it is, and by pulley over how many degrees it lies on."""

    length_mm: float
    wraps_deg: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NoWay:
    """Why no belt runs round those pulleys in that order."""

    why: str


def belt_way(pulleys: Sequence[Pulley]) -> BeltWay | NoWay:
    """A belt round pulleys in the order in which it meets them.

    The heading of a span is that of the line of centres and asin((r1 - r2) / distance), its
    length sqrt(distance² - (r1 - r2)²); the wrap is the turn from span to span. A back-side idler
    counts with a negative radius. For two pulleys that is 2 C cos b + pi (d1 + d2) / 2 + b (d2 -
    d1) with b = asin((d2 - d1) / 2C), Shigley, sections 17-1 and 17-2, cited. Valid where no two
    pulleys overlap, and the belt goes round once (of two pulleys also crossed).
    """
    if len(pulleys) < 2:
        return NoWay(why="a belt needs two pulleys")
    for one, other in combinations(pulleys, 2):
        apart = math.dist((one.x_mm, one.y_mm), (other.x_mm, other.y_mm))
        if apart <= (one.diameter_mm + other.diameter_mm) / 2:
            return NoWay(why=f"the pulleys {one.name} and {other.name} overlap")
    turned = _around(pulleys)
    if turned is None:
        turned = _around([*reversed(pulleys)])
        if turned is None:
            return NoWay(why="the belt does not go round once in that order of pulleys")
        turned = BeltWay(length_mm=turned.length_mm, wraps_deg=tuple(reversed(turned.wraps_deg)))
    return turned


def _around(pulleys: Sequence[Pulley]) -> BeltWay | None:
    """Round them against the clock; None where the belt does not go round once that way."""
    spans = [*_spans(pulleys)]
    arcs = []
    for at, pulley in enumerate(pulleys):
        turn = spans[at][0] - spans[at - 1][0]
        arcs.append((-turn if pulley.is_back else turn) % _TURN)
    turned = sum(-arc if p.is_back else arc for arc, p in zip(arcs, pulleys, strict=True))
    is_crossed = len(pulleys) == 2 and any(pulley.is_back for pulley in pulleys)
    if not math.isclose(turned, 0 if is_crossed else _TURN, abs_tol=1e-6):
        return None
    bent = sum(arc * p.diameter_mm / 2 for arc, p in zip(arcs, pulleys, strict=True))
    return BeltWay(
        length_mm=bent + sum(length for _, length in spans),
        wraps_deg=tuple(math.degrees(arc) for arc in arcs),
    )


def _spans(pulleys: Sequence[Pulley]) -> Iterator[tuple[float, float]]:
    """Heading and length of the span behind each pulley."""
    for at, one in enumerate(pulleys):
        other = pulleys[(at + 1) % len(pulleys)]
        across, up = other.x_mm - one.x_mm, other.y_mm - one.y_mm
        apart, step = math.hypot(across, up), one.radius_mm - other.radius_mm
        heading = math.atan2(up, across) + math.asin(step / apart)
        yield heading, math.sqrt(apart**2 - step**2)


@dataclass(frozen=True, slots=True, kw_only=True)
class BeltOnPulleys:
    """A belt as it is drawn, the length that was bought, and how much a tensioner takes up."""

    pulleys: tuple[Pulley, ...]
    bought_mm: float | None = None
    take_up_mm: float | None = None


def belt_length(at: str, inputs: BeltOnPulleys) -> Answer:
    """How long a belt has to be in mm, and whether the one bought is: as long, or longer by no
    more than the tensioner takes up."""
    way = belt_way(inputs.pulleys)
    if isinstance(way, NoWay):
        return no_sum("belt_length", at, way.why, PITCH_LINE)
    used = tuple(
        Figure(name=f"pulley {pulley.name}", value=pulley.diameter_mm, unit="mm", came="typed")
        for pulley in inputs.pulleys
    )
    also = (Figure(name="length round the pulleys", value=way.length_mm, unit="mm"),)
    bought, take_up = inputs.bought_mm, inputs.take_up_mm
    if bought is None or take_up is None:
        names = ("length of the belt",) if bought is None else ("take-up of the tensioner",)
        answer = not_checked("belt_length", at, Missing(names=names, at=at), used)
        return replace(answer, also=also, remarks=(PITCH_LINE,))
    limit = Limit(
        ok=way.length_mm + take_up,
        tight=way.length_mm + take_up,
        origin="typed",
        source="the tensioner's take-up",
    )
    is_short = bought < way.length_mm
    return Answer(
        check="belt_length",
        at=at,
        word="too short" if is_short else "too long" if bought > limit.ok else "ok",
        value=bought,
        unit="mm",
        limit=limit,
        used=(
            *used,
            Figure(name="take-up of the tensioner", value=take_up, unit="mm", came="typed"),
        ),
        also=also,
        remarks=(PITCH_LINE,),
    )


def belt_wraps(
    at: str, inputs: BeltOnPulleys, limits: dict[str, Limit] | None = None
) -> tuple[Answer, ...]:
    """Over how many degrees the belt lies on crank and alternator: on others nobody says how many
    it takes. `limits` by the name of a pulley go before those of common practice."""
    way = belt_way(inputs.pulleys)
    if isinstance(way, NoWay):
        return ()
    found = []
    for pulley, wrap in zip(inputs.pulleys, way.wraps_deg, strict=True):
        usual = WRAPS.get(pulley.drives)
        if usual is not None:
            against = held((limits or {}).get(pulley.name), usual)
            found.append(
                Answer(
                    check="belt_wrap",
                    at=f"{at}.{pulley.name}",
                    word=least(wrap, against),
                    value=wrap,
                    unit="°",
                    limit=against,
                    used=(
                        Figure(name="pulley", value=pulley.diameter_mm, unit="mm", came="typed"),
                    ),
                )
            )
    return tuple(found)
