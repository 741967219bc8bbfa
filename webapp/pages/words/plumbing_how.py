"""How the figures of plumbing were worked out, each with its own numbers."""

import math

from webapp.pages.words import sizes
from webapp.pages.words.amounts import listed
from webapp.pages.words.how import TIMES, How
from webapp.plumbing.litres import USUAL_TUBE_WALL_MM
from webapp.plumbing.shelf import TUBE_KERF_MM


def litres_how(
    *,
    circuit: str,
    components: tuple[tuple[str, float], ...],
    runs_litres: float,
    whole: float,
    without: tuple[str, ...],
) -> How:
    """What a circuit holds: its components as typed, its hoses and tubes by bore and length."""
    parts = [f"{name} {sizes.litres(value)}" for name, value in components]
    sums = " + ".join([*parts, f"hoses and tubes {sizes.litres(runs_litres)}"])
    total = f" = {sizes.litres(whole)}, but for rounding" if parts else ""
    texts = [
        f"{circuit}: {sums}{total}. A hose or tube holds"
        f" π/4 {TIMES} bore² {TIMES} length; of a tube the walls go off,"
        f" {sizes.length(USUAL_TUBE_WALL_MM)} each unless another is typed; a bend without a length"
        " is an arc of 1.5 diameters."
    ]
    if without:
        texts.append(f"Nobody said what these hold, so they are not in it: {listed(without)}.")
    return How(figures=("litres",), of="what it holds", sentences=tuple(texts))


def no_litres_how() -> How:
    """Where litres stand, and none is known."""
    return How(figures=("litres",), of="what it holds", sentences=("Nothing is known yet.",))


def lengths_how(example: tuple[str, tuple[float, ...], float] | None) -> How:
    """Metres to buy, with one thing as the example: its name, its pieces and their sum in mm."""
    texts = [
        "A length is given from the shelf first: the longest piece to the shortest length it can be"
        f" cut from, {sizes.length(TUBE_KERF_MM)} off for every saw cut of a tube, none for a knife"
        " through hose. What no length on the shelf takes is counted in metres."
    ]
    if example is not None:
        name, pieces, total = example
        sums = " + ".join(map(sizes.bare, pieces))
        unit = "mm" if sizes.is_metric() else "in"
        texts.append(f"{sizes.called(name)}: {sums} = {sizes.bare(total)} {unit}.")
    return How(figures=("to-buy",), of="what is to be bought", sentences=tuple(texts))


def clamp_how(*, bore_mm: float, wall_mm: float, over_mm: float, holds_mm: float, name: str) -> How:
    """Which clamp a joint asks for, with one joint as the example."""
    outside = bore_mm + 2 * wall_mm
    ring = math.sqrt(over_mm**2 + outside**2 - bore_mm**2)
    return How(
        figures=("clamp",),
        of="which clamp a joint asks for",
        sentences=(
            f"A hose that is pushed over something keeps its rubber, so its outside is √(over² +"
            f" outside² - bore²). Hose {sizes.bare(bore_mm)} with a wall of {sizes.bare(wall_mm)}"
            f" is {sizes.bare(outside)} outside; over {sizes.bare(over_mm)} that is"
            f" √({sizes.bare(over_mm)}² + {sizes.bare(outside)}² - {sizes.bare(bore_mm)}²) ="
            f" {sizes.diameter(ring)}.",
            f"A clamp holds {sizes.diameter(holds_mm)} well where it lies in the middle 70 % of its"
            " range: the narrowest such on the shelf, else the smallest step to buy:"
            f" {sizes.called(name)}.",
        ),
    )


def fit_how() -> How:
    """How it is told whether a joint fits."""
    wider, tight, slack = (sizes.diameter(mm) for mm in (1.0, 1.5, 0.3))
    half = "half a bar" if sizes.is_metric() else sizes.bar(0.5)
    return How(
        figures=("fit",),
        of="whether a joint fits",
        sentences=(
            f"A hose goes over an end that is up to 5 % or {wider} wider than its bore, is tight up"
            f" to 10 % or {tight}, and does not fit beyond; silicone stretches 3 % at most. Down to"
            f" {slack} of slack is right too; a little more is loose, in water, or in air under"
            f" {half}, alone. Threads, flanges and cones fit their own name only. Common practice.",
        ),
    )
