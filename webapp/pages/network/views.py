"""The shop's network in strings."""

import datetime as dt
from dataclasses import dataclass

from webapp.pages import addresses
from webapp.pages.words import network as words
from webapp.pictures.picture_code import PictureCode, picture_code
from webapp.services.pairing import VALID
from webapp.services.program import Services
from webapp.storage.devices import Device


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceLine:
    """One paired device; `key` is what a press names it by."""

    key: int
    name: str
    paired: str
    used: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeView:
    """The code that pairs one device, in letters and as a picture of its whole address."""

    text: str
    until: str
    picture: PictureCode | None


@dataclass(frozen=True, slots=True, kw_only=True)
class NetworkView:
    """Everything of it; `this` is the device that asks, None at the machine itself.

    `came` says which device took the last code; `here` is the address of the page that shows this.
    """

    is_open: bool
    is_encrypted: bool
    this: DeviceLine | None
    addresses: tuple[str, ...]
    code: CodeView | None
    came: str
    devices: tuple[DeviceLine, ...]
    here: str


def network_view(services: Services, device: Device | None, *, here: str) -> NetworkView:
    """What a person sees at the machine; a device sees no more than itself."""
    today: dt.date = services.settings.now().date()
    places = services.network.addresses()
    at_machine = device is None
    code = _code(services, places) if at_machine else None
    devices = services.devices.all() if at_machine else ()
    return NetworkView(
        is_open=services.network.is_open,
        is_encrypted=services.settings.certificate is not None,
        this=None if device is None else _line(device, today),
        addresses=places,
        code=code,
        came=_came(devices) if code is None else "",
        devices=tuple(_line(each, today) for each in devices),
        here=here,
    )


def _line(device: Device, today: dt.date) -> DeviceLine:
    return DeviceLine(
        key=device.key,
        name=device.name,
        paired=words.paired_when(device.paired_at, today=today),
        used=words.used_when(device.used_at, today=today),
    )


def _code(services: Services, places: tuple[str, ...]) -> CodeView | None:
    shown = services.devices.shown_code() if services.network.is_open else None
    if shown is None:
        return None
    address = f"{places[0].rstrip('/')}{addresses.pair(shown.text)}" if places else ""
    return CodeView(
        text=shown.text,
        until=words.clock(shown.until),
        picture=picture_code(address) if address else None,
    )


def _came(devices: tuple[Device, ...]) -> str:
    """Which device was paired in the last minutes, "" where none was."""
    last = max(devices, key=lambda device: device.paired_at, default=None)
    if last is None or dt.datetime.now(dt.UTC) - last.paired_at > VALID:
        return ""
    return words.paired(last.name)
