"""A small build of our own that the form tests start from."""

import datetime as dt

from webapp.build.build_input import (
    BuildInput,
    Dependency,
    LogEntry,
    Measure,
    Part,
    Step,
    Subsystem,
    Task,
)
from webapp.build.shop import DayHours, Setup, Shop, Station, WeekSession
from webapp.build.three_point import ThreePoint

NOW = dt.datetime(2026, 2, 9, 18, 0)  # a Monday


def small_build() -> BuildInput:
    """Bracket -> weld -> first start, one part, one setup, one station, two subsystems."""
    evening = DayHours(opens_minute=18 * 60, closes_minute=22 * 60)
    return BuildInput(
        name="The Heron",
        now=NOW,
        first_start="start",
        shop=Shop(
            week=tuple(WeekSession(weekday=day, hours=evening) for day in range(5)),
            setups=(Setup(key="tig", name="TIG welder out", hours=0.5),),
            stations=(Station(key="lift", name="Lift", count=2),),
        ),
        subsystems=(
            Subsystem(key="air", name="Air", medium="air", order=1),
            Subsystem(key="coolant", name="Coolant", medium="water", order=2),
        ),
        tasks=(
            Task(key="bracket", name="Make the bracket", hours=ThreePoint.certain(3)),
            Task(
                key="weld",
                name="Weld the bracket",
                hours=ThreePoint(optimistic=1, most_likely=2, pessimistic=3),
                subsystem="air",
                setup="tig",
                begun_on=dt.datetime(2026, 2, 6, 18, 30),
                caution="Ventilate.",
                steps=(Step(text="Tack it", done=True), Step(text="Weld out")),
                measures=(
                    Measure(kind="size", name="Rod", value="1.6 mm"),
                    Measure(kind="torque", name="Clamp", value="20 Nm"),
                ),
            ),
            Task(key="start", name="First start", hours=ThreePoint.certain(0)),
        ),
        dependencies=(
            Dependency(before="bracket", after="weld", wait_hours=1.5, why="paint dries"),
            Dependency(before="weld", after="start"),
        ),
        parts=(Part(key="rod", name="Filler rod", serves=("weld",), arrived=True),),
        log=(LogEntry(task="weld", on=dt.date(2026, 2, 6), hours=1.0, left=1.5, setup_hours=0.5),),
    )
