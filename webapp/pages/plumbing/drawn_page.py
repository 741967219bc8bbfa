"""What every page has on which plumbing is drawn: the plumbing, or why it can not be drawn yet."""

from fastapi.responses import Response

from webapp.pages.frame.context import PageContext
from webapp.pages.frame.rendering import render
from webapp.pages.plumbing.seen import Seen, seen_of

PAGE = "Plumbing"


def seen_or_none(page: PageContext) -> Seen | None:
    """The plumbing of the build; None while its faults stand in the way."""
    return seen_of(page)


def not_to_be_drawn(page: PageContext) -> Response:
    """The page that says what stands in the way."""
    return render("plumbing/nothing.html", title="Plumbing", page=page)


def not_yet(
    page: PageContext, heading: str, texts: tuple[str, ...], back: str, status: int
) -> Response:
    """Why something can not be done yet, and the way back."""
    return render(
        "plumbing/refused.html",
        status=status,
        title=heading,
        page=page,
        texts=texts,
        back=back,
    )
