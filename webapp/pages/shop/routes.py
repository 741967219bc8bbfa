"""The shop over HTTP: a room an address, one form for each kind of thing in it."""

import datetime as dt
from collections.abc import Mapping

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response
from starlette.datastructures import FormData

from webapp.build.build_input import BuildInput
from webapp.pages import addresses
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import parse_date
from webapp.pages.frame.context import PageContext, ServicesOf, page_of
from webapp.pages.frame.door import DeviceAsking
from webapp.pages.frame.form_change import FormEdit, change_by_form, told
from webapp.pages.frame.notice import NO_NOTICE, Notice, notice_of
from webapp.pages.frame.rendering import render
from webapp.pages.network.views import NetworkView, network_view
from webapp.pages.shop import forms, hours_forms, later_forms
from webapp.pages.shop.kinds import FORMS
from webapp.pages.shop.rooms import (
    FIRST,
    LATER,
    ROOM_OF_FORM,
    Room,
    address_of,
    room_called,
    room_links,
)
from webapp.pages.shop.views import (
    day_lines,
    held_until,
    helper_lines,
    later_lines,
    medium_choices,
    range_lines,
    shop_rows,
    weekend_words,
)
from webapp.pages.words import copies as copies_words
from webapp.pages.words import network as network_words
from webapp.pages.words.photographs import left_out_words
from webapp.pages.words.the_end import END_HINT
from webapp.pages.words.units import UNITS_WORDS
from webapp.services.changes import Stored
from webapp.services.program import Services

router = APIRouter(include_in_schema=False)
PAGE = "Shop"


@router.get("/builds/{slug}/shop")
def shop(slug: str, services: ServicesOf, since: str = "", day: str = "") -> Response:
    """The first room; `day` opens the day exception of that date."""
    page = page_of(services, slug, PAGE)
    shown = _opened(page.build, FIRST)
    date = parse_date(day)
    if date is not None:
        shown["day"] = TypedForm.opened(hours_forms.day_shown(page.build, date), scope="day")
    notice = notice_of(services, page, since, addresses.shop(slug))
    return _show(page, FIRST, shown, notice=notice, is_open=("day",) if date else ())


def _opened(build: BuildInput, room: Room) -> dict[str, TypedForm]:
    return {name: TypedForm.opened(FORMS[name].shown(build), scope=name) for name in room.forms}


@router.get("/builds/{slug}/shop/later")
def later_hours(
    slug: str, services: ServicesOf, since: str = "", week: str = "", days: str = ""
) -> Response:
    """Shop weeks with a first day, and ranges of days; `week` or `days` opens the one that begins
    on that date."""
    page = page_of(services, slug, PAGE)
    shown = _opened(page.build, LATER)
    later = later_forms.later_from(page.build, parse_date(week))
    if later is not None:
        fields = later_forms.later_shown(page.build, later)
        shown["later"] = TypedForm.opened(fields, scope="later")
    span = later_forms.range_from(page.build, parse_date(days))
    if span is not None:
        fields = later_forms.range_shown(page.build, span)
        shown["range"] = TypedForm.opened(fields, scope="range")
    notice = notice_of(services, page, since, address_of(slug, LATER))
    is_open = ("later" if later else "", "range" if span else "")
    return _show(page, LATER, shown, notice=notice, is_open=is_open)


@router.get("/builds/{slug}/shop/{name}")
def one_room(
    slug: str,
    name: str,
    services: ServicesOf,
    device: DeviceAsking,
    since: str = "",
    said: str = "",
) -> Response:
    """A room; an address that only takes changes leads to the room of its form."""
    room = room_called(name)
    if room is None or room.name != name or room is FIRST:
        return RedirectResponse(address_of(slug, room or FIRST), status_code=303)
    page = page_of(services, slug, PAGE)
    notice = notice_of(services, page, since, address_of(slug, room))
    lost = services.database.photographs.lost(page.build.photographs) if room.exports else 0
    copies = services.copies.all() if room.exports else ()
    made_at = copies[0].made_at if copies else None
    last_copy = copies_words.last_copy(made_at, str(services.copies.folder), today=page.today)
    return _show(
        page,
        room,
        _opened(page.build, room),
        notice=notice,
        lost=lost,
        last_copy=last_copy,
        said=network_words.SAID.get(said, "") if room.devices else "",
        network=network_view(services, device, here=address_of(slug, room))
        if room.devices
        else None,
    )


