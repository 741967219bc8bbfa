"""Growth by heat: how much longer a pipe gets, and whether there is room for it."""

from dataclasses import dataclass

from webapp.sizing.answers import Answer, Figure, Limit, Outside, Range, first_outside, not_checked

GROWTH_PER_K: dict[str, float] = {
    "steel": 11.7e-6,
    "stainless": 17.2e-6,
    "aluminium": 23.4e-6,
    "copper": 16.6e-6,
}
"""Of mild steel, stainless 304, aluminium, copper: engineering handbooks, cited."""
COLD_C = 20.0
NO_ROOM = "Fixed at both ends without a flexible joint, a slip joint or a hose: no room to grow."
LEG = "A leg and a flexible joint take growth up; hangers fixed near the engine, free at the rear."


@dataclass(frozen=True, slots=True, kw_only=True)
class HotPipe:
    """A pipe: its metal, its length, how hot it gets, and whether anything gives way."""

    length_mm: float
    material: str
    hot_c: float
    gives_way: bool
    cold_c: float = COLD_C


def growth_mm(pipe: HotPipe) -> float | Outside:
    """How much longer it gets: coefficient x length x warming. Valid to 900 °C."""
    outside = first_outside(
        Range(name="temperature of the pipe", value=pipe.hot_c, least=-40, most=900, unit="°C"),
        Range(name="length", value=pipe.length_mm, least=1, most=20_000, unit="mm"),
    )
    if outside is not None:
        return outside
    return GROWTH_PER_K[pipe.material] * pipe.length_mm * (pipe.hot_c - pipe.cold_c)


def growth(at: str, pipe: HotPipe, limit: Limit | None = None) -> Answer:
    """How much a pipe grows in mm; too long where nothing gives way."""
    if pipe.material not in GROWTH_PER_K:
        return Answer(
            check="growth",
            at=at,
            word="not checked",
            because=f"nothing is known of the growth of {pipe.material or 'the pipe'}",
        )
    grows = growth_mm(pipe)
    if isinstance(grows, Outside):
        return not_checked("growth", at, grows)
    is_past = limit is not None and grows > limit.tight
    return Answer(
        check="growth",
        at=at,
        word="ok" if pipe.gives_way and not is_past else "too long",
        value=grows,
        unit="mm",
        limit=limit,
        used=(
            Figure(name="material", value=pipe.material),
            Figure(
                name="coefficient", value=GROWTH_PER_K[pipe.material] * 1e6, unit="millionths/K"
            ),
            Figure(name="length", value=pipe.length_mm / 1000, unit="m"),
            Figure(name="temperature of the pipe", value=pipe.hot_c, unit="°C"),
            Figure(name="gives way", value="yes" if pipe.gives_way else "no"),
        ),
        remarks=(LEG,) if pipe.gives_way else (NO_ROOM, LEG),
    )
