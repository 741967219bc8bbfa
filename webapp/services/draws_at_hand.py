"""The draws that pages share: their luck, and first start in each draw of the last few states.

A change is told from the draws of the build before and after it. The forecast has drawn the one
already, and where the change before it was told at the same moment, the other is there too.
"""

import datetime as dt
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import Seconds
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.forecast import Forecast, forecasts_of
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.moves import Move, move_between
from webapp.services.kept import Kept

STATES_KEPT = 40
LUCK_HELD = 5000
"""So many arrays of a thousand draws, 40 MB, are kept before the luck is drawn anew."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class State:
    """A faultless build as it is planned at its moment; what it is drawn of has one `version`."""

    version: int
    build: BuildInput
    factors: Factors


class DrawsAtHand:
    """Luck and first starts, for as long as whoever made it keeps it."""

    def __init__(self) -> None:
        self._lucks: dict[int, Luck] = {}
        self._ends: Kept[tuple[int, dt.datetime, int], Seconds] = Kept(STATES_KEPT)

    def luck(self, draws: int) -> Luck:
        """The luck of so many draws, with what was drawn of it before."""
        luck = self._lucks.get(draws)
        if luck is None or luck.held > LUCK_HELD:
            luck = self._lucks[draws] = Luck(draws)
        return luck

    def keep(self, version: int, forecast: Forecast) -> Seconds:
        """Keep first start in each draw of a forecast by this luck, in wall seconds; (draws,)."""
        ends = forecast.draws.wall
        return self._ends.keep((version, forecast.calendar.now, len(ends)), ends)

    def at_hand(self, state: State, draws: int) -> Seconds | None:
        """First start in each of so many draws where it is kept."""
        return self._ends.get((state.version, state.build.now, draws))

    def move(self, earlier: State, later: State, draws: int) -> Move | None:
        """By how much first start moves from one state to the other; None where one has no date.

        What is not at hand is drawn, both side by side.
        """
        ends = {each: self.at_hand(each, draws) for each in (earlier, later)}
        lacking = [each for each, kept in ends.items() if kept is None]
        asked = ((each.build, each.factors) for each in lacking)
        for each, forecast in zip(lacking, forecasts_of(asked, self.luck(draws)), strict=True):
            ends[each] = None if forecast is None else self.keep(each.version, forecast)
        was, then = ends.values()
        return None if was is None or then is None else move_between(was, then)
