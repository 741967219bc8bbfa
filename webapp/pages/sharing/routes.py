"""How builds share the hours of one shop, over HTTP."""

from dataclasses import replace

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.build.sharing import NOTHING_SHARED, Sharing
from webapp.build.time.shared_sessions import SharedSession
from webapp.pages import addresses
from webapp.pages.forms.posted import Typed, text_of
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import parse_date
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.form_change import change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.sharing.forms import read_sharing, sharing_values
from webapp.pages.sharing.views import date_words, sharing_view
from webapp.pages.shop.rooms import SHARING, room_links
from webapp.pages.words import sharing as words
from webapp.services.changes import Stored
from webapp.services.program import Services
from webapp.services.shared_hours import SharedHours
from webapp.services.sharing import as_if, hand_over, planned_at, set_sharing, shared_hours
from webapp.storage.build_loader import load_build
from webapp.storage.builds import list_builds
from webapp.storage.sharing import sharing_history, sharing_of

router = APIRouter(include_in_schema=False)


@router.get("/builds/{slug}/shop/sharing")
def room(slug: str, services: ServicesOf, said: str = "", since: str = "") -> Response:
    """Who shares, and how; whose the next sessions are."""
    page = page_of(services, slug, "Shop")
    notice = notice_of(services, page, since, addresses.shop(slug, SHARING.name))
    return _show(services, page, told=words.SAID.get(said, ""), notice=notice)


@router.post("/builds/{slug}/shop/sharing")
def share(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """What another rule does to the dates; once that was seen it holds."""
    page, form = page_of(services, slug, "Shop"), TypedForm.of(posted)
    with services.database.reading() as session:
        headings, stored = list_builds(session), sharing_of(session)
    now = stored.sharing if stored else NOTHING_SHARED
    sharing = read_sharing(form, now, headings)
    if form.typed("key") != (stored.key if stored else ""):
        form = TypedForm(sharing_values(now, headings))
        form.fault("", words.CHANGED_MEANWHILE)
    if form.faults:
        return _show(services, page, form=form, status=422)
    if not form.ticked("sure"):
        return _show(services, page, form=form, moves=_moves(services, sharing))
    with services.database.writing() as session:
        latest = sharing_of(session)
        is_same = (latest.key if latest else "") == form.typed("key")
        if is_same:
            set_sharing(services.plans, session, sharing, services.settings.now())
    if not is_same:
        form = TypedForm()
        form.fault("", words.CHANGED_MEANWHILE)
        return _show(services, page_of(services, slug, "Shop"), form=form, status=422)
    return RedirectResponse(f"{addresses.shop(slug, SHARING.name)}?said=shared", status_code=303)


def _moves(services: Services, sharing: Sharing) -> tuple[str, ...]:
    """The date of every build by the rule, beside the one it has now."""
    now, told, is_settled = services.settings.now(), [], True
    with services.database.reading() as session:
        there = sharing_of(session)
        others = there.sharing.slugs if there else ()
        tried = as_if(services.plans, session, sharing, now)
        for slug in dict.fromkeys((*sharing.slugs, *others)):
            found = planned_at(services.plans, session, slug, now)
            if found is None:
                continue
            is_settled &= found.planned.forecast(wait_seconds=1.0).ready
            then = tried.planned.get(slug) or tried.alone(slug)
            told.append(
                words.date_moved(
                    found.planned.build.name, date_words(found.planned), date_words(then)
                )
            )
    if not (is_settled and tried.is_settled):
        told.append(words.NOT_SETTLED)
    return tuple(told)


@router.post("/builds/{slug}/shop/sharing/hand")
def hand(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Give one session to a build by hand."""
    to, date = text_of(posted, "to"), text_of(posted, "date")
    with services.database.writing() as session:
        now = services.settings.now()
        shared = shared_hours(services.plans, session, now)
        found = _session(shared, date, text_of(posted, "opens"))
        is_there = shared is not None and found is not None and to in shared.sharing.slugs
        if is_there and found is not None:
            hand_over(services.plans, session, found, to, now)
    back = text_of(posted, "back")
    address = addresses.bench(slug) if back == "bench" else addresses.shop(slug, SHARING.name)
    said = "?said=handed" if is_there and back != "bench" else ""
    return RedirectResponse(f"{address}{said}", status_code=303)


def _session(shared: SharedHours | None, date: str, opens: str) -> SharedSession | None:
    """The session that a press is about; None where it is over or is no session any more."""
    day = parse_date(date)
    if shared is None or day is None or not (opens.isascii() and opens[:5].isdigit()):
        return None
    return shared.session_of(day, int(opens[:5]))


@router.post("/builds/{slug}/shop/sharing/free")
def free(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Take out what came with a document and is still ahead: it is the build's own again."""
    form = TypedForm.of(posted)
    done = change_by_form(services, slug, form, _freed)
    address = addresses.shop(slug, SHARING.name)
    if isinstance(done, Stored):
        return RedirectResponse(told(address, done), status_code=303)
    return RedirectResponse(address, status_code=303)


def _freed(_form: TypedForm, build: BuildInput) -> Edited[None]:
    kept = tuple(
        one if one.last_on is not None else replace(one, last_on=build.now.date())
        for one in build.shop.given
        if one.first_on <= build.now.date()
    )
    return Edited(build=replace(build, shop=replace(build.shop, given=kept)), made=None)


def _show(
    services: Services,
    page: PageContext,
    *,
    form: TypedForm | None = None,
    moves: tuple[str, ...] = (),
    told: str = "",
    notice: Notice = NO_NOTICE,
    status: int = 200,
) -> Response:
    with services.database.reading() as session:
        headings, history = list_builds(session), sharing_history(session)
        stored = load_build(session, page.slug, now=page.now)
    given = stored.shop.given if stored is not None else ()
    if form is None:
        now = history[0].sharing if history else NOTHING_SHARED
        form = TypedForm(sharing_values(now, headings))
    return render(
        SHARING.template,
        status=status,
        title=SHARING.title,
        page=page,
        room=SHARING,
        rooms=room_links(page.build, page.slug, SHARING),
        notice=notice,
        ways=words.WAYS,
        one_build=words.ONE_BUILD,
        view=sharing_view(page, form, headings, history, given=given, moves=moves, told=told),
    )
