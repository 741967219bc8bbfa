"""What is said of starter lists of one's own, and of hours that are a list's."""

import datetime as dt

from webapp.build.build_input import Task
from webapp.pages.words.amounts import count, day
from webapp.pages.words.quoted import shown
from webapp.pages.words.starter import GUESS

AS_TAKEN = "as it took last time"
"""What stands beside hours that the same work took in an earlier build."""
NO_NAME = "Give the list a name, so that you know it again: a brake servo for next time."
GONE = "That list is not there any more."
NOT_READABLE = (
    "This program can not begin a build with that list: it was written by another version, or"
    " breaks a limit of this one."
)
TOO_MANY = "There are 50 lists, and that is the most. Delete one that is not used."
TAKES = (
    "the tasks with their dependencies, cautions, steps, torques and sizes; what was set aside"
    " is left out, and the order goes on through it",
    "the parts with the days from order to arrival as they were, and their prices",
    "setups, stations and the shop week that holds now",
    "what is drawn of the plumbing, nothing of it made yet, and your own checks for the key",
)
LEAVES = (
    "the log and all days",
    "signatures and everybody's names, notes, suppliers, photographs and wishes",
    "what was measured and typed for one vehicle: rooms and the data sheet",
)
HOURS_RULE = (
    "Hours that work really took are its estimate. Their range is that of your own record once"
    " eight tasks of the kind are finished, else the one you typed for the task, else 0.75 to 2"
    " times (common practice, no source); the mean of the three is the hours it took. Work that is"
    " not finished, or was not logged, keeps its estimate as a guess."
)


def from_where(task: Task) -> str:
    """Where the hours of a task are from: "" where somebody said them for this build."""
    if task.hours_taken:
        return AS_TAKEN
    return GUESS if task.hours_guessed else ""


def confirm_words(task: Task) -> str:
    """What is ticked where the hours of a list are right."""
    if task.hours_taken:
        return "They are as it took last time: tick where they are right for this build too"
    return "They are a guess of the starter list: tick where they are right for your build"


def made_of(tasks: int, taken: int) -> str:
    """ "92 tasks, 28 of them with the hours they took"."""
    return f"{count(tasks, 'task')}, {taken:,} of them with the hours they took"


def offer_words(name: str, tasks: int, taken: int) -> str:
    """One list among what a new build begins with."""
    return f"your own list “{shown(name)}”: {made_of(tasks, taken)}"


def note_words(tasks: int, taken: int, *, on: dt.date, today: dt.date) -> str:
    """What stands below the name of a list."""
    return f"{made_of(tasks, taken)}; made {day(on, today=today)}"


def made_words(name: str) -> str:
    """What is said once a list was made."""
    return f"The list “{shown(name)}” is made. A new build can begin with it."


def renamed_words(name: str) -> str:
    return f"The list is called “{shown(name)}” now."


def taken_out_words(name: str) -> str:
    return f"The list “{shown(name)}” is deleted. Builds begun with it stay as they are."


def put_back_words(name: str) -> str:
    return f"The list “{shown(name)}” is back."
