"""The ways in which a form found on a page is filled, one after the other until it is taken.

What is typed goes by the names of fields; what is picked, and what is changed of a form that has
everything already, goes by what the form offers.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice

from tests.benchmarks.forms_found import Form
from tests.benchmarks.race_states import raced_build
from webapp.exchange.build_document import write_document

PICKED = 4
"""In so many ways is picked what a form leaves open."""
CHANGED = 24
"""So many forms with one thing changed are tried of a route."""
EMPTY = (
    {
        "wish|text|caption": "Lift the roof",
        "name(-0)?": "Weld the tray",
        "likely(-0)?": "2",
        "task": "First start",
        "hours": "1.5",
        "signer|.*_name": "A. Builder",
        "helper": "B. Friend",
        "seen|reason|words|cause": "It was dry and tight",
        "reading-.*": "2",
        "first_size": "38 mm",
        "length_mm": "500 mm",
        "length-0": "2000 mm",
        "price-0": "30",
        "wanted_by|date": "2026-08-01",
        "opens-0": "09:00",
        "closes-0": "12:00",
        "document": write_document(replace(raced_build(), name="Gull")),
    },
    {
        "wish|text|caption": "Lower the roof",
        "name(-0)?": "Bolt the tray",
        "likely(-0)?": "3",
        "task": "First start",
        "hours": "2.5",
        "signer|.*_name": "C. Welder",
        "helper": "D. Friend",
        "seen|reason|words|cause": "It was wet and loose",
        "reading-.*": "3",
        "first_size": "19 mm",
        "length_mm": "300 mm",
        "length-0": "3000 mm",
        "price-0": "50",
        "wanted_by|date": "2026-09-05",
        "opens-0": "10:00",
        "closes-0": "13:00",
        "document": write_document(replace(raced_build(), name="Tern")),
    },
)
OVER = (
    {"worked": "1.5"},
    {
        "wish|text|name(-0)?": "Another name",
        "worked|hours": "2.5",
        "left": "3",
        "likely(-0)?": "2.5",
        "fights(-0)?": "9",
        "lead_days": "9",
        "people": "3",
        "wanted_by|date": "2026-09-05",
        "opens-0(-0)?": "17:00",
        "keep": "found",
    },
)
"""Typed into what is empty and over what is there: in one form, and in one that is to differ."""


def variants(forms: Sequence[Form]) -> Iterator[Form]:
    """Each form filled in both ways; then with boxes ticked, things picked, one thing changed."""
    ways = list(zip(EMPTY, OVER, strict=True))
    typed = [filled(form, empty=empty, over=over) for form in forms for empty, over in ways]
    yield from typed
    yield from (turned(form) for form in typed[:: len(ways)] if form.ticked or form.unticked)
    for first in range(PICKED):
        for form in typed[first % len(ways) :: len(ways)]:
            if (picked := picked_from(form, first)) != form:
                yield picked
    yield from islice((one for form in forms for one in with_one_changed(form)), CHANGED)


def filled(form: Form, *, empty: Mapping[str, str], over: Mapping[str, str]) -> Form:
    """The form with text typed into what is empty, and over what is there.

    Both go by patterns of names: "name-0" and "name-1" are both "name-[0-9]+".
    """

    def typed(name: str, value: str) -> str:
        texts = over if value else empty
        found = (text for pattern, text in texts.items() if re.fullmatch(pattern, name))
        return next(found, value)

    return replace(form, fields=tuple((name, typed(name, v)) for name, v in form.fields))


def turned(form: Form) -> Form:
    """The form with every box ticked that was not, and the other way round."""
    return replace(form, ticked=form.unticked, unticked=form.ticked)


def picked_from(form: Form, first: int) -> Form:
    """The form with something picked wherever nothing is: the first or a later one of each.

    Each place picks another one, so two ends of something are not the same.
    """
    sent = dict(form.fields)
    picked = {}
    for place, (name, values) in enumerate(form.choices):
        offered = [value for value in values if value]
        if not sent.get(name) and offered:
            picked[name] = offered[(first + place) % len(offered)]
    return replace(
        form,
        fields=(
            *((name, picked.pop(name, value)) for name, value in form.fields),
            *picked.items(),
        ),
    )


def with_one_changed(form: Form) -> Iterator[Form]:
    """The form again and again, each time with one thing in it that is not as it stands there."""
    for name, values in form.choices:
        before = dict(form.fields).get(name)
        if others := [value for value in values if value and value != before]:
            yield _with(form, name, others[0])
    for name, value in form.fields:
        if name in form.typed and value:
            yield _with(form, name, another(value))


def _with(form: Form, name: str, value: str) -> Form:
    others = [(n, v) for n, v in form.fields if n != name]
    return replace(form, fields=(*others, (name, value)))


def another(text: str) -> str:
    """A text that is not the one given: its first figure one more, or a word more.

    "17:30" becomes "18:30", "25.2 in" becomes "26.2 in", "by the door" "by the door again".
    """
    more, figures = re.subn(r"\d+", lambda at: str(int(at[0]) + 1).zfill(len(at[0])), text, count=1)
    return more if figures else f"{text} again"
