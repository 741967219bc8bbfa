"""Published networks as builds of a shop that never closes: one hour is one unit of time."""

import datetime as dt
from collections.abc import Iterable, Mapping

from tests.build.builds import MONDAY, build_of, task
from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import calendar_of
from webapp.planning.network.network import DependencyDates, dependency_dates

Hours = float | tuple[float, float, float]
# PERT example with seven activities (memory, recomputed).
PERT_SEVEN: dict[str, Hours] = {
    "A": (2, 4, 6),
    "B": (3, 5, 9),
    "C": (4, 5, 7),
    "D": (4, 6, 10),
    "E": (4, 5, 7),
    "F": (3, 4, 8),
    "G": (3, 5, 8),
}
PERT_LINKS = [("A", "C"), ("A", "D"), ("B", "E"), ("C", "E"), ("D", "F"), ("E", "G")]


def always_open(
    hours: Mapping[str, Hours], dependencies: Iterable[tuple[str, str]], finish: str = "finish"
) -> BuildInput:
    """The activities and a task of no hours after those that nothing follows: first start."""
    links = list(dependencies)
    followed = {before for before, _ in links}
    ends = [(key, finish) for key in hours if key not in followed]
    tasks = [*(task(key, value) for key, value in hours.items()), task(finish, 0)]
    return build_of(tasks, [*links, *ends], first_start=finish)


def dates_of(build: BuildInput) -> dict[str, DependencyDates]:
    """Dates of unlimited hands by key."""
    calendar = calendar_of(build, shop_hours=5_000, until=MONDAY + dt.timedelta(days=200))
    return {dates.key: dates for dates in dependency_dates(build, calendar)}


def row_of(dates: DependencyDates) -> tuple[float, float, float, float, float, float]:
    """ES, EF, LS, LF, total and free float in hours."""
    moments = (dates.earliest_begin, dates.earliest_end, dates.latest_begin, dates.latest_end)
    es, ef, ls, lf = (moment / 3600 for moment in moments)
    return es, ef, ls, lf, dates.total_float_hours, dates.free_float_hours
