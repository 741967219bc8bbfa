"""What the running clock stands for so far: getting the setup out, then the work."""

from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.hours_to_go import hours_left_after, hours_to_go_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockHours:
    """Hours at the bench since the clock began."""

    setup_hours: float = 0.0
    worked_hours: float = 0.0


def clock_hours(build: BuildInput) -> ClockHours:
    """What the clock of a build stands for at its `now`; nothing where none runs.

    Where the setup was not out, its own hours come first.
    """
    clock = build.on_bench
    if clock is None:
        return ClockHours()
    hours = max(0.0, (build.now - clock.since).total_seconds() / 3600)
    task = find_by_key(build.tasks, clock.task)
    setup = find_by_key(build.shop.setups, task.setup) if task is not None else None
    setup_hours = min(hours, setup.hours) if clock.gets_out and setup is not None else 0.0
    return ClockHours(setup_hours=setup_hours, worked_hours=hours - setup_hours)


def with_clock_counted(build: BuildInput) -> BuildInput:
    """The build with the time on the running clock taken off its task's hours left.

    Without it first start would slip by the minute while the work goes on.
    """
    clock = build.on_bench
    if clock is None:
        return build
    worked = clock_hours(build).worked_hours
    return replace(
        build,
        tasks=tuple(
            replace(
                task,
                hours_left=hours_left_after(hours_to_go_of(build, task), worked),
            )
            if task.key == clock.task and task.is_open and task.begun_on is not None
            else task
            for task in build.tasks
        ),
    )
