"""What there is to do, answered line by line over HTTP; it is shown on the page of the week."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import Fault
from webapp.build.by_key import find_by_key
from webapp.build.edited import Lost
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf, page_of
from webapp.pages.frame.errors import Missing
from webapp.pages.frame.form_change import change_by_form, missing, told
from webapp.pages.frame.rendering import render
from webapp.pages.week.labels import week_named
from webapp.pages.week.showing import PAGE, show_week
from webapp.pages.week.to_do import Answered, line_id, price_line
from webapp.pages.week.to_do_forms import ANSWERS
from webapp.pages.week.views import what_there_is_to_do
from webapp.pages.words import to_do as say
from webapp.planning.record.week_figures import week_of
from webapp.services.changes import Refused
from webapp.services.snapshots import headings_of

router = APIRouter(include_in_schema=False)
LIST = "#to-do"


@router.get("/builds/{slug}/to-do")
def after_a_refusal(slug: str, week: str = "") -> Response:
    """A reload of an address that only takes changes leads back to the week."""
    return RedirectResponse(_back(slug, week), status_code=303)


def _back(slug: str, label: str) -> str:
    """The page of the week that was looked at."""
    return addresses.week(slug, label if week_named(label) else "") + LIST


@router.post("/builds/{slug}/to-do")
def answer_line(
    slug: str,
    services: ServicesOf,
    posted: Typed,
    about: str = "",
    key: str = "",
    answer: str = "",
    week: str = "",
) -> Response:
    """One line is answered; the page comes back without it."""
    edit = ANSWERS.get((about, answer))
    if edit is None:
        raise Missing(say.NO_SUCH_LINE, back_to=addresses.week(slug))
    form = TypedForm.of(posted, scope=f"{line_id(about, key)}-{answer}")
    done = change_by_form(services, slug, form, edit(key), _place)
    if isinstance(done, Refused):
        page = page_of(services, slug, PAGE)
        answered = Answered(about=about, key=key, answer=answer, form=form)
        shown = week_named(week) or week_of(page.today)
        return show_week(services, page, shown, status=422, answered=answered)
    return RedirectResponse(told(_back(slug, week), done), status_code=303)


def _place(_made: object, fault: Fault) -> str:
    """Which field a fault of the build belongs to."""
    if fault.kind == "log":
        return fault.field if fault.field in ("task", "hours", "left") else "hours"
    fields = {"arrives_on": "on", "promised_on": "on", "outside_days": "on", "hours_left": "left"}
    return fields.get(fault.field, "")


@router.get("/builds/{slug}/to-do-lines")
def lines_by_now(
    slug: str, services: ServicesOf, of: str = "", lines: str = "", week: str = ""
) -> Response:
    """The list alone where it is another by now; nothing where it is still the same."""
    page = page_of(services, slug, PAGE)
    if of == str(page.revision):
        return Response(status_code=204)
    shown = week_named(week) or week_of(page.today)
    todo = what_there_is_to_do(page, headings_of(services, slug), shown)
    if lines.split() == [line.id for line in todo.lines]:
        return Response(status_code=204)
    return render("week/_to_do.html", page=page, todo=todo)


@router.get("/builds/{slug}/to-do-price")
def price(slug: str, services: ServicesOf, key: str = "") -> Response:
    """The price of a wish alone, for the line that waits for it."""
    page = page_of(services, slug, PAGE)
    wish = find_by_key(page.build.wishes, key)
    if wish is None:
        raise missing(slug, Lost(kind="wish", key=key))
    return render("week/_price.html", page=page, price=price_line(page, wish))
