"""Sentences about the tasks a run would make: what they are, where their hours are from."""

from webapp.pages.words import amounts as words
from webapp.pages.words.how import TIMES, How
from webapp.plumbing.run_tasks import (
    BEAD_HOURS,
    BEND_HOURS,
    CLOSING_HOURS,
    CUT_HOURS,
    JOINT_HOURS,
    OUTSIDE_DAYS,
    PRIOR_HOURS,
    TEST_HOURS,
    WELD_HOURS,
    RunRates,
)

TITLE = "Tasks it can make"


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
        f"Assumed: {_least(CUT_HOURS)} a cut, {_least(BEAD_HOURS)} a beaded end,"
        f" {_least(WELD_HOURS)} a weld, {_least(JOINT_HOURS)} a joint and {_least(BEND_HOURS)} a"
        f" bend to fit, {_least(CLOSING_HOURS)} a clamp or seal, {_least(TEST_HOURS)} a test;"
        f" {words.days(OUTSIDE_DAYS)} for what somebody licensed makes."
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
