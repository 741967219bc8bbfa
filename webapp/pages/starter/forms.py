"""The answers to a starter list's questions: typed, looked at, taken."""

import hashlib
import json

from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited, Lost
from webapp.build.starter.answering import Answered, answered
from webapp.build.starter.starter_list import Said, StarterList
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.words.starter import unanswered

SEEN = "seen"
"""The hidden field that says which change its person has looked at."""
OUT, BACK = "out-", "back-"
"""Ticks: take this out as well, put this back; the key of the task or part follows."""


def field_of(question: str) -> str:
    """The field of a question."""
    return f"answer-{question}"


def answers_shown(build: BuildInput, starter: StarterList) -> Shown:
    """The form as it is opened: the answers that are kept with the build."""
    shown, said = Shown(), starter.said(build.starter_answers)
    for question in starter.questions:
        shown.choice(field_of(question.key), said[question.key], question.name_of)
    return shown


def is_answered(form: TypedForm) -> bool:
    """Whether any answer was sent along."""
    return any(name.startswith(field_of("")) for name in form.values)


def read_answers(form: TypedForm, build: BuildInput, starter: StarterList) -> Said:
    """What is answered; each that is missing or not offered is a fault, and stays as it is kept."""
    said = dict(starter.said(build.starter_answers))
    for question in starter.questions:
        name = field_of(question.key)
        answer = form.one_of(name, question.ask, (each.key for each in question.answers))
        if answer is not None:
            said[question.key] = answer
        elif not form.faults_at(name):
            form.fault(name, unanswered(question.ask))
    return said


def read_change(form: TypedForm, build: BuildInput, starter: StarterList) -> Answered:
    """What the answers, and what is ticked beside them, change in the build."""
    names = [name for name in form.values if form.ticked(name)]
    return answered(
        build,
        starter,
        read_answers(form, build, starter),
        take_out=[name.removeprefix(OUT) for name in names if name.startswith(OUT)],
        put_back=[name.removeprefix(BACK) for name in names if name.startswith(BACK)],
    )


def digest_of(change: Answered) -> str:
    """What a change is known by: the keys of all that comes and goes."""
    keys = [
        [[thing.key for thing in things.added], [thing.key for thing in things.dropped]]
        for things in (change.tasks, change.parts)
    ]
    return hashlib.sha256(json.dumps(keys).encode()).hexdigest()[:16]


def edit_answers(starter: StarterList) -> FormEdit[Answered | None]:
    """The edit that takes the answers, once their change was looked at."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[Answered | None]:
        if build.starter_list != starter.key:
            return Edited(build=build, made=None, lost=Lost(kind="starter list", key=starter.key))
        form.settle(answers_shown(build, starter))
        change = read_change(form, build, starter)
        looked_at = not change.changes_work or form.typed(SEEN) == digest_of(change)
        return Edited(build=change.build, made=change, is_refused=not looked_at)

    return edit
