"""The shop page over HTTP: one page, one form for each kind of thing on it."""

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from webapp.build.build_input import BuildInput
from webapp.pages import addresses
from webapp.pages.forms.form_change import Edit, Place, change_by_form, notice_of, nowhere, told
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm, parse_date
from webapp.pages.frame.context import PageContext, Services, ServicesOf, page_of
from webapp.pages.frame.rendering import render
from webapp.pages.shop import forms, hours_forms
from webapp.pages.shop.views import day_lines, medium_choices, shop_rows, weekend_words

router = APIRouter(include_in_schema=False)
PAGE = "Shop"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopForm:
    """One form of the page: what it shows when opened, what it does, where faults belong."""

    values: Callable[[BuildInput], forms.Values]
    edit: Callable[[TypedForm, BuildInput], BuildInput]
    place: Callable[[TypedForm], Place]


def _place_of_facts(form: TypedForm) -> Place:
    return lambda fault: fault.field if fault.kind == "build" and fault.field in form.values else ""


def _place_of_hands(form: TypedForm) -> Place:
    return lambda fault: fault.field if fault.kind == "shop" and fault.field in form.values else ""


FORMS: Mapping[str, ShopForm] = {
    "facts": ShopForm(values=forms.facts_values, edit=forms.edit_facts, place=_place_of_facts),
    "week": ShopForm(
        values=hours_forms.week_values,
        edit=hours_forms.edit_week,
        place=lambda form: hours_forms.place_of_week_fault,  # noqa: ARG005
    ),
    "day": ShopForm(
        values=hours_forms.day_values,
        edit=hours_forms.edit_day,
        place=lambda form: hours_forms.place_of_day_fault(form.typed("date")),
    ),
    "hands": ShopForm(values=forms.hands_values, edit=forms.edit_hands, place=_place_of_hands),
    "setups": ShopForm(
        values=forms.setups_values,
        edit=forms.edit_setups,
        place=lambda form: forms.place_of_fault(form, "setup", {"hours": "hours"}),
    ),
    "stations": ShopForm(
        values=forms.stations_values,
        edit=forms.edit_stations,
        place=lambda form: forms.place_of_fault(form, "station", {"count": "count"}),
    ),
    "subsystems": ShopForm(
        values=forms.subsystems_values,
        edit=forms.edit_subsystems,
        place=lambda form: forms.place_of_fault(
            form, "subsystem", {"order": "order", "medium": "medium"}
        ),
    ),
}


@router.get("/builds/{slug}/shop")
def shop(slug: str, services: ServicesOf, since: str = "", day: str = "") -> Response:
    """The page; `day` opens the day exception of that date."""
    page = page_of(services, slug, PAGE)
    shown = {name: TypedForm(form.values(page.build), scope=name) for name, form in FORMS.items()}
    date = parse_date(day)
    if date is not None:
        shown["day"] = TypedForm(hours_forms.day_values(page.build, date), scope="day")
    return _show(page, shown, notice=notice_of(services, page, since))


@router.get("/builds/{slug}/shop/{name}")
def form_again(slug: str, name: str) -> Response:  # noqa: ARG001  one page holds all forms
    """A reload of an address that only takes changes leads back to the page."""
    return RedirectResponse(addresses.shop(slug), status_code=303)


@router.post("/builds/{slug}/shop/weekend")
def no_shop_this_weekend(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """One press closes the coming Saturday and Sunday, or opens them again."""
    form, today = TypedForm.of(posted), services.settings.now().date()

    def edit(build: BuildInput) -> BuildInput:
        if not form.typed("open"):
            return hours_forms.close_weekend(build, today)
        for date in hours_forms.coming_weekend(today):
            build = hours_forms.without_day(build, date)
        return build

    return _store(slug, services, "day", TypedForm(scope="day"), edit, nowhere)


@router.post("/builds/{slug}/shop/usual-hours")
def usual_hours(slug: str, services: ServicesOf, posted: Typed) -> Response:
    """Take one day exception out: that date has the shop week's hours again."""
    form = TypedForm.of(posted, scope="day")

    def edit(build: BuildInput) -> BuildInput:
        date = form.date("date", "The date", needed=True)
        return build if date is None else hours_forms.without_day(build, date)

    return _store(slug, services, "day", form, edit, nowhere)


@router.post("/builds/{slug}/shop/{name}")
def change(slug: str, name: str, services: ServicesOf, posted: Typed) -> Response:
    """Store one form of the page."""
    if name not in FORMS:
        return RedirectResponse(addresses.shop(slug), status_code=303)
    form, kind = TypedForm.of(posted, scope=name), FORMS[name]
    return _store(
        slug,
        services,
        name,
        form,
        lambda build: kind.edit(form, build),
        lambda: kind.place(form),
    )


def _store(
    slug: str,
    services: Services,
    name: str,
    form: TypedForm,
    edit: Edit,
    place: Callable[[], Place],
) -> Response:
    since = change_by_form(services, slug, form, edit, place)
    if since is not None:
        return RedirectResponse(told(addresses.shop(slug), since), status_code=303)
    page = page_of(services, slug, PAGE)
    shown = {each: TypedForm(kind.values(page.build), scope=each) for each, kind in FORMS.items()}
    if not form.values:  # a press: its faults stand in the form that it belongs to
        refused = TypedForm(shown[name].values, scope=name)
        for fault in form.faults:
            refused.fault("", fault.text)
        form = refused
    return _show(page, {**shown, name: form}, status=422, refused=name)


def _show(
    page: PageContext,
    shown: Mapping[str, TypedForm],
    *,
    status: int = 200,
    notice: str = "",
    refused: str = "",
) -> Response:
    today: dt.date = page.today
    setups = PickList.of("setup", page.build.shop.setups).labels
    return render(
        "shop/shop.html",
        status=status,
        title="Shop",
        page=page,
        forms=shown,
        rows=shop_rows(shown),
        days=day_lines(page.build, today),
        weekend=weekend_words(page.build, today),
        media=medium_choices(),
        setups_out=((forms.NONE_OUT, "none"), *setups),
        tasks=PickList.of("task", page.build.tasks).labels,
        notice=notice,
        refused=refused,
    )
