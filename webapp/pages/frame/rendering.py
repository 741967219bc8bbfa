"""Templates to answers: one environment, whole pages only."""

import hashlib
import re
from functools import cache
from pathlib import Path
from typing import Any

from fastapi.responses import HTMLResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from jinja2.ext import Extension
from markupsafe import Markup

from webapp.pages import addresses
from webapp.pages.frame.once_only import once_field
from webapp.pages.words.sizes import keypad, unit
from webapp.pages.words.the_end import capital_end, the_end
from webapp.settings import resource_root

FORM_ATTRIBUTES = Markup(
    'hx-swap="outerMorph show:none" hx-sync="this:drop" hx-disable="find button"'
)
"""For every `<form method="post">`: the page stays where it is, one answer for a double click."""


class TokenInForms(Extension):
    """Puts the token of `once_only` into every form that carries the attributes above."""

    _OPENED = re.compile(r"\{\{ form_attributes \}\}[^>]*>")

    def preprocess(self, source: str, name: str | None, filename: str | None = None) -> str:
        del name, filename
        return self._OPENED.sub(r"\g<0>{{ once_field() }}", source)


@cache
def static_version() -> str:
    """A short digest of everything in static/: part of its addresses, so they can be kept."""
    digest = hashlib.sha256()
    root = resource_root() / "static"
    for file in sorted(path for path in root.rglob("*") if path.is_file()):
        digest.update(file.relative_to(root).as_posix().encode())
        digest.update(file.read_bytes())
    return digest.hexdigest()[:12]


def static_address(path: str) -> str:
    return f"/static/{static_version()}/{path}"


@cache
def environment(root: Path) -> Environment:
    """The templates under `root`; a name that is not there raises, and all text is escaped."""
    made = Environment(
        loader=FileSystemLoader(root / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=[TokenInForms],
        auto_reload=False,  # else each include, one for every line of a list, asks the disk
    )
    made.globals.update(
        to=addresses,
        static=static_address,
        form_attributes=FORM_ATTRIBUTES,
        once_field=once_field,
        the_end=the_end,
        capital_end=capital_end,
        unit=unit,
        keypad=keypad,
    )
    return made


def render(template: str, *, status: int = 200, **context: Any) -> HTMLResponse:
    """A whole page. `context` must hold `title`; `page` is a PageContext or None."""
    context.setdefault("page", None)
    text = environment(resource_root()).get_template(template).render(context)
    return HTMLResponse(text, status_code=status)


def render_refusal(
    status: int, *, title: str, texts: tuple[str, ...], back_to: str = "/"
) -> HTMLResponse:
    """A real page that says why a request was not answered, and where to go on."""
    return render("frame/refusal.html", status=status, title=title, texts=texts, back_to=back_to)


def render_question(
    question: str,
    *,
    status: int = 200,
    seen: str,
    keep_order: bool | None = None,
    offer_export: bool = False,
    fields: tuple[tuple[str, str], ...] = (),
    **context: Any,
) -> HTMLResponse:
    """A page that asks before something goes. `context`: title, page, texts, action, button, back.

    `seen` is what the question shows, carried along (`forms/asking.py`); `fields` are sent along.
    `keep_order` is whether that is ticked; None where no order is to be kept.
    """
    return render(
        "forms/confirm.html",
        status=status,
        question=question,
        seen=seen,
        keep_order=keep_order,
        offer_export=offer_export,
        fields=fields,
        **context,
    )
