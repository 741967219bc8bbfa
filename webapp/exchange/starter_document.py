"""The starter lists that come with the program, from JSON: entries as in the build document.

Each task, part and dependency may say in `if` which answers keep it: an object of question and
answers. Cautions that many tasks share stand once, by name; a task names those it needs, adds its
own words, and carries all of it in full, with the sentence about local codes at its end.
"""

from collections.abc import Mapping
from typing import Any

from pydantic import ConfigDict, Field

from webapp.build.build_input import Dependency, Part, Subsystem
from webapp.build.shop import Setup
from webapp.build.starter.starter_list import (
    Answer,
    HangsOn,
    ListedDependency,
    ListedPart,
    ListedTask,
    Question,
    StarterList,
)
from webapp.exchange import document_models as models
from webapp.exchange.build_document import nouns, said_of, task_said, week_session
from webapp.exchange.shop_models import SetupEntry, WeekEntry

LOCAL_CODES = "Local codes and licensed practice come first."
If = dict[str, list[str]]
_OF_THE_LIST = {"hangs_on", "cautions"}


class AnswerEntry(models.Entry):
    """One answer to a question."""

    key: str
    name: str
    usual: bool = False


class QuestionEntry(models.Entry):
    """What is asked."""

    key: str
    group: str
    ask: str
    answers: list[AnswerEntry]
    only_if: If = Field(default_factory=dict)


class ListedTaskEntry(models.TaskEntry):
    """A task, the cautions it shares with others, and what it hangs on."""

    model_config = ConfigDict(extra="forbid", frozen=True)
    hangs_on: If = Field(default_factory=dict, alias="if")
    cautions: list[str] = Field(default_factory=list)


class ListedDependencyEntry(models.DependencyEntry):
    """A dependency and what it hangs on."""

    hangs_on: If = Field(default_factory=dict, alias="if")


class ListedPartEntry(models.PartEntry):
    """A part and what it hangs on."""

    hangs_on: If = Field(default_factory=dict, alias="if")


class ListedShopEntry(models.Entry):
    """The shop a list begins with."""

    week: list[WeekEntry]
    setups: list[SetupEntry]


class StarterDocument(models.Entry):
    """A whole list."""

    format: str
    version: int
    key: str
    name: str
    about: str
    end_name: str
    first_start: str
    questions: list[QuestionEntry]
    cautions: dict[str, str]
    shop: ListedShopEntry
    subsystems: list[models.SubsystemEntry]
    tasks: list[ListedTaskEntry]
    dependencies: list[ListedDependencyEntry]
    parts: list[ListedPartEntry]


def read_starter(text: str | bytes) -> StarterList:
    """The list of a document that comes with the program.

    Raises ValueError where it is none (pydantic's own among them), KeyError where a task names a
    caution that does not stand there.
    """
    document = StarterDocument.model_validate_json(text)
    return StarterList(
        key=document.key,
        name=document.name,
        about=document.about,
        end_name=document.end_name,
        first_start=document.first_start,
        questions=tuple(_question(entry) for entry in document.questions),
        tasks=tuple(_task(entry, document.cautions) for entry in document.tasks),
        dependencies=tuple(
            ListedDependency(
                dependency=Dependency(**_plain(entry)), hangs_on=_hangs_on(entry.hangs_on)
            )
            for entry in document.dependencies
        ),
        parts=tuple(
            ListedPart(part=Part(**_plain(entry)), hangs_on=_hangs_on(entry.hangs_on))
            for entry in document.parts
        ),
        subsystems=nouns(Subsystem, document.subsystems),
        setups=nouns(Setup, document.shop.setups),
        week=nouns(week_session, document.shop.week),
    )


def _plain(entry: models.Entry) -> dict[str, Any]:
    return {name: value for name, value in said_of(entry).items() if name not in _OF_THE_LIST}


def _hangs_on(said: If) -> tuple[HangsOn, ...]:
    return tuple(HangsOn(question=key, answers=tuple(answers)) for key, answers in said.items())


def _question(entry: QuestionEntry) -> Question:
    return Question(
        key=entry.key,
        group=entry.group,
        ask=entry.ask,
        answers=tuple(Answer(**dict(answer)) for answer in entry.answers),
        only_if=_hangs_on(entry.only_if),
    )


def _task(entry: ListedTaskEntry, shared: Mapping[str, str]) -> ListedTask:
    """The task as it goes into a build: its hours, if it has any, are a guess."""
    said = _plain(entry)
    cautions = [shared[name] for name in entry.cautions]
    if entry.caution:
        cautions.append(entry.caution)
    said["caution"] = " ".join([*cautions, LOCAL_CODES]) if cautions else ""
    return ListedTask(
        task=task_said(**said, hours_guessed=True),
        hangs_on=_hangs_on(entry.hangs_on),
    )
