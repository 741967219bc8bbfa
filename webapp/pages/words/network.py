"""What is said of the shop's network and of the devices in it."""

import datetime as dt

from webapp.pages.words import copies

LONGEST_NAME = 60
NO_NAME = "A device without a name"

OTHER_NAME = (
    "Keyturn does not answer to that name. Open it by an address that Shop shows on the machine, "
    "under “Phones and other devices”."
)
OTHER_SITE = "The code came from another site and was not looked at. Type it on this page."
WRONG_CODE = (
    "That is not the code, or it is no longer valid: a code is good for ten minutes and for one "
    "device. Have a new one shown."
)
TOO_OFTEN = (
    "Too many codes were tried. Wait a minute, or have a new code shown on the machine: then you "
    "can try at once."
)
NOT_STORED = (
    "The machine can not store this device just now. Open Keyturn on the machine itself: it says "
    "there what stands in the way. The code stays good."
)
AT_THE_MACHINE_ALONE = (
    "This is done at the machine that Keyturn runs on, and not from a paired device. Nothing was "
    "changed."
)
SAID = {
    "on": "Paired devices are let in from now on.",
    "off": "Nobody is let in from the network any more.",
    "code": "The code stands below, for ten minutes and one device.",
    "away": "That device is turned away. To come in again it has to be paired anew.",
}
NOT_THERE = "There is no such device any more."


def device_name(typed: str) -> str:
    """What a device is called, of what was typed: one line of text that can be read."""
    readable = "".join(letter if letter.isprintable() else " " for letter in typed)
    return " ".join(readable.split())[:LONGEST_NAME].strip() or NO_NAME


def paired(name: str) -> str:
    """What stands in the place of the code once a device took it."""
    return f"“{name}” is paired."


def clock(moment: dt.datetime) -> str:
    """The time of day of a moment in UTC, as the machine's clock has it: "18:40"."""
    local = moment.astimezone()
    return f"{local.hour}:{local:%M}"


def paired_when(at: dt.datetime, *, today: dt.date) -> str:
    """When a device was paired."""
    return f"paired {copies.moment(at, today=today)}"


def used_when(at: dt.datetime, *, today: dt.date) -> str:
    """When a device was used last."""
    return f"last used {copies.moment(at, today=today)}"
