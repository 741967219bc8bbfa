"""Sentences about the tasks a run would make: what they are, where their hours are from."""

import datetime as dt
from collections.abc import Mapping

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.pages.words import amounts as words
from webapp.pages.words.how import TIMES, How
from webapp.plumbing.run_hours import ASSUMED, PRIOR_HOURS, RunCounts, RunRates, RunStep
from webapp.plumbing.run_tasks import OUTSIDE_DAYS

TITLE = "Tasks it can make"
EACH_WORDS: Mapping[str, str] = {
    "cut": "One cut",
    "bead": "One end beaded",
    "weld": "One weld",
    "joint": "One joint fitted",
    "bend": "One bend fitted",
    "closing": "One clamp or seal",
    "test": "The test",
}
"""What the hours for each thing are called."""
EACH_OF: Mapping[RunStep, tuple[str, ...]] = {
    "made outside": (),
    "cut": ("cut",),
    "bead": ("bead", "weld"),
    "fit": ("joint", "bend"),
    "clamp": ("closing",),
    "test": ("test",),
}
"""Of which things the hours of a step are made."""
STEP_WORDS: Mapping[RunStep, str] = {
    "made outside": "Having it made",
    "cut": "Cutting",
    "bead": "Beading and welding",
    "fit": "Fitting",
    "clamp": "Clamping",
    "test": "The test",
}
_COUNTED = {
    "cut": ("cut", "cuts"),
    "bead": ("end to bead", "ends to bead"),
    "weld": ("weld", "welds"),
    "joint": ("joint", "joints"),
    "bend": ("bend", "bends"),
    "closing": ("clamp or seal", "clamps or seals"),
}


def count_of(name: str, counts: RunCounts) -> int:
    """How many of a thing there are at a run; one test, where there is one."""
    return {
        "cut": counts.cuts,
        "bead": counts.beads,
        "weld": counts.welds,
        "joint": counts.joints,
        "bend": counts.bends,
        "closing": counts.closings,
        "test": 1,
    }[name]


def counted_said(step: RunStep, counts: RunCounts) -> str:
    """What there is to do in a step: "4 joints and one bend"."""
    told = [
        words.count(number, *_COUNTED[name])
        for name in EACH_OF[step]
        if name in _COUNTED and (number := count_of(name, counts))
    ]
    return words.sentence(words.listed(told)) if told else ""


def task_said(build: BuildInput, key: str, today: dt.date) -> str:
    """How a task stands: its hours, or that it is finished."""
    task = find_by_key(build.tasks, key)
    if task is None:
        return ""
    if task.finished_on is not None:
        return f"finished {words.day(task.finished_on, today=today)}"
    if task.outside_days is not None:
        return f"{words.days(task.outside_days)} outside"
    begun = "begun, " if task.begun_on is not None else ""
    return f"{begun}{words.worked(task.hours.most_likely)} likely"


def press_words(tasks: int) -> str:
    """What stands on the button."""
    return "Make this task" if tasks == 1 else f"Make these {tasks} tasks"


def without_said(runs: int) -> str:
    """Of a circuit, how many runs have no task."""
    return "One run has no task yet." if runs == 1 else f"{runs} runs have no task yet."


def source_said(rates: RunRates) -> str:
    """Where the hours are from."""
    if not rates.runs:
        return "The hours are assumed: no run of yours is finished with hours logged on it."
    runs = words.count(rates.runs, "run")
    return (
        f"The hours are drawn towards your own: {words.worked(rates.hours)} logged on"
        f" {runs} that you finished."
    )


def hours_said(hours: float) -> str:
    """The hours of one task."""
    return words.worked(hours)


def outside_said(days: float) -> str:
    """What is made outside takes days, not hours."""
    return f"{words.days(days)} outside, assumed"


def hours_how(rates: RunRates, stretched_by: float) -> How:
    """How the hours of the tasks of a run come about."""
    texts = [
        f"Assumed: {_least(ASSUMED.cut)} a cut, {_least(ASSUMED.bead)} a beaded end,"
        f" {_least(ASSUMED.weld)} a weld, {_least(ASSUMED.joint)} a joint and"
        f" {_least(ASSUMED.bend)} a bend to fit, {_least(ASSUMED.closing)} a clamp or seal,"
        f" {_least(ASSUMED.test)} a test; {words.days(OUTSIDE_DAYS)} for what somebody licensed"
        " makes."
    ]
    if rates.runs:
        texts.append(
            f"Your finished runs took {words.worked(rates.hours)}; {words.hours(PRIOR_HOURS)} of"
            f" them weigh as much as what is assumed: {rates.factor:.2f} {TIMES} what is assumed"
            " over all steps; a step with a record of its own goes by that."
        )
    if abs(stretched_by - 1) > LEAST_STRETCH:
        texts.append(
            f"The plan stretches hours of such work {TIMES} {stretched_by:.2f} by your record, so"
            " they are entered that much smaller: nothing is counted twice."
        )
    return How(figures=("task-hours",), of="the hours of its tasks", sentences=tuple(texts))


LEAST_STRETCH = 0.005


def _least(hours: float) -> str:
    return words.worked(hours)
