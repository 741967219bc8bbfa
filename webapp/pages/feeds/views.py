"""The addresses that calendars follow, in strings."""

import datetime as dt
from dataclasses import dataclass

from fastapi import Request

from webapp.pages import addresses
from webapp.pages.words import amounts
from webapp.pages.words import feeds as words
from webapp.services.program import Services
from webapp.storage.builds import list_builds

LONGEST_BUILD_NAME = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class AddressLine:
    """One address: `key` is what its presses carry."""

    key: str
    name: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NewAddress:
    """An address that is shown now, and never again. `opens` is what a calendar takes up itself."""

    address: str
    opens: str
    only_here: bool


def build_choices(services: Services) -> tuple[tuple[str, str], ...]:
    """What an address can be about: all builds, or one."""
    with services.database.reading() as session:
        headings = list_builds(session)
    named = ((one.slug, amounts.one_line(one.name, LONGEST_BUILD_NAME)) for one in headings)
    return (("", words.ALL_BUILDS), *named)


def address_lines(services: Services) -> tuple[AddressLine, ...]:
    """Each address with what it is about and when it was used last."""
    today: dt.date = services.settings.now().date()
    builds = dict(build_choices(services))
    return tuple(
        AddressLine(
            key=one.key,
            name=one.name,
            note=words.address_note(
                builds.get(one.build), made_on=one.made_on, used_on=one.used_on, today=today
            ),
        )
        for one in services.feeds.addresses.all()
    )


def new_address(request: Request, services: Services, secret: str) -> NewAddress:
    """The address of a secret under the name that this page was asked for by.

    At the machine itself it is the one of the shop's network, where devices are let in.
    """
    path = addresses.feed(secret)
    only_here = request.url.hostname in ("127.0.0.1", "localhost", "::1")
    places = services.network.addresses() if only_here else ()
    whole = f"{places[0].rstrip('/') if places else str(request.base_url).rstrip('/')}{path}"
    return NewAddress(
        address=whole,
        opens=f"webcal:{whole.partition(':')[2]}",
        only_here=only_here and not places,
    )
