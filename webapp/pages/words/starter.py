"""What the questions of a starter list say: what each answer drops, and what a change does."""

from collections.abc import Sequence

from webapp.build.by_key import get_by_key
from webapp.build.starter.starter_list import HangsOn, StarterList
from webapp.build.starter.touched import Why
from webapp.pages.words.amounts import count, sentence
from webapp.pages.words.quoted import shown

STAYS: dict[Why, str] = {
    "worked": "you have worked on it",
    "here": "it is here",
    "ordered": "it is ordered",
    "serves": "a task that stays needs it",
    "edited": "you changed it",
    "tied": "something of your own hangs on it",
}
"""Why a task or part stays although the answers drop it."""

GUESS = "a guess of the starter list"
"""What stands beside hours that nobody changed or confirmed yet."""
LOOK_FIRST = (
    "Nothing is changed yet. Look at what these answers change, then take them with the button."
)


def tasks_and_parts(tasks: int, parts: int) -> str:
    """ "9 tasks and 4 parts"; what there is none of is left out, "" where there is nothing."""
    said = [count(tasks, "task")] if tasks else []
    said += [count(parts, "part")] if parts else []
    return " and ".join(said)


def drops_words(answer: str, dropped: tuple[int, int], held: tuple[int, int]) -> str:
    """What an answer drops and keeps, both as tasks and parts."""
    drops, keeps = tasks_and_parts(*dropped), tasks_and_parts(*held)
    said = f"{answer}: {drops} dropped" if drops else f"{answer}: nothing dropped"
    return f"{said}, {keeps} kept with it." if keeps else f"{said}."


def only_if_words(starter: StarterList, missed: Sequence[HangsOn]) -> str:
    """Why a question says nothing: it hangs on another that is answered otherwise."""
    first = get_by_key(starter.questions, missed[0].question)
    names = " or ".join(f"“{first.name_of(answer)}”" for answer in missed[0].answers)
    return f"Counts only where “{first.ask}” is answered {names}."


def kept_words(kept: int, of: int, one: str) -> str:
    """ "143 of 165 tasks"."""
    return f"{kept:,} of {count(of, one)}"


def stays_words(why: Why) -> str:
    """Why something stays, as a sentence."""
    return sentence(STAYS[why])


def against_words(before: str, after: str) -> str:
    """A dependency of the list that the person's own order has the other way round."""
    return (
        f"The list has “{shown(before)}” before “{shown(after)}”; your own order has it the other"
        " way round, and stays."
    )


def not_from_a_list(key: str) -> str:
    """Where there are no questions."""
    if key:
        return (
            f"This build was begun from the starter list “{shown(key)}”, which this program does"
            " not have. Its tasks and answers are kept as they are."
        )
    return (
        "This build was not begun from a starter list, so there are no questions to it. A new"
        " build can begin with one."
    )


def unanswered(ask: str) -> str:
    """A question that was sent without an answer."""
    return f"{ask} Nothing is picked. Pick one of the answers."
