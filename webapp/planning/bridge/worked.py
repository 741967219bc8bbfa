"""Hours worked on a task on one date, getting out told apart."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from webapp.build.build_input import LogEntry

NO_HOURS = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """An entry of the log: `setup_hours` went into getting the setup out, not among `hours`."""

    task: str
    on: dt.date
    hours: float
    setup_hours: float = 0.0


def worked_by(log: Iterable[LogEntry]) -> list[Worked]:
    """What a log says was worked."""
    return [
        Worked(
            task=entry.task,
            on=entry.on,
            hours=entry.hours,
            setup_hours=getattr(entry, "setup_hours", 0.0),
        )
        for entry in log
    ]
