"""What would win a week, and what it takes to be firm by the wanted-by date."""

from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.firm_by import FirmBy, firm_by
from webapp.planning.chances.levers import Lever, levers_of
from webapp.planning.tighten.quick_order import quick_order


@dataclass(frozen=True, slots=True, kw_only=True)
class Levers:
    """What would win a week, and the other way round; see `levers` and `firm_by`."""

    levers: tuple[Lever, ...]
    firm_by: FirmBy | None


def levers_found(build: BuildInput, factors: Factors) -> Levers:
    """The levers of a faultless build in the order that holds, else in a good one."""
    order = () if build.kept_order else quick_order(build)
    found = levers_of(build, factors, order=order)
    return Levers(levers=found, firm_by=firm_by(build, factors))
