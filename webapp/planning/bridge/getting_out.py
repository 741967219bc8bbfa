"""Getting setups out between two builds: how far the log tells it longer or shorter than it is.

A replay gets setups out by itself, in the hours of the setup. What the log says beyond them, or
short of them, counts with the hours of the task; and of a getting out that stands half done the
rest is among the hours left, which a replay must not spend twice.
"""

from collections.abc import Iterable, Mapping

from webapp.build.build_input import Task
from webapp.build.setups_out import SetupKeys, out_after
from webapp.planning.bridge.worked import NO_HOURS, Worked


def half_out(log: Iterable[Worked]) -> set[str]:
    """Tasks whose last words in the log are of getting their setup out, none of them of work."""
    half: set[str] = set()
    for entry in log:
        if entry.hours > NO_HOURS:
            half.discard(entry.task)
        elif entry.setup_hours > NO_HOURS:
            half.add(entry.task)
    return half


def hours_beside(
    entries: Iterable[Worked],
    tasks: Mapping[str, Task],
    setups: Mapping[str, float],
    *,
    out: SetupKeys,
    half: set[str],
    people: int,
) -> dict[str, float]:
    """Hours that the logged getting out adds to the hours of each task, beside its work.

    `out` and `half` are as they were before the first entry, `setups` the hours of each. Where
    the rest of a half-done getting out was among the hours left, what is logged of it is work; of
    any other only what differs from the setup's own hours.
    """
    beside: dict[str, float] = {}
    half, under_way = set(half), set[str]()
    for entry in entries:
        task = tasks.get(entry.task)
        if task is None or task.setup is None or task.setup not in setups:
            continue
        key, logged = task.key, entry.setup_hours
        if key in under_way or (key in half and task.setup in out):
            beside[key] = beside.get(key, 0.0) + logged
        elif logged > NO_HOURS:
            beside[key] = beside.get(key, 0.0) + logged - setups[task.setup]
            under_way.add(key)
        if entry.hours > NO_HOURS:
            half.discard(key)
            under_way.discard(key)
        out = out_after(out, (task.setup,), people)
    return beside


def setups_left_out(
    entries: Iterable[Worked], tasks: Mapping[str, Task], out: SetupKeys, people: int
) -> SetupKeys:
    """The setups that are out after some entries of the log."""
    worked_on = (tasks.get(entry.task) for entry in entries)
    return out_after(out, (task.setup for task in worked_on if task and task.setup), people)
