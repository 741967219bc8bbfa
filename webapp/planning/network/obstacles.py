"""Values: what holds a task for ever."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """A set-aside task before it, or a part that has neither come nor a date; `what` its key."""

    kind: Literal["set_aside", "undated_part"]
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Why a task can never be planned.

    `obstacles` hold the task itself, or (`after` is not None) hold the task `first`, from where
    it is passed on: the task comes after `after`, which can not be planned itself.
    """

    obstacles: tuple[Obstacle, ...]
    after: str | None = None
    first: str | None = None
