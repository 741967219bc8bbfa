"""Is the plan sound? Each weakness in a sentence, the practice it falls short of, a remedy."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.pages.words import amounts as words
from webapp.pages.words.names import named
from webapp.pages.words.the_end import of_the_end, the_end
from webapp.planning.record.finding import Finding, FindingKind
from webapp.planning.record.soundness import LONG_TASK_WEEKS

PRACTICES: dict[FindingKind, str] = {
    "empty_subsystem": "capture all activities",
    "unplanned_work": "capture all activities",
    "leads_nowhere": "sequence all activities",
    "follows_nothing": "sequence all activities",
    "no_estimate": "establish durations",
    "long_task": "establish durations",
    "no_spread": "conduct a risk analysis",
    "undated_part": "valid critical path",
    "no_driver": "valid critical path",
    "far_float": "reasonable float",
    "overdue_part": "update with actuals",
    "silent_work": "update with actuals",
    "unlogged_work": "update with actuals",
    "no_baseline": "keep a baseline",
    "old_baseline": "keep a baseline",
}
"""The practice of GAO-16-89G that each falls short of."""
REMEDIES: dict[FindingKind, str] = {
    "empty_subsystem": "Enter its tasks, or take the subsystem out.",
    "unplanned_work": "Open the task again, or enter what was done as a task of its own.",
    "leads_nowhere": "Say which task comes after, or leave it for after first start.",
    "follows_nothing": "If something must come before, enter it as a dependency or a part.",
    "no_estimate": "Enter hours, unless it is only a mark that takes no work.",
    "long_task": "Split it into tasks that can each be finished in a week or two.",
    "no_spread": "Enter what it takes if it goes well, and if it fights you.",
    "undated_part": "Enter the date it is promised for, or your best guess.",
    "no_driver": "Enter what has to be done before first start.",
    "far_float": "Look whether something that must come after it is missing.",
    "overdue_part": "Mark it as arrived, or enter the date it is promised for now.",
    "silent_work": "Say what is left of it, finish it, or set it aside.",
    "unlogged_work": (
        "Write the hours down, as well as you remember: the forecast learns from them."
    ),
    "no_baseline": "Freeze today's plan as the baseline.",
    "old_baseline": "Freeze a new baseline; the old one is kept.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingWords:
    """A weakness of the plan in words."""

    practice: str
    sentence: str
    remedy: str


def finding_words(build: BuildInput, finding: Finding, *, today: dt.date) -> FindingWords:
    """What a finding about a build says."""
    return FindingWords(
        practice=PRACTICES[finding.kind],
        sentence=_sentence(finding, named(_names(build, finding)), today),
        remedy=of_the_end(REMEDIES[finding.kind]),
    )


def _names(build: BuildInput, finding: Finding) -> list[str]:
    """The names of what a finding is about; a key that nothing has any more stands for itself."""
    names: Mapping[str, str]
    match finding.kind:
        case "empty_subsystem":
            names = {subsystem.key: subsystem.name for subsystem in build.subsystems}
        case "undated_part" | "overdue_part":
            names = {part.key: part.name for part in build.parts}
        case _:
            names = {task.key: task.name for task in build.tasks}
    return [names.get(key, key) for key in finding.keys]


def _sentence(finding: Finding, them: str, today: dt.date) -> str:
    it = "it" if len(finding.keys) == 1 else "them"
    limit = f"more than {finding.limit_hours or 0.0:.0f}"
    match finding.kind:
        case "empty_subsystem":
            return f"No task belongs to {them}."
        case "unplanned_work":
            return f"Hours are logged after it was finished or set aside: {them}."
        case "leads_nowhere":
            return f"Nothing waits for {them}, and {the_end()} does not need {it}."
        case "follows_nothing":
            return (
                f"{them} could begin today: nothing has to be done before {it}, and no part is "
                "needed."
            )
        case "no_estimate":
            return f"{them}: no hours."
        case "no_spread":
            return (
                f"All goes well, likely and if it fights you are the same for {them}, so the "
                f"forecast takes {it} for certain."
            )
        case "long_task":
            return f"{them}: {limit} hours, which is {LONG_TASK_WEEKS} shop weeks."
        case "undated_part":
            return f"No arrival date: {them}. What needs it cannot be planned."
        case "overdue_part":
            return f"Due and not here: {them}. The plan counts on it from today on."
        case "no_driver":
            assert finding.first_start_on is not None
            day = words.day(finding.first_start_on, today=today)
            return f"No work leads up to {the_end()} on {day}: the path to it is one task long."
        case "far_float":
            return (
                f"{them} could wait {limit} shop hours and {the_end()} would not move, if there "
                "were hands enough."
            )
        case "silent_work":
            return f"Begun, and nothing logged for two weeks: {them}."
        case "unlogged_work":
            return f"Finished with no hours logged: {them}."
        case "no_baseline":
            return "There is no baseline, so nothing tells how far the plan has moved."
        case "old_baseline":
            return (
                f"The baseline is {finding.days_old} days old, and {len(finding.keys)} of "
                "today's open tasks are not in it."
            )
