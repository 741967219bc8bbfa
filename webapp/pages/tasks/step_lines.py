"""What a task's card shows for the hands: its steps to tick, its torques and its sizes."""

from dataclasses import dataclass

from webapp.build.build_input import Measure, Step, Task
from webapp.pages.words.steps import done_words


@dataclass(frozen=True, slots=True, kw_only=True)
class HandList:
    """The steps of a task in their order, what is to be read off while it is done.

    `done` is how far the steps are: "3 of 5 done".
    """

    key: str
    steps: tuple[Step, ...]
    done: str
    torques: tuple[Measure, ...]
    sizes: tuple[Measure, ...]

    @property
    def measures(self) -> tuple[Measure, ...]:
        """Torques first: they are wanted with the wrench in the hand."""
        return self.torques + self.sizes


def hand_list(task: Task) -> HandList:
    """The steps, torques and sizes of a task."""
    return HandList(
        key=task.key,
        steps=task.steps,
        done=done_words(task.steps),
        torques=tuple(one for one in task.measures if one.kind == "torque"),
        sizes=tuple(one for one in task.measures if one.kind == "size"),
    )
