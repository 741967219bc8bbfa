"""What a starter list is: questions, and entries that each hang on answers to them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from webapp.build.build_input import Dependency, Part, StarterAnswer, Subsystem, Task
from webapp.build.by_key import find_by_key, get_by_key
from webapp.build.shop import Setup, WeekSession

Said = Mapping[str, str]
"""Answers by question, all keys."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One answer to a question; the usual one stands until another is given."""

    key: str
    name: str
    usual: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class HangsOn:
    """A question and the answers to it that keep an entry."""

    question: str
    answers: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is asked. `only_if`: without these answers to others it says nothing."""

    key: str
    group: str
    ask: str
    answers: tuple[Answer, ...]
    only_if: tuple[HangsOn, ...] = ()

    @property
    def usual(self) -> str:
        """The key of the usual answer."""
        return next(answer.key for answer in self.answers if answer.usual)

    def name_of(self, answer: str) -> str:
        """The words of an answer."""
        return get_by_key(self.answers, answer).name


class Entry(Protocol):
    """What is kept or dropped: a task or a part of the list."""

    @property
    def key(self) -> str: ...

    @property
    def name(self) -> str: ...

    @property
    def hangs_on(self) -> tuple[HangsOn, ...]: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedTask:
    """A task of a list, and the answers that keep it; () keeps it always."""

    task: Task
    hangs_on: tuple[HangsOn, ...] = ()

    @property
    def key(self) -> str:
        return self.task.key

    @property
    def name(self) -> str:
        return self.task.name


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedPart:
    """A part of a list, and the answers that keep it."""

    part: Part
    hangs_on: tuple[HangsOn, ...] = ()

    @property
    def key(self) -> str:
        return self.part.key

    @property
    def name(self) -> str:
        return self.part.name


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedDependency:
    """What comes before what, and the answers under which it does."""

    dependency: Dependency
    hangs_on: tuple[HangsOn, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StarterList:
    """A whole list. `end_name` is what the end, the task `first_start`, is called."""

    key: str
    name: str
    about: str
    end_name: str
    first_start: str
    questions: tuple[Question, ...]
    tasks: tuple[ListedTask, ...]
    dependencies: tuple[ListedDependency, ...]
    parts: tuple[ListedPart, ...]
    subsystems: tuple[Subsystem, ...] = ()
    setups: tuple[Setup, ...] = ()
    week: tuple[WeekSession, ...] = ()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All that can be kept or dropped."""
        return (*self.tasks, *self.parts)

    @property
    def usual(self) -> Said:
        """The usual answer to every question."""
        return {question.key: question.usual for question in self.questions}

    def said(self, answers: Iterable[StarterAnswer]) -> Said:
        """What was answered, the usual answer where nothing that is offered was."""
        given = {each.question: each.answer for each in answers}
        return {
            question.key: given[question.key]
            if find_by_key(question.answers, given.get(question.key)) is not None
            else question.usual
            for question in self.questions
        }

    def answers(self, said: Said) -> tuple[StarterAnswer, ...]:
        """The same as it is kept with a build, in the order of the questions."""
        return tuple(
            StarterAnswer(question=question.key, answer=said[question.key])
            for question in self.questions
        )


def holds(hangs_on: Sequence[HangsOn], said: Said) -> bool:
    """Whether what an entry hangs on is answered so: every question by one of its answers."""
    return all(said[each.question] in each.answers for each in hangs_on)


def dropped_by(hangs_on: Sequence[HangsOn], said: Said) -> str | None:
    """The question whose answer drops an entry, None where it is kept.

    Where several answers do, it is the last that the entry names, the one most its own: so each
    entry is told once, and a washed intercooler goes with the question about intercoolers.
    """
    missed = [each.question for each in hangs_on if said[each.question] not in each.answers]
    return missed[-1] if missed else None
