"""What is drawn of a build: every task's hours and the helper sessions that are missed.

A task's hours are its planned hours times how far off its three points let it be, times the
factor of its kind of work, over attendance. The factors are drawn once a draw, the level of all
work and then each kind round it, so that errors of one kind do not cancel, and those of one
builder not either. Attendance does not stretch work with the helper: where the builder is not
there, that helper session is missed. Every draw has a name (common random numbers): two builds
that share a task have the same luck for it.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from webapp.build.build_input import BuildInput, Task
from webapp.build.hours_to_go import planned_seconds
from webapp.build.time.shop_calendar import Seconds, ShopCalendar
from webapp.planning.chances.factors import (
    LEAST_ATTENDANCE,
    LUCK_OF_LEVEL,
    NO_RECORD,
    Factors,
    kind_of,
    luck_of_kind,
)
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.pert_beta import Floats
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.simulator.house_rules import HouseRules, Ranking
from webapp.planning.simulator.missed_helper import MissedHelper
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Flags, WorkArrays, for_first_start_only, lay_out

MOST_SESSIONS_DRAWN = 1000
"""Helper sessions after so many have the luck of the earlier ones again."""
SESSIONS_A_TASK = 4
"""So many helper sessions in a row the calendar has room to miss for each task with the helper."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drawn:
    """The draws of a build, as variants of what first start needs of it.

    `variants` follow the order that holds: the kept one, else the house rules.
    """

    work: WorkArrays
    variants: Variants


def drawn_of(
    build: BuildInput,
    luck: Luck,
    *,
    factors: Factors | None = NO_RECORD,
    rules: HouseRules | None = None,
) -> Drawn | None:
    """Draw a faultless build; None where first start is finished or can not be planned.

    `factors` None draws from the three-point estimates alone. With `rules` the order is theirs.
    """
    draws = luck.draws
    attendance = np.ones(draws)
    if factors is not None:
        attendance = drawn_attendance(luck, factors)
    ratios = drawn_ratios(build, luck, factors)
    # Lay the calendar out for the draw that takes longest.
    shop_seconds = np.zeros(draws)
    for key, planned in planned_seconds(build).items():
        if key in ratios:
            shop_seconds += planned * ratios[key]
    spare_hours = float(shop_seconds.max(initial=0.0)) / 3600
    helped = sum(task.helper and task.is_open for task in build.tasks)
    missed_in_a_row = SESSIONS_A_TASK / max(float(attendance.min(initial=1.0)), LEAST_ATTENDANCE)
    spare_weeks = math.ceil(helped * missed_in_a_row) if attendance.min(initial=1.0) < 1 else 0
    work = lay_out(build, spare_hours=spare_hours, spare_weeks=spare_weeks)
    work = for_first_start_only(work)
    if work.first_start < 0:
        return None
    ranking = ranking_that_holds(build, work, rules=rules)
    return Drawn(work=work, variants=_variants(work, ratios, attendance, luck, ranking))


def drawn_again(
    build: BuildInput, drawn: Drawn, luck: Luck, *, factors: Factors | None = NO_RECORD
) -> Drawn:
    """Other draws of the same build, on the calendar and in the order of those there are."""
    attendance = drawn_attendance(luck, factors) if factors is not None else np.ones(luck.draws)
    ratios = drawn_ratios(build, luck, factors)
    (ranking,) = drawn.variants.rankings
    return replace(drawn, variants=_variants(drawn.work, ratios, attendance, luck, ranking))


def _variants(
    work: WorkArrays, ratios: dict[str, Floats], attendance: Floats, luck: Luck, ranking: Ranking
) -> Variants:
    return Variants(
        count=luck.draws,
        rankings=(ranking,),
        work_seconds=_drawn_seconds(work, ratios, luck.draws),
        missed_helper=missed_helper(work, attendance, luck),
    )


def drawn_ratios(
    build: BuildInput, luck: Luck, factors: Factors | None = NO_RECORD
) -> dict[str, Floats]:
    """Drawn over planned hours of every open task that takes hands-on hours."""
    tasks = [t for t in build.tasks if t.is_open and t.outside_days is None]
    attendance = np.ones(luck.draws)
    kinds: dict[str, Floats] = {}
    if factors is not None:
        attendance = drawn_attendance(luck, factors)
        kinds = _drawn_kinds(tasks, luck, factors)
    ratios = {}
    for task in tasks:
        if task.hours.expected <= 0:
            continue
        ratio = luck.over_expected(f"task {task.key}", task.hours)
        if factors is not None:
            ratio = ratio * kinds[kind_of(task)]
        ratios[task.key] = ratio if task.helper else ratio / attendance
    return ratios


def drawn_attendance(luck: Luck, factors: Factors) -> Floats:
    """Attendance of each draw, (draws,)."""
    normals = luck.normals("attendance")
    drawn = factors.attendance.mean + factors.attendance.sd * normals
    return np.maximum(drawn, LEAST_ATTENDANCE)


def _drawn_kinds(tasks: list[Task], luck: Luck, factors: Factors) -> dict[str, Floats]:
    """The factor of every kind of work in each draw: first the level is drawn, then the kinds."""
    level_off = factors.level.log_sd * luck.normals(LUCK_OF_LEVEL)
    drawn = {}
    for kind in sorted({kind_of(task) for task in tasks}):
        of_kind = factors.of_kind(kind)
        own_off = of_kind.own_log_sd * luck.normals(luck_of_kind(kind))
        for name, by in of_kind.beside:
            own_off += by * luck.normals(name)
        drawn[kind] = np.exp(of_kind.log_mean + (1 - of_kind.weight) * level_off + own_off)
    return drawn


def _drawn_seconds(work: WorkArrays, ratios: dict[str, Floats], draws: int) -> Seconds:
    """The drawn seconds of each task that first start needs, (n, draws)."""
    planned = work.work_seconds[:, np.newaxis]
    over_planned = np.ones((len(work), draws))
    for place, key in enumerate(work.keys):
        if key in ratios:
            over_planned[place] = ratios[key]
    over_planned *= planned
    drawn: Seconds = np.rint(over_planned, out=over_planned).astype(np.int64)
    return np.maximum(drawn, np.minimum(1, planned), out=drawn)


def missed_helper(
    work: WorkArrays, attendance: Floats, luck: Luck, *, since: int = 0
) -> MissedHelper | None:
    """Which stretches with the helper are missed in each draw; None: none is.

    Each is missed with probability 1 - attendance; none that ends by the wall second `since`,
    which lies in the past. Its name is the moment it ends, so that a session has the same luck in
    two builds.
    """
    if not work.helper.any() or (attendance >= 1).all():
        return None
    calendar, stretches = work.calendar, len(work.calendar.helper_to)
    ends = calendar.end_wall(calendar.helper_to[:MOST_SESSIONS_DRAWN]).tolist()

    def draw(stretch: int) -> Flags:
        end = ends[stretch % MOST_SESSIONS_DRAWN]
        if end <= since:
            return np.zeros(len(attendance), bool)
        return luck.shares(f"helper {_name(calendar, end)}") > attendance

    return MissedHelper(draw, stretches=stretches, count=len(attendance))


def _name(calendar: ShopCalendar, end: int) -> str:
    return calendar.minute(end).isoformat(timespec="minutes")
