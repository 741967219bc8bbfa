"""When work that is new in a later build was accepted: before that it could not be done."""

import datetime as dt

from webapp.build.build_input import BuildInput
from webapp.build.moments import moment_at_start
from webapp.build.time_units import DAY


def accepted_at(earlier: BuildInput, later: BuildInput) -> dict[str, dt.datetime]:
    """The moment each new task of a wish was accepted, by key, not after it was begun.

    Of a decision only the date is known. It counts from the end of that day: had it been the
    task's turn before, it would have been begun.
    """
    decisions = {wish.key: wish.decision for wish in later.wishes}
    known = {task.key for task in earlier.tasks}
    accepted = {}
    for task in later.tasks:
        decision = decisions.get(task.wish or "")
        if task.key in known or decision is None:
            continue
        at = moment_at_start(decision.decided_on + DAY)
        if task.begun_on is not None:
            at = min(at, moment_at_start(task.begun_on))
        accepted[task.key] = min(max(at, earlier.now), later.now)
    return accepted
