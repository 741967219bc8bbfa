"""Addresses beside the builds: of all of them, copies, devices, lists of one's own, feeds."""

from urllib.parse import urlencode

from webapp.pages.addresses.joined import build, encoded


def builds() -> str:
    return "/"


def new_build() -> str:
    return "/builds/new"


def import_build() -> str:
    return "/builds/import"


def copies() -> str:
    return "/copies"


def new_copy() -> str:
    return "/copies/new"


def copies_elsewhere() -> str:
    return "/copies/elsewhere"


def network() -> str:
    return "/network"


def network_switch() -> str:
    return "/network/switch"


def network_code() -> str:
    """A new code that pairs one device."""
    return "/network/code"


def turn_device_away() -> str:
    return "/network/turn-away"


def leave_network() -> str:
    """Where a device has itself turned away."""
    return "/network/leave"


def pair(code: str = "") -> str:
    """Where a device that is not paired sends its code."""
    return f"/pair?{urlencode({'code': code})}" if code else "/pair"


def put_back(name: str) -> str:
    return f"/put-back?{urlencode({'key': name})}"


def own_lists() -> str:
    """The starter lists of one's own."""
    return "/own-lists"


def own_list(key: str) -> str:
    return f"/own-list?{urlencode({'key': key})}"


def rename_own_list(key: str) -> str:
    return f"/own-list/name?{urlencode({'key': key})}"


def take_out_own_list(key: str) -> str:
    return f"/own-list/take-out?{urlencode({'key': key})}"


def put_back_own_list(key: str) -> str:
    return f"/own-list/put-back?{urlencode({'key': key})}"


def make_own_list(slug: str) -> str:
    """Where a build is made into a starter list."""
    return f"{build(slug)}/own-list"


def feeds() -> str:
    """Where addresses for calendars are made and taken back."""
    return "/feeds"


def new_feed() -> str:
    return "/feeds/new"


def change_feed(key: str) -> str:
    return f"/feeds/change?{urlencode({'key': key})}"


def take_back_feed(key: str) -> str:
    return f"/feeds/take-back?{urlencode({'key': key})}"


def feed(secret: str) -> str:
    """The calendar of a secret: whoever knows the address needs nothing else."""
    return f"/feed/{encoded(secret)}.ics"


def secret_of_feed(path: str) -> str:
    """The secret in the address of a calendar, of which `is_feed` holds."""
    return path.removeprefix("/feed/").removesuffix(".ics")


def is_feed(path: str) -> bool:
    """Whether an address is one that a calendar asks for, which brings nothing but its secret."""
    return path.startswith("/feed/") and path.endswith(".ics")


def demo_build() -> str:
    return "/builds/demo"


def delete_build(slug: str) -> str:
    return f"{build(slug)}/delete"


def starter(slug: str) -> str:
    """The questions of the starter list that a build was begun from."""
    return f"{build(slug)}/starter"


def document(slug: str, *, photographs: bool = False) -> str:
    """The build document; with its photographs in it where that is asked for."""
    return f"{build(slug)}/document" + ("?photographs=on" if photographs else "")


def schema() -> str:
    return "/schema/build-document-1.json"
