"""How sure the date is: the spread of first start, its chances, each task's share of the paths."""

import datetime as dt
from dataclasses import dataclass

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.build.time_units import DAY_SECONDS
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.earlier_records import tasks_behind, weeks_behind
from webapp.pages.words.how import How, chances_how
from webapp.pages.words.moves import tenths
from webapp.pictures.spread import Chance, Spread, spread
from webapp.planning.chances.forecast import Forecast
from webapp.planning.chances.likely_day import LIKELY
from webapp.services.forecast_figures import ForecastFigures

SHARES = (0.1, 0.5, 0.8, 0.9)
BROAD_WIDTH, NARROW_WIDTH = 760.0, 358.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ChanceLine:
    """One chance in the table: how often, by when, in how many shop hours from now."""

    odds: str
    day: str
    hours: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SurenessView:
    """`basis` says what the draws were made from; `working` while there are none yet."""

    pictures: tuple[Spread, ...]
    chances: tuple[ChanceLine, ...]
    basis: str
    working: bool
    how: How | None = None


def sureness_view(page: PageContext) -> SurenessView:
    """The spread as far as it is known."""
    figures = page.figures
    if figures is None:
        return SurenessView(pictures=(), chances=(), basis="", working=not page.forecast.ready)
    forecast, confidence = figures.forecast, page.build.confidence
    shares = sorted({*SHARES, confidence})
    named = {LIKELY: ", likely", confidence: ", firm"}
    chances = [
        Chance(
            share=share,
            at=forecast.at(share),
            words=named.get(share, words.odds(share)).removeprefix(", "),
        )
        for share in shares
    ]
    days = draws_by_day(forecast)
    firm = forecast.at(confidence)
    return SurenessView(
        pictures=tuple(
            spread(days, chances, firm=firm, width=width, broad=broad)
            for width, broad in ((BROAD_WIDTH, True), (NARROW_WIDTH, False))
        ),
        chances=tuple(
            ChanceLine(
                odds=f"{words.odds(share)}{named.get(share, '')}",
                day=words.day(forecast.at(share), today=page.today),
                hours=words.tenth_hours(forecast.shop_hours(share)),
            )
            for share in shares
        ),
        basis=_basis(page.build, figures, len(forecast.end_wall)),
        working=False,
        how=chances_how(
            day=words.day(firm, today=page.today),
            reached=forecast.draws_by(firm.date()),
            draws=len(forecast.end_wall),
        ),
    )


def draws_by_day(forecast: Forecast) -> dict[dt.date, int]:
    """How many draws end on each day."""
    now = forecast.calendar.now
    midnight = dt.datetime.combine(now.date(), dt.time())
    days, draws = np.unique(
        (forecast.end_wall + int((now - midnight).total_seconds())) // DAY_SECONDS,
        return_counts=True,
    )
    return {
        now.date() + dt.timedelta(days=day): number
        for day, number in zip(days.tolist(), draws.tolist(), strict=True)
    }


def _basis(build: BuildInput, figures: ForecastFigures, draws: int) -> str:
    """What stands behind the chances: the three hours, and the record as far as it counts."""
    own = sum(kind.count for kind in figures.factors.kinds)
    record = tasks_behind(own, build, "finished task")
    weeks = weeks_behind(figures.factors.attendance.weeks, build)
    said = [f"{draws:,} draws of the three hours of every task"]
    if build.calibrated and record:
        said.append(f"the record of {record}")
    if build.attended and weeks:
        said.append(
            f"{weeks} in which"
            f" {words.number(figures.factors.attendance.mean * 100, 0)} % of the hours that could"
            " be worked were worked"
        )
    return f"From {words.listed(said)}."


def draws_words(share: float | None) -> str:
    """How often a task is on the path: "9 of 10", "<1 of 10", "never"."""
    if share is None:
        return ""
    return "never" if share <= 0 else tenths(share)
