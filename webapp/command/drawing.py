"""How the chances of first start are drawn, as asked for on the command line."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from webapp.build.build_input import BuildInput
from webapp.command.refusal import RefusedError

if TYPE_CHECKING:
    from webapp.planning.chances.factors import Factors
    from webapp.planning.chances.forecast import Forecast
    from webapp.planning.simulator.work_arrays import WorkArrays


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """So many draws; `as_estimated` leaves the record out, `seed` None takes the usual luck."""

    draws: int
    as_estimated: bool = False
    seed: int | None = None

    def chances(
        self, build: BuildInput, *, on_path: bool = False
    ) -> tuple["Forecast | None", dict[str, float]]:
        """The forecast of a faultless build, None where first start has no date.

        Beside it by key how often each task is on the path in these draws, where that is asked.
        """
        from webapp.planning.chances.criticality import walked
        from webapp.planning.chances.forecast import forecast_of
        from webapp.planning.chances.luck import SEED, Luck
        from webapp.planning.order.known_date import what_is_missing

        if what_is_missing(build):
            return None, {}
        luck = Luck(self.draws, SEED if self.seed is None else self.seed)
        factors = self._factors(build)
        if on_path:
            return walked(build, luck, factors=factors)
        return forecast_of(build, luck, factors=factors), {}

    def laid_out(self, build: BuildInput, forecast: "Forecast | None") -> "WorkArrays":
        """The build at the person's own pace, whose plan ends on the likely day of a forecast.

        As estimated where the record is left out or there is no date.
        """
        from webapp.planning.chances.likely_day import at_pace, pace_by
        from webapp.planning.simulator.work_arrays import lay_out

        factors = self._factors(build)
        if factors is None or forecast is None:
            return lay_out(build)
        return at_pace(build, factors, pace_by(build, forecast, factors))

    def heard(self, build: BuildInput) -> tuple[str, ...]:
        """Whose records the draws hear beside the build's own, in lines."""
        from webapp.pages.words.earlier_records import drawn_words

        factors = self._factors(build)
        if factors is None:
            return ()
        return drawn_words(build, factors.level.factor, factors.attendance.mean)

    def earlier(self, build: BuildInput) -> dict[str, object]:
        """The same for other programs, left out where there are none."""
        from webapp.exchange.plan_document import earlier_records

        records = () if self.as_estimated else earlier_records(build)
        return {"earlier_records": [*records]} if records else {}

    def _factors(self, build: BuildInput) -> "Factors | None":
        from webapp.planning.record.calibration import factors_of

        if self.as_estimated:
            return None
        return factors_of(build, calibrated=build.calibrated, attended=build.attended)


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
