"""Benchmark rows of the forecast and of a wish's price."""

import datetime as dt
import resource
import subprocess
import sys
from dataclasses import replace

from tests.benchmarks.timing import best_of, row
from tests.benchmarks.workshop_builds import workshop_build
from webapp.build.build_input import ThreePoint, Wish, WishPart
from webapp.planning.chances.forecast import forecast_of
from webapp.planning.chances.wish_prices import price_wish

TO_REACH = {100: "1 s, 1,000 MB", 250: "4 s, 1,000 MB"}


def forecasts() -> None:
    """10,000 draws of two builds, each in a process of its own for its memory."""
    for count in TO_REACH:
        code = f"from tests.benchmarks.forecast import ten_thousand; ten_thousand({count})"
        subprocess.run([sys.executable, "-c", code], check=True)


def ten_thousand(count: int) -> None:
    """The chances of first start and the criticality of every task, and the memory that took."""
    build = workshop_build(count)
    seconds = best_of(3, lambda: forecast_of(build, draws=10_000))
    megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3
    row(f"10,000 draws of {count} tasks", f"{seconds:.2f} s, {megabytes:.0f} MB", TO_REACH[count])


def wish_prices() -> None:
    """One wish in the middle of a build, four ways."""
    build = workshop_build(250)
    wish = Wish(
        key="wish",
        text="Second battery",
        logged_on=build.now.date(),
        after="t60",
        before="t180",
        setup="setup1",
        hours=ThreePoint(optimistic=2, most_likely=4, pessimistic=8),
        parts=(WishPart(name="Battery", lead_days=5, cost=118),),
    )
    build = replace(build, wishes=(wish,), wanted_by=build.now.date() + dt.timedelta(days=700))
    seconds = best_of(3, lambda: price_wish(build, wish, draws=2000))
    row("four ways of one wish at 250 tasks, 2,000 draws", f"{seconds:.2f} s", "1.5 s")
