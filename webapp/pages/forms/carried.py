"""Two windows on one thing: what a form was shown with, what was typed, and what is there now.

A form carries what it showed. When it comes back, a field that still says what was shown was not
touched: it means what is stored now. A field that was changed is written, unless somebody else
changed it meanwhile: then both are shown and its person is asked. Rows of a list are matched by
what they are about, not by where they stand.
"""

import json
from collections.abc import Iterable, Mapping

from webapp.pages.forms.settled_field import Settled, settle_field
from webapp.pages.forms.settled_rows import settle_rows
from webapp.pages.forms.shown import Rows, Shown

Texts = Mapping[str, tuple[str, ...]]


def text_of_carried(texts: Texts) -> str:
    """What a form shows, as the hidden field holds it."""
    return json.dumps({name: given[-1] for name, given in texts.items() if given and given[-1]})


def read_carried(text: str) -> dict[str, str] | None:
    """What the form was shown with; None where it says nothing that can be read."""
    if not text:
        return None
    try:
        read = json.loads(text)
    except (ValueError, RecursionError):
        return None
    if not isinstance(read, dict):
        return None
    return {name: value for name, value in read.items() if isinstance(value, str)}


def settled(
    typed: Mapping[str, str], was: Mapping[str, str] | None, now: Shown, rows: Iterable[Rows] = ()
) -> Settled:
    """Hold what was typed against what was shown and what is stored now.

    typed : field -> text as posted; was : as shown, None where the form carried nothing: then
    whatever differs from what is stored was changed by its person, and a row is told by what it
    is about. A field that the form came without means what is stored.
    """
    before = {name: one.text for name, one in now.fields.items()} if was is None else was
    out, in_rows = Settled(), set[str]()
    for group in rows:
        names = settle_rows(out, group, typed, was, now)
        in_rows |= names
    for name in dict.fromkeys((*typed, *now.fields)):
        if name in in_rows:
            continue
        text = _text_of(name, typed, was, now)
        if text is None:
            out.as_stored(name, now.fields[name])
        else:
            settle_field(out, name, text, before.get(name, ""), now)
    return out


def _text_of(
    name: str, typed: Mapping[str, str], was: Mapping[str, str] | None, now: Shown
) -> str | None:
    """What was typed into a field; None where the form came without it, which says nothing.

    A browser sends nothing of a box that is not ticked: left out, one that was shown ticked was
    unticked.
    """
    if name in typed:
        return typed[name]
    return "" if now.is_tick(name) and (was or {}).get(name) else None
