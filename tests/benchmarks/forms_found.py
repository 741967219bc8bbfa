"""Every form that the pages of the program show, found as a person would: link by link."""

import json
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
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

    `fields` are sent as they are; `typed` are the names of those that a person types into, and
    `choices` what each of those offers that a person picks from, with nothing picked "" or not
    sent. `unticked` are its boxes without a tick, which are not sent; `pictures` are the names of
    its fields for photographs.
    """

    action: str
    fields: tuple[tuple[str, str], ...] = ()
    typed: tuple[str, ...] = ()
    choices: tuple[tuple[str, tuple[str, ...]], ...] = ()
    ticked: tuple[tuple[str, str], ...] = ()
    unticked: tuple[tuple[str, str], ...] = ()
    pictures: tuple[str, ...] = ()

    @property
    def sent(self) -> dict[str, list[str]]:
        """What a browser sends of it."""
        sent: dict[str, list[str]] = {}
        for name, value in (*self.fields, *self.ticked):
            sent.setdefault(name, []).append(value)
        return sent


Pressed = tuple[str, tuple[tuple[str, str], ...]]
"""Where a button leads, "" where its form does, and what it sends."""


@dataclass(slots=True, kw_only=True)
class _Shown:
    """A form as far as its page was read."""

    action: str
    fields: list[tuple[str, str]] = field(default_factory=list)
    typed: list[str] = field(default_factory=list)
    choices: dict[str, list[str]] = field(default_factory=dict)
    boxes: dict[bool, list[tuple[str, str]]] = field(default_factory=lambda: {True: [], False: []})
    pictures: list[str] = field(default_factory=list)
    buttons: list[Pressed] = field(default_factory=list)
    rows: list[Pressed] = field(default_factory=list)

    def forms(self) -> list[Form]:
        """The form with each of its buttons pressed, and each row of it sent by itself."""
        return [
            Form(
                action=action or self.action,
                fields=(*self.fields, *pressed),
                typed=tuple(self.typed),
                choices=tuple((name, tuple(values)) for name, values in self.choices.items()),
                ticked=tuple(self.boxes[True]),
                unticked=tuple(self.boxes[False]),
                pictures=tuple(self.pictures),
            )
            for action, pressed in (*(self.buttons or [("", ())]), *self.rows)
        ]


class _Parser(HTMLParser):
    """The links and posted forms of one page.

    A button can belong to a form that it does not stand in, and before that form.
    """

    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self._shown: list[_Shown] = []
        self._named: dict[str, _Shown] = {}
        self._elsewhere: list[tuple[str, Pressed]] = []
        self._form: _Shown | None = None
        self._in_text = False
        self._select = ""
        self._options: list[tuple[bool, str]] = []

    @property
    def forms(self) -> list[Form]:
        """Every form, once the page was read."""
        for name, pressed in self._elsewhere:
            if name in self._named:
                self._named[name].buttons.append(pressed)
        self._elsewhere.clear()
        return [form for shown in self._shown for form in shown.forms()]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag == "a" and "href" in given:
            self.links.append(given["href"])
        elif tag == "form" and given.get("method", "").lower() == "post":
            self._form = _Shown(action=given["action"])
            self._shown.append(self._form)
            if "id" in given:
                self._named[given["id"]] = self._form
        elif tag == "button":
            self._button(given)
        elif tag == "option":
            self._options.append(("selected" in given, given.get("value", "")))
        elif self._form is not None:
            self._in_form(self._form, tag, given)

    def _button(self, given: dict[str, str]) -> None:
        sent = ((given["name"], given.get("value", "")),) if "name" in given else ()
        pressed = (given.get("formaction", ""), sent)
        if "form" in given:
            self._elsewhere.append((given["form"], pressed))
        elif self._form is not None:
            self._form.buttons.append(pressed)

    def _in_form(self, form: _Shown, tag: str, given: dict[str, str]) -> None:
        name = given.get("name", "")
        if "hx-post" in given:  # a row that is sent by itself, with all that its form holds
            of_row = json.loads(given.get("hx-vals", "{}"))
            form.rows.append((given["hx-post"], tuple(of_row.items())))
        elif tag == "input" and name and "disabled" not in given:
            _read_input(form, given)
        elif tag == "textarea" and name:
            form.fields.append((name, ""))
            form.typed.append(name)
            self._in_text = True
        elif tag == "select":
            self._select, self._options = name, []

    def handle_data(self, data: str) -> None:
        if self._in_text and self._form is not None:
            name, before = self._form.fields[-1]
            self._form.fields[-1] = (name, before + data)

    def handle_endtag(self, tag: str) -> None:
        form = self._form
        if form is None:
            return
        if tag == "textarea":
            self._in_text = False
            name, text = form.fields[-1]
            form.fields[-1] = (name, text.removeprefix("\n"))  # as a browser does
        elif tag == "select" and self._select:
            chosen = [value for selected, value in self._options if selected]
            every = [value for _, value in self._options]
            form.fields += [(self._select, value) for value in (chosen or every[:1])]
            form.choices[self._select] = every
            self._select = ""
        elif tag == "form":
            self._form = None


def _read_input(form: _Shown, given: dict[str, str]) -> None:
    kind, name = given.get("type", "text"), given["name"]
    value = given.get("value", "on" if kind in ("checkbox", "radio") else "")
    if kind == "checkbox":
        form.boxes["checked" in given].append((name, value))
    elif kind == "radio":
        form.fields += [(name, value)] if "checked" in given else []
        form.choices.setdefault(name, []).append(value)
    elif kind == "file":  # others are asked for where text can be typed instead
        form.pictures += [name] if given.get("accept", "").startswith("image/") else []
    elif kind != "submit":
        form.fields.append((name, value))
        form.typed += [name] if kind != "hidden" else []


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
