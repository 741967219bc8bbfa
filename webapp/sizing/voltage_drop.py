"""Battery cables and wires: the volts that are lost on the way out and back."""

from dataclasses import dataclass

from webapp.build.data_sheet import WireUse
from webapp.sizing.answers import (
    Answer,
    Figure,
    Limit,
    Outside,
    Range,
    first_outside,
    held,
    most,
    not_checked,
)

OHM_KM: dict[float, float] = {
    0.5: 39.0,
    0.75: 26.0,
    1.0: 19.5,
    1.5: 13.3,
    2.5: 7.98,
    4.0: 4.95,
    6.0: 3.30,
    10.0: 1.91,
    16.0: 1.21,
    25.0: 0.780,
    35.0: 0.554,
    50.0: 0.386,
    70.0: 0.272,
    95.0: 0.206,
    120.0: 0.161,
}
"""Most resistance of a conductor by its area in mm², Ω/km at 20 °C: IEC 60228 class 5, plain
copper (read in three tables). Vehicle wire has about 5 % less, so this is the cautious table."""
WARMER_PER_K = 0.00393
"""Copper at 20 °C."""
LEAST_MM2, MOST_MM2 = 0.5, 150.0
STARTER_12_V = Limit(ok=0.5, tight=0.8)
"""Volts, of a 12 V starter; twice that at 24 V."""
FEED = Limit(ok=3.0, tight=5.0)
"""% of the battery's volts: pumps, engine computer, lamps."""
TWICE = "For a moment a starter takes twice its running current."
EARTH_PATH = (
    "The way back counts: a strap from engine to body of the same size as the cable. With the"
    " starter turning, no more than 0.3 V (24 V: 0.6) from the block to the battery's post: a"
    " reading to sign."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WireRun:
    """A wire: its current, its copper, how far it is out and back, and how warm it is there."""

    current_a: float
    area_mm2: float
    out_and_back_m: float
    battery_v: float = 12.0
    celsius: float = 20.0
    use: WireUse = "feed"


def reckoned_mm2(area_mm2: float) -> float:
    """The area of the table that a wire is reckoned with: its own, else the next smaller one.

    So a wire by another system of sizes (AWG by its area) is never taken for better than it is.
    """
    return max(size for size in OHM_KM if size <= area_mm2 + 1e-9)


def drop_v(wire: WireRun) -> float | Outside:
    """Volts lost: current x resistance x length x (1 + 0.00393 (°C - 20))."""
    outside = first_outside(
        Range(
            name="area of the wire", value=wire.area_mm2, least=LEAST_MM2, most=MOST_MM2, unit="mm²"
        ),
        Range(name="current", value=wire.current_a, least=0.01, most=3000, unit="A"),
        Range(name="length out and back", value=wire.out_and_back_m, least=0.05, most=60, unit="m"),
        Range(name="temperature of the wire", value=wire.celsius, least=-40, most=125, unit="°C"),
        Range(name="battery", value=wire.battery_v, least=6, most=48, unit="V"),
    )
    if outside is not None:
        return outside
    ohm = OHM_KM[reckoned_mm2(wire.area_mm2)] / 1000 * wire.out_and_back_m
    return wire.current_a * ohm * (1 + WARMER_PER_K * (wire.celsius - 20))


def voltage_drop(at: str, wire: WireRun, limit: Limit | None = None) -> Answer:
    """The drop of a starter's circuit in volts, of any other in % of the battery's volts."""
    drop = drop_v(wire)
    if isinstance(drop, Outside):
        return not_checked("voltage_drop", at, drop)
    is_starter, share = wire.use == "starter", 100 * drop / wire.battery_v
    scale = wire.battery_v / 12
    usual = Limit(ok=STARTER_12_V.ok * scale, tight=STARTER_12_V.tight * scale)
    against = held(limit, usual if is_starter else FEED)
    value = drop if is_starter else share
    also = (
        Figure(name="share of the battery's volts", value=share, unit="%")
        if is_starter
        else Figure(name="lost", value=drop, unit="V")
    )
    return Answer(
        check="voltage_drop",
        at=at,
        word=most(value, against),
        value=value,
        unit="V" if is_starter else "%",
        limit=against,
        used=(
            Figure(name="current", value=wire.current_a, unit="A"),
            Figure(name="area of the wire", value=wire.area_mm2, unit="mm²"),
            Figure(name="length out and back", value=wire.out_and_back_m, unit="m"),
            Figure(name="temperature of the wire", value=wire.celsius, unit="°C"),
            Figure(name="battery", value=wire.battery_v, unit="V"),
            Figure(name="reckoned as", value=reckoned_mm2(wire.area_mm2), unit="mm²"),
            Figure(name="resistance", value=OHM_KM[reckoned_mm2(wire.area_mm2)], unit="Ω/km"),
        ),
        also=(also,),
        remarks=(TWICE, EARTH_PATH) if is_starter else (),
    )
