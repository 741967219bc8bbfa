"""Whether every planned hour of hands of builds that share a shop belongs to one build alone.

Told in plain datetimes from the plans and from the hours as each build entered them: it knows no
rule by which the hours are shared, and shares nothing with what gives them away.
"""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.shop import DayHours
from webapp.planning.order.plan import Plan, PlannedTask
from webapp.planning.proof.open_hours import DAY, day_stretches, is_given_away, midnight

MINUTE = dt.timedelta(minutes=1)


def shared_hours_faults(plans: Mapping[str, tuple[BuildInput, Plan]]) -> tuple[str, ...]:
    """What is wrong with the plans of builds that share, by the names they are given under.

    A build comes with every session that belongs to another, whatever rule gave it away.
    """
    faults: list[str] = []
    work: list[tuple[dt.datetime, dt.datetime, str, str]] = []
    for name, (build, plan) in plans.items():
        tasks = {task.key: task for task in build.tasks}
        for planned in plan.tasks:
            task = tasks[planned.key]
            if task.outside_days is not None or planned.begins == planned.ends:
                continue
            stretches = list(_worked(build, planned))
            found = sum((ends - begins for begins, ends in stretches), dt.timedelta())
            hours = planned.end_shop_hours - planned.begin_shop_hours
            if abs(found - dt.timedelta(hours=hours)) > 2 * MINUTE:
                faults.append(
                    f"{name}: {planned.key} has {hours:.2f} h planned and {found} in its own "
                    f"sessions from {planned.begins} to {planned.ends}."
                )
            if task.people:
                work += [(begins, ends, name, planned.key) for begins, ends in stretches]
    return (*faults, *_overlaps(sorted(work)))


def _worked(build: BuildInput, planned: PlannedTask) -> Iterator[tuple[dt.datetime, dt.datetime]]:
    """The stretches of a task within the sessions that are the build's own, day by day."""
    day = planned.begins.date()
    while day <= planned.ends.date():
        of_day = replace(build.shop, given=())
        for opens, closes in day_stretches(of_day, day, helper_only=False):
            begins, ends = max(opens, planned.begins), min(closes, planned.ends)
            if begins < ends and not _is_anothers(build, day, opens, closes):
                yield begins, ends
        day += DAY


def _is_anothers(build: BuildInput, day: dt.date, opens: dt.datetime, closes: dt.datetime) -> bool:
    minutes = [round((at - midnight(day)) / MINUTE) for at in (opens, closes)]
    hours = DayHours(opens_minute=minutes[0], closes_minute=minutes[1])
    return is_given_away(build.shop, day, hours, of_later_work=True)


def _overlaps(work: list[tuple[dt.datetime, dt.datetime, str, str]]) -> Iterator[str]:
    """Every stretch that begins while another build is still at work."""
    until: dict[str, tuple[dt.datetime, str]] = {}
    for begins, ends, name, key in work:
        for other, (other_ends, other_key) in until.items():
            if other != name and begins < other_ends:
                yield f"{name} works on {key} and {other} on {other_key} at {begins}."
        if name not in until or until[name][0] < ends:
            until[name] = ends, key
