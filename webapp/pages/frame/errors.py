"""Refusals that a page raises, and the one place where they become a page."""

from dataclasses import dataclass
from http import HTTPStatus

from fastapi import FastAPI, Request, Response
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect

from webapp.build.checks.size_checks import megabytes
from webapp.build.limits import MOST_DOCUMENT_BYTES, MOST_FULL_DOCUMENT_BYTES, MOST_PHOTOGRAPH_BYTES
from webapp.pages import addresses
from webapp.pages.frame.answer_headers import ANSWER_HEADERS
from webapp.pages.frame.rendering import render, render_refusal
from webapp.pages.frame.trouble import stands_in_the_way
from webapp.storage.trouble import UnusableDatabaseError

SENTENCES = {
    400: "What was sent cannot be read as a form. Go back, check it and send it again.",
    404: "There is no page at this address. Check it, or go on from the list of builds.",
    405: "This address does not take that kind of request. Go back to the page it came from.",
    415: "This address does not take that kind of content. Send it as a form or a JSON document.",
    422: "What was sent does not have the form this address asks for.",
}


def too_big(path: str) -> str:
    """What is said where more was sent to an address than it takes."""
    if path == addresses.import_build():
        return (
            f"The document is too large: {megabytes(MOST_DOCUMENT_BYTES)} is the most, "
            f"{megabytes(MOST_FULL_DOCUMENT_BYTES)} with its photographs. Shorten its "
            "longest texts, or take out what is not needed. Nothing was changed."
        )
    if addresses.adds_photographs(path):
        return (
            f"The photographs are larger than {megabytes(MOST_PHOTOGRAPH_BYTES)} together. Go "
            "back and send fewer at once, or take them with fewer megapixels; nothing was changed."
        )
    return "What was sent is larger than 5 MB. Send it in smaller pieces; nothing was changed."


@dataclass(frozen=True, slots=True, kw_only=True)
class BringBack:
    """The change that took away what was asked for: one press takes it back."""

    slug: str
    name: str
    revision: int
    back: str


class Missing(Exception):  # noqa: N818  an answer, not an accident
    """What was asked for is not there. `text` names it and says where to go on.

    `typed` is what was typed into a form about it, each with its label: the page shows it, so
    that nothing typed is lost. `go_on` is what stands on the way to `back_to`.
    """

    def __init__(
        self,
        text: str,
        *,
        back_to: str = "/",
        go_on: str = "Go on",
        typed: tuple[tuple[str, str], ...] = (),
        bring_back: BringBack | None = None,
    ) -> None:
        super().__init__(text)
        self.text, self.back_to, self.go_on = text, back_to, go_on
        self.typed, self.bring_back = typed, bring_back


def missing_build(slug: str) -> Missing:
    return Missing(
        f"There is no build “{slug}” here. It may have been removed or renamed; "
        "the builds there are stand in the list."
    )


PLUMBED = ("circuit", "run", "component", "port", "piece", "cut list", "room")
"""Nouns of the screen that stand on Plumbing."""


def missing_thing(slug: str, what: str, key: str) -> Missing:
    """`what` is the noun on the screen: task, part, setup, circuit."""
    is_plumbed = what in PLUMBED
    where = "on Plumbing" if is_plumbed else "in the job order"
    return Missing(
        f"There is no {what} “{key}” in this build. It may have been removed; "
        f"what there is stands {where}.",
        back_to=addresses.plumbing(slug) if is_plumbed else addresses.order(slug),
    )


def _title(status: int) -> str:
    if status == 404:
        return "Not here"
    try:
        return HTTPStatus(status).phrase.capitalize()
    except ValueError:
        return "Refused"


def add_refusals(app: FastAPI) -> None:
    """Answers for every exception that leaves an endpoint."""
    app.exception_handler(Missing)(_missing)
    app.exception_handler(HTTPException)(_refused)
    app.exception_handler(RequestValidationError)(_unreadable)
    app.exception_handler(UnusableDatabaseError)(stands_in_the_way)
    app.exception_handler(ClientDisconnect)(_broken_off)
    app.exception_handler(Exception)(_failed)


def _missing(_request: Request, refusal: Missing) -> Response:
    status = 422 if refusal.typed else 404
    return render(
        "frame/gone.html",
        status=status,
        title="Not stored" if refusal.typed else _title(404),
        refusal=refusal,
    )


def _refused(request: Request, refusal: HTTPException) -> Response:
    status = refusal.status_code
    text = SENTENCES.get(status, str(refusal.detail))
    if status == 404:
        text = f"There is no page at {request.url.path}. " + text.split(". ", 1)[1]
    answer = render_refusal(status, title=_title(status), texts=(text,))
    for name, value in (refusal.headers or {}).items():
        answer.headers[name] = value
    return answer


def _unreadable(_request: Request, refusal: RequestValidationError) -> Response:
    fields = tuple(
        f"“{error['loc'][-1]}”: {error['msg']}." for error in refusal.errors() if error["loc"]
    )
    return render_refusal(422, title="Cannot be read", texts=(SENTENCES[422], *fields))


def _broken_off(_request: Request, _gone: ClientDisconnect) -> Response:
    return Response(status_code=400)  # for nobody: who sent it has gone


def _failed(_request: Request, _failure: Exception) -> Response:
    answer = render_refusal(
        500,
        title="Something broke",
        texts=(
            "The program made a mistake while working this out. What was saved before is "
            "safe. Go back and try once more; if it happens again, export the build and "
            "report it with what you did.",
        ),
    )
    # This answer is given outside the guard, which sets them on all others.
    answer.headers.update(ANSWER_HEADERS)
    return answer
