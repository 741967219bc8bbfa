"""Every form that the pages of the program show, found as a person would: link by link."""

import json
import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from html.parser import HTMLParser
from urllib.parse import urlsplit

from fastapi.routing import APIRoute
from httpx import Client
from starlette.routing import Match

PAGES_OF_A_KIND = 4
"""So many addresses of one route are looked at: one task's page is like another's."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """A form as it stands on its page, with one of its buttons pressed.

    `fields` are sent as they are; `unticked` are its boxes without a tick, which are not sent;
    `files` are the names of its fields for files.
    """

    action: str
    fields: tuple[tuple[str, str], ...] = ()
    ticked: tuple[tuple[str, str], ...] = ()
    unticked: tuple[tuple[str, str], ...] = ()
    files: tuple[str, ...] = ()

    def filled(self, *, empty: Mapping[str, str], over: Mapping[str, str]) -> "Form":
        """The form with text typed into what is empty, and over what is there.

        Both go by patterns of names: "name-0" and "name-1" are both "name-[0-9]+".
        """

        def typed(name: str, value: str) -> str:
            texts = over if value else empty
            found = (text for pattern, text in texts.items() if re.fullmatch(pattern, name))
            return next(found, value)

        return replace(self, fields=tuple((name, typed(name, v)) for name, v in self.fields))

    def turned(self) -> "Form":
        """The form with every box ticked that was not, and the other way round."""
        return replace(self, ticked=self.unticked, unticked=self.ticked)

    @property
    def sent(self) -> dict[str, list[str]]:
        """What a browser sends of it."""
        sent: dict[str, list[str]] = {}
        for name, value in (*self.fields, *self.ticked):
            sent.setdefault(name, []).append(value)
        return sent


class _Parser(HTMLParser):
    """The links and posted forms of one page."""

    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self.forms: list[Form] = []
        self._action: str | None = None
        self._fields: list[tuple[str, str]] = []
        self._boxes: dict[bool, list[tuple[str, str]]] = {}
        self._buttons: list[tuple[str, tuple[tuple[str, str], ...]]] = []
        self._rows: list[tuple[str, tuple[tuple[str, str], ...]]] = []
        self._files: list[str] = []
        self._in_text = False
        self._select = ""
        self._options: list[tuple[bool, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        name = given.get("name", "")
        if tag == "a" and "href" in given:
            self.links.append(given["href"])
        elif tag == "form" and given.get("method", "").lower() == "post":
            self._action, self._fields, self._buttons = given["action"], [], []
            self._rows, self._files = [], []
            self._boxes = {True: [], False: []}
        elif "hx-post" in given:  # a row that is sent by itself, with all that its form holds
            of_row = json.loads(given.get("hx-vals", "{}"))
            self._rows.append((given["hx-post"], tuple(of_row.items())))
        elif tag == "input" and name and "disabled" not in given:
            self._input(given)
        elif tag == "textarea" and name:
            self._fields.append((name, ""))
            self._in_text = True
        elif tag == "select":
            self._select, self._options = name, []
        elif tag == "option":
            self._options.append(("selected" in given, given.get("value", "")))
        elif tag == "button":
            pressed = ((name, given.get("value", "")),) if name else ()
            self._buttons.append((given.get("formaction", ""), pressed))

    def _input(self, given: dict[str, str]) -> None:
        kind, field = given.get("type", "text"), (given["name"], given.get("value", "on"))
        if kind == "checkbox":
            self._boxes["checked" in given].append(field)
        elif kind == "radio":
            self._fields += [field] if "checked" in given else []
        elif kind == "file":
            self._files.append(given["name"])
        elif kind != "submit":
            self._fields.append((given["name"], given.get("value", "")))

    def handle_data(self, data: str) -> None:
        if self._in_text:
            name, before = self._fields[-1]
            self._fields[-1] = (name, before + data)

    def handle_endtag(self, tag: str) -> None:
        if tag == "textarea":
            self._in_text = False
            name, text = self._fields[-1]
            self._fields[-1] = (name, text.removeprefix("\n"))  # as a browser does
        elif tag == "select" and self._select:
            chosen = [value for selected, value in self._options if selected]
            first = [value for _, value in self._options][:1]
            self._fields += [(self._select, value) for value in (chosen or first)]
            self._select = ""
        elif tag == "form" and self._action is not None:
            self.forms += [
                Form(
                    action=action or self._action,
                    fields=(*self._fields, *pressed),
                    ticked=tuple(self._boxes[True]),
                    unticked=tuple(self._boxes[False]),
                    files=tuple(self._files),
                )
                for action, pressed in (*(self._buttons or [("", ())]), *self._rows)
            ]
            self._action = None


def route_of(routes: Iterable[APIRoute], method: str, address: str) -> APIRoute | None:
    """The route that answers an address."""
    scope = {"type": "http", "method": method, "path": urlsplit(address).path, "root_path": ""}
    return next((each for each in routes if each.matches(scope)[0] is Match.FULL), None)


def forms_of(client: Client, address: str) -> list[Form]:
    """Every form of the page at an address."""
    return forms_in(client.get(address).text)


def forms_in(text: str) -> list[Form]:
    """Every form of one page."""
    page = _Parser()
    page.feed(text)
    return page.forms


def forms_found(
    client: Client,
    routes: Iterable[APIRoute],
    begin: Sequence[str],
    *,
    within: tuple[str, ...] = ("/",),
    of_a_kind: int = PAGES_OF_A_KIND,
) -> list[Form]:
    """Every form on the pages that links lead to from `begin`, a few pages of each kind.

    Only links that begin with one of `within` are followed.
    """
    routes = list(routes)
    seen, waiting = set(begin), list(begin)
    looked_at: Counter[str] = Counter()
    found: list[Form] = []
    while waiting:
        address = waiting.pop(0)
        route = route_of(routes, "GET", address)
        if route is None or looked_at[route.path] >= of_a_kind:
            continue
        looked_at[route.path] += 1
        answer = client.get(address)
        if not answer.headers["content-type"].startswith("text/html"):
            continue
        page = _Parser()
        page.feed(answer.text)
        found += page.forms
        for link in page.links:
            plain = link.partition("#")[0]
            if plain.startswith(within) and plain not in seen:
                seen.add(plain)
                waiting.append(plain)
    return found
