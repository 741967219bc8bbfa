"""What is answered where a thing of the plumbing is not there any more: by its name, what became of
it, with what was typed about it."""

import datetime as dt

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.plumbing import component_at
from webapp.build.verbs.components import port_at
from webapp.pages import addresses
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.errors import BringBack, Missing, missing_thing
from webapp.pages.words import amounts as words
from webapp.pages.words.plumbing_names import ends_called
from webapp.pages.words.plumbing_typed import typed_told
from webapp.pages.words.quoted import shown
from webapp.services.program import Services
from webapp.storage.build_loader import load_build
from webapp.storage.fates import Fate, fate_of, fate_of_port

KINDS = ("circuit", "component", "run", "port", "room")
"""The kinds of things of which this tells."""
NOT_STORED = "Nothing was stored."


def gone(
    services: Services, slug: str, kind: str, key: str, form: TypedForm | None = None
) -> Missing:
    """The answer where a circuit, component, run, port or room is not there.

    `form` is what was typed about it.
    """
    typed = typed_of(form)
    now = services.settings.now()
    with services.database.reading() as session:
        build = load_build(session, slug, now=now)
        owner = component_at(key)
        is_there = build is not None and find_by_key(build.plumbing.components, owner) is not None
        of_port = kind == "port" and is_there
        if of_port:
            fate = fate_of_port(session, slug, owner, key.partition(".")[2])
        else:
            kind, key = ("component", owner) if kind == "port" else (kind, key)
            fate = fate_of(session, slug, kind, key)
    if build is None or fate is None:
        lost = missing_thing(slug, kind, key[:60])
        text = lost.text if not typed else f"{lost.text} {NOT_STORED}"
        return Missing(text, back_to=lost.back_to, go_on="To Plumbing", typed=typed)
    if of_port:
        return _port_gone(build, slug, owner, fate, typed)
    name = fate.name or ends_called(build, fate.ports)
    text = f"The {kind} “{shown(name)}” {_removed(fate, now.date())}"
    back_to, go_on = _way_on(build, slug, fate)
    back = {
        "run": addresses.run,
        "circuit": addresses.circuit,
        "component": addresses.component,
        "room": addresses.room,
    }[kind](slug, key)
    return Missing(
        f"{text} {NOT_STORED}" if typed else text,
        back_to=back_to,
        go_on=go_on,
        typed=typed,
        bring_back=BringBack(slug=slug, name=shown(name), revision=fate.revision, back=back),
    )


def typed_of(form: TypedForm | None) -> tuple[tuple[str, str], ...]:
    """What was typed into a form, with the labels of its fields."""
    if form is None:
        return ()
    return typed_told(
        (name, given[-1], form.was_shown(name)) for name, given in form.values.items() if given
    )


def piece_gone(slug: str, run: str, name: str, number: int, form: TypedForm | None) -> Missing:
    """The answer where a run has no piece of that number any more."""
    typed = typed_of(form)
    text = (
        f"There is no piece {number} in “{shown(name)}”: it was taken out, or the run was changed"
        " elsewhere. What it has now stands on its page."
    )
    return Missing(
        f"{text} {NOT_STORED}" if typed else text,
        back_to=addresses.run(slug, run),
        go_on=f"To “{shown(name)}”",
        typed=typed,
    )


def line_gone(slug: str, name: str, form: TypedForm | None) -> Missing:
    """The answer where a line of the shelf is not what it was."""
    typed = typed_of(form)
    called = f"“{shown(name)}”" if name else "This line"
    text = (
        f"{called} does not lie on the shelf as it did any more: it was changed, used or taken away"
        " since. What lies there now stands on the shelf."
    )
    return Missing(
        f"{text} {NOT_STORED}" if typed else text,
        back_to=addresses.shelf(slug),
        go_on="To the shelf",
        typed=typed,
    )


def _port_gone(
    build: BuildInput, slug: str, owner: str, fate: Fate, typed: tuple[tuple[str, str], ...]
) -> Missing:
    component = find_by_key(build.plumbing.components, owner)
    of = shown(component.name if component is not None else owner)
    now = f"{owner}.{fate.renamed}"
    if fate.renamed and port_at(build, now) is not None:
        text = f"The port “{shown(fate.name)}” of “{of}” is called “{shown(fate.renamed)}” now."
        back_to, go_on = addresses.port(slug, now), f"To the port “{shown(fate.renamed)}”"
    else:
        day = build.now.date()
        text = f"The port “{shown(fate.name)}” of “{of}” {_removed(fate, day)}"
        back_to, go_on = addresses.component(slug, owner), f"To “{of}”"
    return Missing(
        f"{text} {NOT_STORED}" if typed else text, back_to=back_to, go_on=go_on, typed=typed
    )


def _removed(fate: Fate, today: dt.date) -> str:
    at = fate.at.astimezone().replace(tzinfo=None)
    return (
        f"is not there any more: it was removed on {words.day(at, today=today)}, {words.time(at)}."
    )


def _way_on(build: BuildInput, slug: str, fate: Fate) -> tuple[str, str]:
    """Where a removed thing was drawn: its circuit, else Plumbing."""
    keys = [fate.circuit]
    for found in (port_at(build, address) for address in fate.ports):
        keys.append("" if found is None else found[1].circuit or found[0].circuit or "")
    for key in keys:
        circuit = find_by_key(build.plumbing.circuits, key)
        if circuit is not None:
            return addresses.circuit(slug, circuit.key), f"To {shown(circuit.name)}"
    return addresses.plumbing(slug), "To Plumbing"
