"""What the planner answers: the plan of one build, frozen."""

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from webapp.planning.network.obstacles import Standing

ReasonKind = Literal[
    "dependency", "wait", "part", "people", "station", "setup", "helper", "session"
]
UnplannedKind = Literal["held", "no_session", "behind", "beyond_dates"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """One thing that was last to clear before a task could begin.

    `what` names the task before (dependency, wait), the part, the task that had the hands
    (people), the station's or setup's own key, or the opening time as YYYY-MM-DDTHH:MM
    (session, helper).
    """

    kind: ReasonKind
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedTask:
    """One task in the job order. Shop hours count from the build's `now`.

    `end_shop_hours - begin_shop_hours` is `setup_hours` (getting the setup out) plus the work.
    `total_float_hours` and `free_float_hours` come from dependencies alone, unlimited hands.
    `for_first_start` says whether first start needs this task.
    """

    key: str
    begins: dt.datetime
    ends: dt.datetime
    begin_shop_hours: float
    end_shop_hours: float
    setup_hours: float
    held_by: tuple[Reason, ...]
    total_float_hours: float
    free_float_hours: float
    on_path: bool
    for_first_start: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class UnplannedTask:
    """A task that can never start as things stand, and why.

    "held": `standing` says what holds it for ever; "no_session": none that is long enough is
    left, or none with the helper; "behind": a task before it can not be planned itself;
    "beyond_dates": it would not be done within the years that have dates.
    """

    key: str
    kind: UnplannedKind
    standing: Standing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PathStep:
    """One stretch of the path to first start: a task, a wait, or what was waited for.

    `kind` "task": `what` is the task's key. "wait": the key of the task whose wait runs (cure,
    drain, soak). "part", "helper", "session", "station", "setup": as in `Reason`.
    """

    kind: Literal["task", "wait", "part", "helper", "session", "station", "setup"]
    what: str
    begins: dt.datetime
    ends: dt.datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The job order of a build, its path to first start and what could not be planned.

    `tasks` stand in job order (by begin, then the order they were picked in).
    `first_start_at` is None where first start waits for something that can never come.
    """

    now: dt.datetime
    first_start_at: dt.datetime | None
    first_start_shop_hours: float | None
    tasks: tuple[PlannedTask, ...]
    unplanned: tuple[UnplannedTask, ...]
    path: tuple[PathStep, ...]
