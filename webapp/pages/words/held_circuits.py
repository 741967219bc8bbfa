"""What circuits hold a task, in words: the reason beside a task, and the question at Begin."""

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.checks.plumbing_checks import plumbing_faults
from webapp.build.circuit_dependencies import waiting_for
from webapp.build.plumbing import component_at
from webapp.pages.words import amounts as words
from webapp.pages.words.plumbing_open import SHORT
from webapp.pages.words.quoted import shown
from webapp.plumbing.held import Hold
from webapp.plumbing.open_list import Open, counted_once
from webapp.plumbing.plumbed import Plumbed, plumbed

CIRCUITS_TOLD = 3
OPEN_TOLD = 2
"""So many open things of a circuit are told by name."""


def held_by_circuits(
    build: BuildInput, answer: Plumbed, key: str, *, things: int = OPEN_TOLD
) -> tuple[str, ...]:
    """Why circuits hold a task, a phrase each: "Coolant is open: Radiator drain, cap is not on".

    So many open things of a circuit are told by name, and three circuits; the rest in number.
    """
    held = next((one for one in answer.held if one.task == key), None)
    if held is None:
        return ()
    told = tuple(_hold_words(build, answer, hold, things) for hold in held.by[:CIRCUITS_TOLD])
    more = len(held.by) - len(told)
    return told if more <= 0 else (*told, f"it waits for {words.count(more, 'circuit')} more")


def held_in_short(build: BuildInput, answer: Plumbed | None) -> dict[str, str]:
    """By task the circuits that hold it, in a phrase with one open thing of each."""
    if answer is None:
        return {}
    return {
        one.task: "held by: " + "; ".join(held_by_circuits(build, answer, one.task, things=1))
        for one in answer.held
    }


def held_at_length(build: BuildInput, answer: Plumbed | None, key: str) -> str:
    """The circuits that hold a task in sentences, the last without its stop; "" for none."""
    held = () if answer is None else held_by_circuits(build, answer, key)
    return ". ".join(map(words.sentence, held))


def asked_at_begin(build: BuildInput, key: str) -> str:
    """What is asked before a task is begun that circuits hold; "" where none does."""
    holding = (circuit for circuit in build.plumbing.circuits if key in waiting_for(build, circuit))
    if next(holding, None) is None or next(iter(plumbing_faults(build)), None) is not None:
        return ""
    held = held_at_length(build, plumbed(build), key)
    return f"{held}. Begin it all the same?" if held else ""


def _hold_words(build: BuildInput, answer: Plumbed, hold: Hold, things: int) -> str:
    one = next(one for one in answer.circuits if one.circuit.key == hold.circuit)
    name = shown(one.circuit.name)
    if hold.why == "not tested":
        return f"{name} is closed and not tested"
    opens = counted_once(one.open)
    told = [_open_words(build, thing) for thing in opens[:things]]
    more = len(opens) - len(told)
    if more:
        told.append(words.count(more, "thing more", "things more"))
    return f"{name} is open: {words.listed(told)}"


def _open_words(build: BuildInput, thing: Open) -> str:
    why = SHORT[thing.why]
    if thing.joint is not None:
        why = f"joint {thing.joint} {why}"
    if thing.kind == "circuit":
        return why
    return f"{_name(build, thing)} ({why})"


def _name(build: BuildInput, thing: Open) -> str:
    plumbing = build.plumbing
    if thing.kind == "run":
        run = find_by_key(plumbing.runs, thing.what)
        return shown(run.name or run.key) if run else shown(thing.what)
    component = find_by_key(plumbing.components, component_at(thing.what))
    if component is None:
        return shown(thing.what)
    port = thing.what.partition(".")[2]
    return f"{shown(component.name)} {shown(port)}".rstrip()
