"""What an edit of a build comes to: a value, whatever became of it."""

from dataclasses import dataclass
from typing import Generic, TypeVar

from webapp.build.build_input import BuildInput, Fault

Made = TypeVar("Made")


@dataclass(frozen=True, slots=True, kw_only=True)
class Lost:
    """A thing that an edit was about and that is not in the build (any more).

    `kind` is its noun as in `Fault`.
    """

    kind: str
    key: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Edited(Generic[Made]):
    """The build after an edit, and what else there is to say of it.

    faults : what keeps it from being stored, found by the edit itself; the checks of the whole
        build come on top
    made : what was made or is meant: a key, rows, what to do next
    lost : what the edit was about, where it is not there; then nothing is stored
    is_refused : nothing is to be stored, and `made` says why
    """

    build: BuildInput
    made: Made
    faults: tuple[Fault, ...] = ()
    lost: Lost | None = None
    is_refused: bool = False
