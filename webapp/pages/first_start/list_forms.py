"""Forms of the list itself: its questions, the lines that say how to stop it, own checks."""

from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.build.first_start import OwnCheck
from webapp.build.start_answers import start_answers, starter_says
from webapp.first_start import list_changes
from webapp.first_start.check_list import StartQuestion
from webapp.first_start.list_facts import asked_questions
from webapp.pages.first_start.check_forms import MOST_SEEN, Clock
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.words.quoted import shown
from webapp.pages.words.start_page import question
from webapp.services.seed_builds import check_list_of

MOST_LINE = 60
"""So much of a stop line stands on every screen of the day without a scroll."""


def questions_here(build: BuildInput) -> tuple[StartQuestion, ...]:
    """The questions that are answered here: on which checks hang, and no starter list says."""
    checks, said = check_list_of(build), starter_says(build)
    asked = asked_questions(checks, start_answers(build))
    answered = {one.question for one in build.start.answers}
    every = {one.key for one in asked} | answered
    return tuple(one for one in checks.questions if one.key in every and one.key not in said)


def answers_shown(build: BuildInput) -> Shown:
    """The questions as they are answered."""
    said, form = {one.question: one.answer for one in build.start.answers}, Shown()
    for one in questions_here(build):
        form.choice(f"answer-{one.key}", said.get(one.key))
        form.called(question(one.key), f"answer-{one.key}")
    return form


def edit_answers(clock: Clock) -> FormEdit[str]:
    """The edit that answers the questions whose answers were changed."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        checks, here = check_list_of(build), questions_here(build)
        if not form.settle(answers_shown(build)):
            return Edited(build=build, made="")
        at, now = clock(), {one.question: one.answer for one in build.start.answers}
        after = build
        for one in here:
            said = form.one_of(f"answer-{one.key}", question(one.key), one.answers)
            if said == now.get(one.key) or form.faults_at(f"answer-{one.key}"):
                continue
            edited = list_changes.answer(after, checks, one.key, said, at=at)
            if edited.faults or edited.lost or edited.is_refused:
                return edited
            after = edited.build
        return Edited(build=after, made="")

    return edit


def lines_here(build: BuildInput) -> tuple[str, ...]:
    """The lines that are typed for a build of this kind."""
    return check_list_of(build).stop_words_for(start_answers(build)).typed


def lines_shown(build: BuildInput) -> Shown:
    """The stop lines as they are typed."""
    said, form = {one.name: one.words for one in build.start.stop_lines}, Shown()
    for number, name in enumerate(lines_here(build)):
        form.text(f"line-{number}", said.get(name, ""))
        form.called(name, f"line-{number}")
    return form


def edit_lines() -> FormEdit[str]:
    """The edit that types the stop lines."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        names = lines_here(build)
        if not form.settle(lines_shown(build)):
            return Edited(build=build, made="")
        after = build
        for number, name in enumerate(names):
            said = form.text(f"line-{number}", f"“{shown(name)}”", limit=MOST_LINE)
            after = list_changes.type_stop_line(after, check_list_of(build), name, said).build
        return Edited(build=after, made="")

    return edit


def edit_own_check(stages: tuple[str, ...], circuits: tuple[str, ...]) -> FormEdit[str]:
    """The edit that adds a check of the person's own."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        own = OwnCheck(
            key="",
            stage=form.one_of("stage", "The stage", stages) or "",
            circuit=form.one_of("circuit", "The circuit", circuits) or "",
            text=form.text("text", "What is looked at", limit=MOST_SEEN),
            why=form.text("why", "Why", limit=MOST_SEEN),
            caution=form.text("caution", "Caution"),
        )
        return list_changes.add_own_check(build, check_list_of(build), own)

    return edit
