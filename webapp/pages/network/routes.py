"""The shop's network over HTTP: the switch, a code, turning away; at the machine alone.

A paired device may do all that a build knows. It lets nobody else in, and turns nobody away but
itself: one that is lost must not be able to bring others along.
"""

from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response
from starlette.datastructures import FormData

from webapp.pages import addresses
from webapp.pages.forms.posted import Typed, text_of, whole_number
from webapp.pages.frame.context import ServicesOf
from webapp.pages.frame.door import AT_THE_MACHINE_ALONE, DeviceAsking
from webapp.pages.frame.rendering import render
from webapp.pages.network.views import network_view
from webapp.pages.words import network as words
from webapp.services.program import Services
from webapp.services.shop_network import CannotListenError
from webapp.storage.builds import revision_of
from webapp.storage.devices import Device
from webapp.storage.trouble import trouble_with_file

router = APIRouter(include_in_schema=False)
TITLE = "Phones and other devices"


@router.get("/network")
def network(services: ServicesOf, device: DeviceAsking, said: str = "") -> Response:
    """The switch, the code and the devices, beside no build."""
    return _show(services, device, said=words.SAID.get(said, ""))


@router.post("/network/switch", dependencies=[AT_THE_MACHINE_ALONE])
def turn(services: ServicesOf, posted: Typed) -> Response:
    """Let paired devices in, or nobody."""
    if text_of(posted, "turn") != "on":
        services.devices.put_code_away()
        services.network.close()
        return _back(services, posted, said="off")
    try:
        services.network.open()
    except CannotListenError as trouble:
        return _show(services, None, status=422, fault=str(trouble))
    return _back(services, posted, said="on")


@router.post("/network/code", dependencies=[AT_THE_MACHINE_ALONE])
def show_code(services: ServicesOf, posted: Typed) -> Response:
    """Show a new code; the one before it pairs nobody any more."""
    if services.network.is_open:
        services.devices.show_code()
    return _back(services, posted, said="code" if services.network.is_open else "")


@router.post("/network/turn-away", dependencies=[AT_THE_MACHINE_ALONE])
def turn_away(services: ServicesOf, posted: Typed) -> Response:
    """Let one device in no longer."""
    device = _turned_away(services, whole_number(text_of(posted, "device")))
    if device is None:
        return _show(services, None, status=404, fault=words.NOT_THERE)
    return _back(services, posted, said="away")


@router.post("/network/leave")
def leave(services: ServicesOf, device: DeviceAsking) -> Response:
    """Have the device that asks turned away; what it sees then is how to pair."""
    if device is not None:
        _turned_away(services, device.key)
    return RedirectResponse(addresses.network(), status_code=303)


@router.get("/pair")
@router.post("/pair")
def paired_already() -> Response:
    """Where a code is typed; who is let in already goes on."""
    return RedirectResponse(addresses.builds(), status_code=303)


@router.get("/shop")
@router.get("/shop/{room}")
def shop_of_no_build(room: str = "") -> Response:
    """What the shop has that hangs on no build."""
    there = {"copies": addresses.copies(), "network": addresses.network()}
    return RedirectResponse(there.get(room, addresses.builds()), status_code=303)


def _turned_away(services: Services, key: int) -> Device | None:
    """Let a device in no longer, nor the calendars whose addresses were made on it."""
    device = services.devices.turn_away(key)
    if device is not None:
        with trouble_with_file(services.database.path):
            services.feeds.addresses.take_back_of(device.key)
    return device


def _back(services: Services, posted: FormData, **told: str) -> Response:
    """To the page that the press was made on: the room of a build, or the page beside them all."""
    slug = text_of(posted, "build")
    with services.database.reading() as session:
        is_build = bool(slug) and revision_of(session, slug) is not None
    address = addresses.shop(slug, "network") if is_build else addresses.network()
    query = urlencode({name: text for name, text in told.items() if text})
    return RedirectResponse(f"{address}?{query}" if query else address, status_code=303)


def _show(
    services: Services,
    device: Device | None,
    *,
    status: int = 200,
    said: str = "",
    fault: str = "",
) -> Response:
    view = network_view(services, device, here=addresses.network())
    return render(
        "network/network.html",
        status=status,
        title=TITLE,
        network=view,
        said=said,
        fault=fault,
    )
