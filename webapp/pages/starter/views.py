"""The page of questions in strings: what each answer drops, and what all of them change."""

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.starter.answering import ASKED, Answered
from webapp.build.starter.fitting import kept
from webapp.build.starter.starter_list import (
    Entry,
    ListedTask,
    Question,
    Said,
    StarterList,
    dropped_by,
    holds,
)
from webapp.pages.starter.forms import BACK, OUT, digest_of, field_of
from webapp.pages.words import starter as words


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerView:
    key: str
    name: str
    is_given: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class QuestionView:
    """A question, its answers, and what the one that is given drops, names and all."""

    field: str
    ask: str
    answers: tuple[AnswerView, ...]
    drops: str
    dropped: tuple[str, ...]
    which: str
    only_if: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupView:
    title: str
    questions: tuple[QuestionView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StayingView:
    """What stays, why, and the field to tick where it can go as well; "" where it can not."""

    name: str
    why: str
    field: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferView:
    """What the person took out and can have back."""

    name: str
    field: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeView:
    """What the answers change in the build; "" and () where nothing."""

    come: str
    added: tuple[str, ...]
    go: str
    dropped: tuple[str, ...]
    staying: tuple[StayingView, ...]
    asked: tuple[StayingView, ...]
    against: tuple[str, ...]

    @property
    def is_there(self) -> bool:
        return bool(self.added or self.dropped or self.staying or self.asked or self.against)


@dataclass(frozen=True, slots=True, kw_only=True)
class StarterView:
    """The page. `seen` is what the change shown is known by; `pends` that there is one."""

    list_name: str
    tasks: str
    parts: str
    groups: tuple[GroupView, ...]
    change: ChangeView
    left_out: tuple[OfferView, ...]
    pends: bool
    seen: str


def starter_view(build: BuildInput, starter: StarterList, change: Answered) -> StarterView:
    """The page for the answers of a change that is not taken yet, or for those that are kept."""
    said = starter.said(change.build.starter_answers)
    keys = kept(starter, said)
    titles = dict.fromkeys(question.group for question in starter.questions)
    offered = (*change.tasks.left_out, *change.parts.left_out)
    return StarterView(
        list_name=starter.name,
        tasks=words.kept_words(len(keys.tasks), len(starter.tasks), "task"),
        parts=words.kept_words(len(keys.parts), len(starter.parts), "part"),
        groups=tuple(
            GroupView(
                title=title,
                questions=tuple(
                    _question(starter, question, said)
                    for question in starter.questions
                    if question.group == title
                ),
            )
            for title in titles
        ),
        change=_change(change),
        left_out=tuple(OfferView(name=thing.name, field=f"{BACK}{thing.key}") for thing in offered),
        pends=change.changes_work or said != starter.said(build.starter_answers),
        seen=digest_of(change),
    )


def _question(starter: StarterList, question: Question, said: Said) -> QuestionView:
    given = said[question.key]
    dropped = [each for each in starter.entries if dropped_by(each.hangs_on, said) == question.key]
    held = [
        entry
        for entry in starter.entries
        if any(each.question == question.key for each in entry.hangs_on)
        and holds(entry.hangs_on, said)
    ]
    missed = [each for each in question.only_if if said[each.question] not in each.answers]
    return QuestionView(
        field=field_of(question.key),
        ask=question.ask,
        answers=tuple(
            AnswerView(key=each.key, name=each.name, is_given=each.key == given)
            for each in question.answers
        ),
        drops=words.drops_words(question.name_of(given), _counted(dropped), _counted(held)),
        dropped=tuple(entry.name for entry in dropped),
        which=words.tasks_and_parts(*_counted(dropped)),
        only_if=words.only_if_words(starter, missed) if missed else "",
    )


def _counted(entries: Sequence[Entry]) -> tuple[int, int]:
    tasks = sum(isinstance(entry, ListedTask) for entry in entries)
    return tasks, len(entries) - tasks


def _change(change: Answered) -> ChangeView:
    tasks, parts = change.tasks, change.parts
    staying = [
        StayingView(
            name=each.name,
            why=words.stays_words(each.why),
            field=f"{OUT}{each.key}" if each.why in ASKED else "",
        )
        for each in (*tasks.staying, *parts.staying)
    ]
    names = {task.key: task.name for task in change.build.tasks}
    return ChangeView(
        come=words.tasks_and_parts(len(tasks.added), len(parts.added)),
        added=tuple(thing.name for thing in (*tasks.added, *parts.added)),
        go=words.tasks_and_parts(len(tasks.dropped), len(parts.dropped)),
        dropped=tuple(thing.name for thing in (*tasks.dropped, *parts.dropped)),
        staying=tuple(each for each in staying if not each.field),
        asked=tuple(each for each in staying if each.field),
        against=tuple(
            words.against_words(names[link.before], names[link.after])
            for link in change.against_order
        ),
    )
