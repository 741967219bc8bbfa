"""Steps, torques and sizes of a task in words."""

from collections.abc import Hashable, Iterator, Mapping, Sequence
from typing import TypeVar

from webapp.build.build_input import Measure, MeasureKind, Step
from webapp.pages.words import amounts as words
from webapp.pages.words.names import named
from webapp.pages.words.quoted import shown

Name = TypeVar("Name", bound=Hashable)
Thing = TypeVar("Thing")

MOST_TOLD = 4
"""So many changes of one list are told one by one."""


def done_words(steps: Sequence[Step]) -> str:
    """How far the steps are: "3 of 5 done", "all 5 done"; "" where there are none."""
    if not steps:
        return ""
    done = sum(step.done for step in steps)
    if done == len(steps):
        return f"all {len(steps)} done" if len(steps) > 1 else "done"
    return f"{done} of {len(steps)} done"


def not_ticked_words(steps: Sequence[Step]) -> str:
    """Which steps are not ticked, before a task is finished; "" where all are."""
    missing = [step.text for step in steps if not step.done]
    if not missing:
        return ""
    are = "is" if len(missing) == 1 else "are"
    of_all = "Its one step" if len(steps) == 1 else f"{len(missing)} of its {len(steps)} steps"
    return f"{of_all} {are} not ticked: {named(map(shown, missing))}."


def steps_told(was: Sequence[Step], now: Sequence[Step]) -> str:
    """What became of the steps of a task: "ticked “Bolts tight”"."""
    before, after = ({step.text: step for step in each} for each in (was, now))
    return told_in_short(_steps_told(before, after), "steps")


def _steps_told(before: Mapping[str, Step], after: Mapping[str, Step]) -> Iterator[str]:
    for text, step in after.items():
        if text not in before:
            yield f"step “{shown(text)}” added"
        elif step.done != before[text].done:
            yield f"“{shown(text)}” {'ticked' if step.done else 'not ticked any more'}"
    yield from (f"step “{shown(text)}” taken out" for text in before if text not in after)


def measures_told(was: Sequence[Measure], now: Sequence[Measure]) -> str:
    """What became of the torques and sizes: "torque of “Bolts” from “40 Nm” to “45 Nm”"."""
    before, after = ({(one.kind, one.name): one for one in each} for each in (was, now))
    return told_in_short(_measures_told(before, after), "torques and sizes")


def _measures_told(
    before: Mapping[tuple[MeasureKind, str], Measure],
    after: Mapping[tuple[MeasureKind, str], Measure],
) -> Iterator[str]:
    for (kind, name), one in after.items():
        called = f"{kind} of “{shown(name)}”"
        there = before.get((kind, name))
        if there is None:
            yield f"{called} “{shown(one.value)}” added"
        elif there.value != one.value:
            yield f"{called} from “{shown(there.value)}” to “{shown(one.value)}”"
    for kind, name in before:
        if (kind, name) not in after:
            yield f"{kind} of “{shown(name)}” taken out"


def told_in_short(told: Iterator[str], what: str) -> str:
    """What became of the things of a list, the first few of them one by one."""
    said = list(told)
    if not said:
        return f"{what} put into another order"
    if len(said) > MOST_TOLD:
        more = len(said) - MOST_TOLD
        said = [*said[:MOST_TOLD], f"and {words.count(more, 'more change')} of its {what}"]
    return "; ".join(said)
