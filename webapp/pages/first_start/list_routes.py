"""The list itself over HTTP: its questions, the lines that say how to stop it, own checks."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import Fault
from webapp.build.start_answers import starter_says
from webapp.pages import addresses
from webapp.pages.first_start import list_forms as forms
from webapp.pages.first_start.at_hand import AtHand, framed
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, ServicesOf
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.words.amounts import sentence
from webapp.pages.words.start_page import question
from webapp.services.changes import Refused

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/first-start/answers")
def answers(slug: str, services: ServicesOf, since: str = "") -> Response:
    """The questions on which checks hang, and what each answer dropped."""
    page, hand = framed(services, slug)
    form = TypedForm.opened(forms.answers_shown(page.build))
    notice = notice_of(services, page, since, addresses.first_start_answers(slug))
    return _show_answers(page, hand, form, notice=notice)


@router.post("/builds/{slug}/first-start/answers")
def answer(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Answer them; what hung on an answer that changed falls."""
    form = TypedForm.of(posted)
    edit = forms.edit_answers(services.settings.moment)
    done = change_by_form(services, slug, form, edit, _place_of_answer)
    if isinstance(done, Refused):
        return _show_answers(*framed(services, slug), form, status=422)
    return RedirectResponse(told(addresses.first_start_answers(slug), done), status_code=303)


def _place_of_answer(_made: object, fault: Fault) -> str:
    return f"answer-{fault.key}" if fault.kind == "start answer" else ""


def _show_answers(
    page: PageContext,
    hand: AtHand,
    form: TypedForm,
    *,
    status: int = 200,
    notice: Notice = NO_NOTICE,
) -> Response:
    dropped: dict[str, list[str]] = {}
    for one in hand.standing.dropped:
        dropped.setdefault(one.dropped_by or "", []).append(one.check.text)
    said = starter_says(page.build)
    return render(
        "first_start/answers.html",
        status=status,
        title="Questions",
        page=page,
        form=form,
        questions=tuple(
            (
                f"answer-{one.key}",
                question(one.key),
                (("", "not answered"), *((each, each) for each in one.answers)),
            )
            for one in forms.questions_here(page.build)
        ),
        said=tuple((question(key), value) for key, value in said.items()),
        dropped=tuple((question(key), tuple(texts)) for key, texts in dropped.items()),
        notice=notice,
    )


@router.get("/builds/{slug}/first-start/stop-lines")
def stop_lines(slug: str, services: ServicesOf, since: str = "") -> Response:
    """What is typed into the lines that say how to stop it."""
    page, hand = framed(services, slug)
    form = TypedForm.opened(forms.lines_shown(page.build))
    notice = notice_of(services, page, since, addresses.first_start_stop_lines(slug))
    return _show_lines(page, hand, form, notice=notice)


@router.post("/builds/{slug}/first-start/stop-lines")
def type_stop_lines(slug: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, forms.edit_lines())
    if isinstance(done, Refused):
        return _show_lines(*framed(services, slug), form, status=422)
    return RedirectResponse(told(addresses.first_start_stop_lines(slug), done), status_code=303)


def _show_lines(
    page: PageContext,
    hand: AtHand,
    form: TypedForm,
    *,
    status: int = 200,
    notice: Notice = NO_NOTICE,
) -> Response:
    return render(
        "first_start/stop_lines.html",
        status=status,
        title="How to stop it",
        page=page,
        form=form,
        lines=hand.checks.stop_words_for(hand.standing.answers).lines,
        fields=tuple(
            (f"line-{number}", sentence(name))
            for number, name in enumerate(forms.lines_here(page.build))
        ),
        notice=notice,
    )


@router.get("/builds/{slug}/first-start/own-check")
def own_check(slug: str, services: ServicesOf) -> Response:
    """A check of the person's own."""
    return _show_own(*framed(services, slug), TypedForm())


@router.post("/builds/{slug}/first-start/own-check")
def add_own_check(slug: str, services: ServicesOf, posted: Typed) -> Response:
    form = TypedForm.of(posted)
    page, hand = framed(services, slug)
    stages = tuple(stage.key for stage in hand.checks.stages)
    circuits = tuple(name for name, _ in hand.checks.groups)
    done = change_by_form(
        services,
        slug,
        form,
        forms.edit_own_check(stages, circuits),
        lambda _made, fault: fault.field if fault.kind == "own check" else "",
    )
    if isinstance(done, Refused):
        return _show_own(page, hand, form, status=422)
    return RedirectResponse(
        told(addresses.first_start_check(slug, done.made), done), status_code=303
    )


def _show_own(page: PageContext, hand: AtHand, form: TypedForm, *, status: int = 200) -> Response:
    return render(
        "first_start/own_check.html",
        status=status,
        title="A check of your own",
        page=page,
        form=form,
        stages=(("", "pick one"), *((one.key, one.title) for one in hand.checks.stages)),
        circuits=(("", "pick one"), *((name, name) for name, _ in hand.checks.groups)),
    )