@router.post("/builds/{slug}/shop/weekend")
def no_shop_this_weekend(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """One press closes the coming Saturday and Sunday, or opens them again."""
    form = TypedForm.of(posted, scope="day")
    return _store(slug, services, form, hours_forms.turn_weekend)


@router.post("/builds/{slug}/shop/usual-hours")
def usual_hours(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Take one day exception out: that date has the shop week's hours again."""
    form = TypedForm.of(posted, scope="day")
    return _store(slug, services, form, hours_forms.take_day_out)


@router.post("/builds/{slug}/shop/later-out")
def later_out(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Take a later shop week out: the one before it goes on."""
    return _take_out(slug, services, posted, later_forms.take_later_out)


@router.post("/builds/{slug}/shop/range-out")
def range_out(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Take a range of days out: they have the shop week's hours again."""
    return _take_out(slug, services, posted, later_forms.take_range_out)


def _take_out(slug: str, services: Services, posted: FormData, edit: FormEdit[None]) -> Response:
    press = TypedForm.of(posted)
    done = change_by_form(services, slug, press, edit)
    if isinstance(done, Stored):
        return RedirectResponse(told(address_of(slug, LATER), done), status_code=303)
    page = page_of(services, slug, PAGE)
    shown = _opened(page.build, LATER)
    for fault in press.faults:
        shown["later"].fault("", fault.text)
    return _show(page, LATER, shown, status=422)


@router.post("/builds/{slug}/shop/{name}")
def change(slug: str, name: str, services: ServicesOf, posted: Typed) -> Response:
    """Store one form, and stay in its room."""
    if name not in FORMS:
        return RedirectResponse(addresses.shop(slug), status_code=303)
    form, kind = TypedForm.of(posted, scope=name), FORMS[name]
    done = change_by_form(services, slug, form, kind.edit, kind.place)
    if isinstance(done, Stored):
        address = address_of(slug, ROOM_OF_FORM[name])
        return RedirectResponse(told(address, done), status_code=303)
    return _refused(slug, services, name, form)


def _store(slug: str, services: Services, press: TypedForm, edit: FormEdit[None]) -> Response:
    """Store what a press about a date does; its faults stand in the form of a date."""
    done = change_by_form(services, slug, press, edit)
    if isinstance(done, Stored):
        return RedirectResponse(told(addresses.shop(slug), done), status_code=303)
    form = _opened(page_of(services, slug, PAGE).build, FIRST)["day"]
    for fault in press.faults:
        form.fault("", fault.text)
    return _refused(slug, services, "day", form)


def _refused(slug: str, services: Services, name: str, form: TypedForm) -> Response:
    page, room = page_of(services, slug, PAGE), ROOM_OF_FORM[name]
    shown = {**_opened(page.build, room), name: form}
    return _show(page, room, shown, status=422, is_open=(name,))


def _show(
    page: PageContext,
    room: Room,
    shown: Mapping[str, TypedForm],
    *,
    status: int = 200,
    notice: Notice = NO_NOTICE,
    is_open: tuple[str, ...] = (),
    lost: int = 0,
    last_copy: str = "",
    said: str = "",
    network: NetworkView | None = None,
) -> Response:
    """A room; `lost` is how many photographs an export has to leave out, `is_open` are the forms
    that are not folded."""
    today: dt.date = page.today
    setups = PickList.of("setup", page.build.shop.setups).labels
    return render(
        room.template,
        status=status,
        title=room.title,
        page=page,
        room=room,
        rooms=room_links(page.build, page.slug, room),
        forms=shown,
        rows=shop_rows(shown),
        days=day_lines(page.build, today),
        is_open=is_open,
        held_until=held_until(page.build, today),
        later_weeks=later_lines(page.build, today),
        ranges=range_lines(page.build, today),
        weekend=weekend_words(page.build, today),
        helper=helper_lines(page.build),
        media=medium_choices(),
        units=tuple(UNITS_WORDS.items()),
        out_fields=forms.out_fields(page.build),
        setups_out=((forms.NONE_OUT, "none"), *setups),
        tasks=PickList.of("task", page.build.tasks).labels,
        end_hint=END_HINT,
        lost=left_out_words(lost),
        last_copy=last_copy,
        notice=notice,
        said=said,
        network=network,
        fault="",
    )
