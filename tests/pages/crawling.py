"""Every page of a build that a link leads to, a few of each kind."""

import html
import re

import httpx

OF_A_KIND = 3
_LINK = re.compile(r'(?:href|hx-get)="([^"#]*)')


def kind_of(address: str) -> str:
    """What an address has in common with others of its kind: no key of a thing, no value."""
    return re.sub(r"(?<=/)[^/?]+(?=$|\?)|=[^&]*", "", address)


def _is_left_out(address: str) -> bool:
    return "/document" in address or address.count("rule=") not in (0, 3)


def pages_of(client: httpx.Client, stem: str) -> dict[str, str]:
    """The pages below `stem` that links lead to, from the Bench on, by address.

    Documents are left out, and of the trials of the order all but those by three of the rules.
    """
    ahead, seen = [f"{stem}/bench"], {f"{stem}/bench"}
    kinds, pages = dict[str, int](), dict[str, str]()
    while ahead:
        address = ahead.pop(0)
        kind = kind_of(address.removeprefix(f"{stem}/"))
        kinds[kind] = kinds.get(kind, 0) + 1
        if kinds[kind] > OF_A_KIND or _is_left_out(address):
            continue
        answer = client.get(address)
        assert answer.status_code < 400, address
        pages[address.removeprefix(f"{stem}/")] = answer.text
        for link in map(html.unescape, _LINK.findall(answer.text)):
            if link.startswith(f"{stem}/") and link not in seen:
                seen.add(link)
                ahead.append(link)
    return pages
