"""A starter list of one's own, for a person at a terminal."""

from webapp.build.build_input import BuildInput, Task
from webapp.pages.words.amounts import hours
from webapp.pages.words.own_lists import HOURS_RULE, from_where, made_of

NAME_CHARACTERS = 60


def list_table(made: BuildInput) -> str:
    """What the list counts, its rule for hours, then task by task the hours and where from."""
    taken = sum(task.hours_taken for task in made.tasks)
    lines = [made.name, made_of(len(made.tasks), taken), "", HOURS_RULE, ""]
    return "\n".join([*lines, *(_line(task) for task in made.tasks)])


def _line(task: Task) -> str:
    points = (task.hours.optimistic, task.hours.most_likely, task.hours.pessimistic)
    told = " / ".join(hours(each) for each in points)
    if task.outside_days is not None:
        told = f"{task.outside_days:g} days away"
    return f"{task.name[:NAME_CHARACTERS]:<{NAME_CHARACTERS}}  {told}  ({from_where(task)})"
