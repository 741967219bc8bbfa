"""Benchmark rows of the forecast and of a wish's price."""

import datetime as dt
from dataclasses import replace

from tests.benchmarks.timing import Table, best_of, from_own_process
from tests.benchmarks.workshop_builds import workshop_build
from webapp.build.three_point import ThreePoint
from webapp.build.wish import Wish, WishPart
from webapp.planning.chances.criticality import walked
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.wish_prices import price_wish

TO_REACH = {100: "1 s, 1,000 MB", 250: "4 s, 1,000 MB"}


def forecasts(table: Table) -> None:
    """10,000 draws of two builds, each in a process of its own for its memory."""
    for count, to_reach in TO_REACH.items():
        seconds, megabytes = from_own_process("tests.benchmarks.forecast", "ten_thousand", count)
        measured = f"{seconds:.2f} s, {megabytes:.0f} MB"
        table.row(f"10,000 draws of {count} tasks", measured, seconds, to_reach)


def ten_thousand(count: int) -> float:
    """The chances of first start and the criticality of every task, in seconds."""
    build = workshop_build(count)
    return best_of(3, lambda: walked(build, Luck(10_000)))


def wish_prices(table: Table) -> None:
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
    seconds = best_of(3, lambda: price_wish(build, wish, Luck(2000)))
    what = "four ways of one wish at 250 tasks, 2,000 draws"
    table.row(what, f"{seconds:.2f} s", seconds, "1.5 s")
