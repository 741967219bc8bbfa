"""Values: a weakness of a plan."""

import datetime as dt
from dataclasses import dataclass
from typing import Literal

FindingKind = Literal[
    "leads_nowhere",
    "follows_nothing",
    "no_estimate",
    "no_spread",
    "long_task",
    "no_driver",
    "far_float",
    "unplanned_work",
    "silent_work",
    "unlogged_work",
    "no_baseline",
    "old_baseline",
    "undated_part",
    "overdue_part",
    "empty_subsystem",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One weakness of the plan: what it is and whom it is about.

    `keys` are those of tasks, for parts and subsystems theirs. `within_limit` says that no more
    are affected than the reviews let pass. `limit_hours`: what they are longer than, or have
    more float than; `first_start_on`: the day that no work leads up to; `days_old`: how old the
    baseline is.
    """

    kind: FindingKind
    keys: tuple[str, ...]
    within_limit: bool = False
    limit_hours: float | None = None
    first_start_on: dt.date | None = None
    days_old: int | None = None
