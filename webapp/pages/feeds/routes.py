"""The calendar over HTTP: the feed by its secret address, and the page of the addresses."""

import datetime as dt
import hashlib
from email.utils import format_datetime, parsedate_to_datetime
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from fastapi.responses import PlainTextResponse, RedirectResponse, Response

from webapp.exchange.calendar_feed import MEDIA_TYPE
from webapp.pages import addresses
from webapp.pages.feeds.calendar import CalendarText, calendar_of
from webapp.pages.feeds.views import address_lines, build_choices, new_address
from webapp.pages.forms.posted import Typed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import ServicesOf
from webapp.pages.frame.door import DeviceAsking
from webapp.pages.frame.rendering import render
from webapp.pages.words import feeds as words
from webapp.services.program import Services
from webapp.storage.devices import Device
from webapp.storage.feed_addresses import digest_of

router = APIRouter(include_in_schema=False)
MOST_ADDRESSES = 50
MOST_NAME_CHARACTERS = 60
ASK_AGAIN_SECONDS = 30


@router.get("/feed/{secret}.ics")
def feed(secret: str, request: Request, services: ServicesOf) -> Response:
    """The calendar of a secret address; nothing else opens it, and it opens nothing else."""
    today = services.settings.now().date()
    address = services.feeds.addresses.opened_by(secret, today=today)
    if address is None:
        return PlainTextResponse(words.NOT_HERE, status_code=404)
    calendar = calendar_of(services, address)
    if calendar is None:
        headers = {"Retry-After": str(ASK_AGAIN_SECONDS)}
        return PlainTextResponse(words.NOT_READY, status_code=503, headers=headers)
    tag = f'"{hashlib.sha256(calendar.content).hexdigest()[:32]}"'
    headers = {
        "ETag": tag,
        "Last-Modified": format_datetime(calendar.changed_at, usegmt=True),
        "Cache-Control": "private, no-cache",
    }
    if _is_known(request, calendar, tag):
        return Response(status_code=304, headers=headers)
    headers["Content-Disposition"] = 'inline; filename="keyturn.ics"'
    return Response(calendar.content, media_type=MEDIA_TYPE, headers=headers)


def _is_known(request: Request, calendar: CalendarText, tag: str) -> bool:
    """Whether who asks has it already (RFC 9110, 13.2.2): the tag goes before the date."""
    tags = request.headers.get("if-none-match")
    if tags is not None:
        told = {one.strip().removeprefix("W/") for one in tags.split(",")}
        return tag in told or tags.strip() == "*"
    since = request.headers.get("if-modified-since")
    if since is None:
        return False
    try:
        moment = parsedate_to_datetime(since)
    except ValueError:
        return False
    if moment.tzinfo is None:
        moment = moment.replace(tzinfo=dt.UTC)
    return calendar.changed_at <= moment


@router.get("/feeds")
def feeds(request: Request, services: ServicesOf, made: str = "", gone: str = "") -> Response:
    """The addresses there are; `made` leads to a secret that is shown, `gone` was taken back."""
    secret = services.feeds.shown(made, at=services.settings.moment())
    digests = {one.digest for one in services.feeds.addresses.all()}
    if digest_of(secret) not in digests:
        secret = ""  # taken back or changed since
    return _show(request, services, TypedForm(), secret=secret, said=_said(gone))


@router.post("/feeds/new")
def make(request: Request, services: ServicesOf, posted: Typed, device: DeviceAsking) -> Response:
    """Make an address; it is shown on the page that this leads to, and never again."""
    form = TypedForm.of(posted)
    name, build = " ".join(form.typed("name").split()), form.typed("build")
    choices = dict(build_choices(services))
    if not name:
        form.fault("name", words.NO_NAME)
    elif len(name) > MOST_NAME_CHARACTERS:
        form.fault("name", words.LONG_NAME)
    if build not in choices:
        form.fault("build", words.NO_SUCH_BUILD)
    if len(services.feeds.addresses.all()) >= MOST_ADDRESSES:
        form.fault("", words.TOO_MANY)
    if not form.faults:
        today = services.settings.now().date()
        try:
            secret = services.feeds.addresses.make(
                name, build=build, today=today, device=_key_of(device)
            )
            return _shown(services, secret)
        except OSError as error:
            form.fault("", words.not_kept(error.strerror or str(error)))
    return _show(request, services, form, status=422)


@router.post("/feeds/change")
def change(request: Request, services: ServicesOf, device: DeviceAsking, key: str = "") -> Response:
    """Give an address another secret: the old one leads nowhere from now on."""
    try:
        today = services.settings.now().date()
        secret = services.feeds.addresses.change(key, today=today, device=_key_of(device))
    except OSError as error:
        return _not_kept(request, services, error)
    return _shown(services, secret) if secret else _gone(request, services)


@router.post("/feeds/take-back")
def take_back(request: Request, services: ServicesOf, key: str = "") -> Response:
    """Take an address back."""
    try:
        found = services.feeds.addresses.take_back(key)
    except OSError as error:
        return _not_kept(request, services, error)
    if found is None:
        return _gone(request, services)
    query = urlencode({"gone": found.name})
    return RedirectResponse(f"{addresses.feeds()}?{query}", status_code=303)


def _key_of(device: Device | None) -> int | None:
    """Whose the secret is: it goes with the device that gets to know it."""
    return None if device is None else device.key


def _shown(services: Services, secret: str) -> Response:
    ticket = services.feeds.show(secret, at=services.settings.moment())
    query = urlencode({"made": ticket})
    return RedirectResponse(f"{addresses.feeds()}?{query}", status_code=303)


def _said(gone: str) -> str:
    return words.taken_back(gone[:MOST_NAME_CHARACTERS]) if gone else ""


def _gone(request: Request, services: Services) -> Response:
    form = TypedForm()
    form.fault("", words.GONE)
    return _show(request, services, form, status=404)


def _not_kept(request: Request, services: Services, error: OSError) -> Response:
    form = TypedForm()
    form.fault("", words.not_kept(error.strerror or str(error)))
    return _show(request, services, form, status=507)


def _show(
    request: Request,
    services: Services,
    form: TypedForm,
    *,
    status: int = 200,
    secret: str = "",
    said: str = "",
) -> Response:
    return render(
        "feeds/feeds.html",
        status=status,
        title="In your calendar",
        form=form,
        said=said,
        made=new_address(request, services, secret) if secret else None,
        lines=address_lines(services),
        builds=build_choices(services),
        in_it=words.in_it(),
    )
