"""How the chances of first start are drawn, as asked for on the command line."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from webapp.build.build_input import BuildInput
from webapp.command.refusal import RefusedError

if TYPE_CHECKING:
    from webapp.planning.chances.forecast import Forecast


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """So many draws; `as_estimated` leaves the record out, `seed` None takes the usual luck."""

    draws: int
    as_estimated: bool = False
    seed: int | None = None

    def forecast(self, build: BuildInput) -> "Forecast | None":
        """The forecast of a faultless build, None where first start has no date."""
        from webapp.planning.chances.forecast import SEED, forecast_of
        from webapp.planning.record.calibration import factors_of

        factors = None
        if not self.as_estimated:
            factors = factors_of(build, calibrated=build.calibrated, attended=build.attended)
        seed = SEED if self.seed is None else self.seed
        return forecast_of(build, draws=self.draws, factors=factors, seed=seed)


def drawing_of(draws: int | None, *, as_estimated: bool, seed: int | None) -> Drawing | None:
    """What was asked for, None where no draws were. Raises RefusedError."""
    if draws is not None:
        return Drawing(draws=draws, as_estimated=as_estimated, seed=seed)
    idle = [
        name
        for name, is_there in (("--as-estimated", as_estimated), ("--seed", seed is not None))
        if is_there
    ]
    if idle:
        raise RefusedError(
            f"{name} says how to draw, and nothing is drawn. Add --draws N, such as --draws 2000, "
            f"or leave {name} out."
            for name in idle
        )
    return None
