"""How hot the charge gets in the compressor and behind its cooler, and what bears that heat."""

from dataclasses import dataclass
from typing import Literal

from webapp.sizing.answers import Answer, Figure, Limit, Outside, Range, first_outside, held, most
from webapp.sizing.state_of_air import KELVIN, air_kpa, kelvin

HeatCheck = Literal["charge_hose", "cooler_heat"]
EXPONENT = 0.2857
"""(1.4 - 1) / 1.4, as the formula is printed."""
HOSE_HEADROOM_K = 20.0
COOLANT_HOSE = (
    "Coolant hose is softened by oil mist: on the hot side of the charge take a lined silicone of "
    "four plies or more."
)
HOT_COUPLERS = "Couplers on the hot side: lined silicone of four plies or more."


@dataclass(frozen=True, slots=True, kw_only=True)
class Compressor:
    """Air into a compressor and out of it, absolute pressures, and how good it is (0 to 1)."""

    inlet_c: float
    inlet_kpa: float
    outlet_kpa: float
    efficiency: float = 0.70

    @property
    def pressure_ratio(self) -> float:
        """Outlet over inlet, both absolute."""
        return self.outlet_kpa / self.inlet_kpa


def compressor_outlet_c(compressor: Compressor) -> float | Outside:
    """Temperature behind the compressor: T1 (1 + (PR^0.2857 - 1) / efficiency), T in K.

    Heywood, Internal Combustion Engine Fundamentals (1988), section 6.6, cited. Valid for dry air,
    pressure ratio 1 to 5, efficiency 0.5 to 0.85.
    """
    outside = first_outside(
        Range(name="intake air", value=compressor.inlet_c, least=-40, most=80, unit="°C"),
        Range(name="pressure ratio", value=compressor.pressure_ratio, least=1, most=5),
        Range(name="compressor's efficiency", value=compressor.efficiency, least=0.5, most=0.85),
    )
    if outside is not None:
        return outside
    rise = (compressor.pressure_ratio**EXPONENT - 1) / compressor.efficiency
    return float(kelvin(compressor.inlet_c) * (1 + rise) - KELVIN)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cooler:
    """A charge cooler: what comes in, what it is cooled by, and its effectiveness (0 to 1)."""

    inlet_c: float
    cooled_by_c: float
    effectiveness: float = 0.65


def cooler_outlet_c(cooler: Cooler) -> float | Outside:
    """Temperature behind a cooler: T2 - effectiveness (T2 - that of what cools it).

    The definition of effectiveness: Incropera and DeWitt, chapter 11, cited.
    """
    outside = first_outside(
        Range(name="cooler's effectiveness", value=cooler.effectiveness, least=0, most=0.95),
        Range(name="compressor's outlet", value=cooler.inlet_c, least=-40, most=350, unit="°C"),
        Range(name="cooling air", value=cooler.cooled_by_c, least=-40, most=100, unit="°C"),
    )
    if outside is not None:
        return outside
    return cooler.inlet_c - cooler.effectiveness * (cooler.inlet_c - cooler.cooled_by_c)


def density_ratio(
    manifold_kpa: float, manifold_c: float, intake_c: float, height_m: float = 0.0
) -> float:
    """How much more air a litre in the manifold holds than one outside: (p/T) / (p0/T0)."""
    return (manifold_kpa / kelvin(manifold_c)) / (air_kpa(height_m) / kelvin(intake_c))


@dataclass(frozen=True, slots=True, kw_only=True)
class HotPart:
    """The air that comes to a hose or a cooler's tank, and what that is rated for."""

    charge_c: float
    rated_c: float
    material: str = ""


def charge_hose(at: str, inputs: HotPart, source: str, limit: Limit | None = None) -> Answer:
    """Whether a hose bears the charge: 20 K below its rating is ok, up to it is tight.

    The rating is the hose seller's, `source` says where it was read; the 20 K are common practice.
    """
    material = inputs.material.strip().lower()
    remarks = (COOLANT_HOSE,) if material in ("coolant", "epdm") else ()
    if not remarks and "lined" not in material:
        remarks = (HOT_COUPLERS,)
    usual = _rating(inputs, source)
    return _bears("charge_hose", at, inputs, held(limit, usual), remarks)


def cooler_heat(at: str, inputs: HotPart, source: str, limit: Limit | None = None) -> Answer:
    """Whether a charge cooler with plastic tanks bears the charge, by its maker's figure."""
    usual = _rating(inputs, source)
    return _bears("cooler_heat", at, inputs, held(limit, usual), ())


def _rating(inputs: HotPart, source: str) -> Limit:
    return Limit(
        ok=inputs.rated_c - HOSE_HEADROOM_K, tight=inputs.rated_c, origin="typed", source=source
    )


def _bears(
    check: HeatCheck, at: str, inputs: HotPart, limit: Limit, remarks: tuple[str, ...]
) -> Answer:
    used = (
        Figure(name="rated for", value=inputs.rated_c, unit="°C"),
        *((Figure(name="material", value=inputs.material),) if inputs.material else ()),
    )
    return Answer(
        check=check,
        at=at,
        word=most(inputs.charge_c, limit, "too hot"),
        value=inputs.charge_c,
        unit="°C",
        limit=limit,
        used=used,
        remarks=remarks,
    )
