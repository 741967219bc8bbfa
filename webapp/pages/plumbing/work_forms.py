"""Presses on what is plumbed: how far a run is, what shuts a port, that a circuit was tested.

A press that was made already, in another window or twice, stores nothing and is no fault.
"""

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.plumbing import Port, Run, Stop
from webapp.build.verbs.components import cover_off, port_at, shut_port
from webapp.build.verbs.runs import turn_run
from webapp.pages.forms.typed_form import TypedForm
from webapp.plumbing.cap_work import put_cap_on, take_cap_off
from webapp.plumbing.mending import take_mend
from webapp.plumbing.plumbed import PlumbedRun
from webapp.plumbing.proposals import Proposal
from webapp.plumbing.run_states import mark_clamped, mark_cut, mark_fitted, mark_tested, take_off


@dataclass(frozen=True, slots=True, kw_only=True)
class Press:
    """One press: what it does, and what stands on its button. `about` is a key or an address.

    joint, seen : of a mend the number of its joint, and the pieces it was shown with; of a turn
        where the run was shown to begin
    """

    does: str
    words: str
    about: str
    joint: int = 0
    seen: str = ""


RUN_WORDS: Mapping[str, str] = {
    "cut": "It is cut",
    "fitted": "It is fitted",
    "clamped": "It is clamped",
    "off": "It is off again",
}
PORT_WORDS: Mapping[str, str] = {
    "capped": "It is capped",
    "part-in": "It is in",
    "uncapped": "The cap is off",
    "cover-off": "The cover is off",
}
TESTED_WORDS = "It is tested"
BETWEEN_NAMES = " + "
"""Stands between the names of the pieces of a mend, as they are carried along."""
LONGEST_NUMBER = 6


def next_press(found: PlumbedRun) -> Press | None:
    """The next thing to do with a run; None where it is clamped, and before it can be cut right."""
    run = found.run
    is_right = all(joint.fit.is_joined for joint in found.joints)
    if run.clamped_on is not None or (run.cut_on is None and not is_right):
        return None
    does = "clamped" if run.fitted_on else "fitted" if run.cut_on else "cut"
    return Press(does=does, words=RUN_WORDS[does], about=run.key)


def off_press(found: PlumbedRun) -> Press | None:
    """Taking a run off again; None where it is not on."""
    run = found.run
    if run.fitted_on is None and run.clamped_on is None:
        return None
    return Press(does="off", words=RUN_WORDS["off"], about=run.key)


def turn_press(run: Run) -> Press:
    """Drawing a run from its other end."""
    return Press(does="turn", words="Turn it round", about=run.key, seen=run.from_port)


def mend_press(mend: Proposal) -> Press:
    """Taking what would mend a joint into the run."""
    words = (
        "Put it in" if len(mend.pieces) == 1 else "Put them in" if mend.pieces else "Leave it out"
    )
    return Press(
        does="mend",
        words=words,
        about=mend.run,
        joint=mend.at,
        seen=BETWEEN_NAMES.join(mend.pieces),
    )


def port_press(address: str, port: Port) -> Press | None:
    """What can be said of an open port that no run leads to; None where it is not measured."""
    if port.stop is not None and port.stop.kind == "part":
        return Press(does="part-in", words=PORT_WORDS["part-in"], about=address)
    if port.size is None and port.end != "open":
        return None
    return Press(does="capped", words=PORT_WORDS["capped"], about=address)


def cover_press(address: str) -> Press:
    """A rag, tape or transport cap is off a port."""
    return Press(does="cover-off", words=PORT_WORDS["cover-off"], about=address)


# --- what a press does ------------------------------------------------------------------------

_Is = Callable[[Run], bool]
_RUN_DONE: Mapping[str, _Is] = {
    "cut": lambda run: run.cut_on is not None,
    "fitted": lambda run: run.fitted_on is not None,
    "clamped": lambda run: run.clamped_on is not None,
    "off": lambda run: run.fitted_on is None and run.clamped_on is None,
}


def work_on_run(form: TypedForm, build: BuildInput) -> Edited[str]:
    """A run is cut, fitted, clamped or off again, today or on the day that is typed."""
    key, does = form.typed("about"), form.typed("does")
    run = find_by_key(build.plumbing.runs, key)
    if run is not None and does == "mend":
        joint = form.typed("joint")
        at = int(joint) if joint.isdecimal() and len(joint) < LONGEST_NUMBER else 0
        seen = form.typed("seen")
        return take_mend(build, key, at, tuple(seen.split(BETWEEN_NAMES)) if seen else ())
    if run is not None and does == "turn":
        is_turned = form.typed("seen") != run.from_port
        return Edited(build=build, made=key) if is_turned else turn_run(build, key)
    if run is None or does not in _RUN_DONE:
        return Edited(build=build, made=key, lost=Lost(kind="run", key=key))
    if _RUN_DONE[does](run):
        return Edited(build=build, made=key)
    if does == "off":
        return take_off(build, key)
    marks = {"cut": mark_cut, "fitted": mark_fitted, "clamped": mark_clamped}
    return marks[does](build, key, on=_day(form, build))


def work_on_port(form: TypedForm, build: BuildInput) -> Edited[str]:
    """A port is capped for good, its part in, its cap or cover off; today or on the day typed."""
    address, does = form.typed("about"), form.typed("does")
    found = port_at(build, address)
    if found is None or does not in PORT_WORDS:
        return Edited(build=build, made=address, lost=Lost(kind="port", key=address))
    stop = found[1].stop
    is_shut = stop is not None and stop.on is not None
    if does == "uncapped":
        is_capped = stop is not None and stop.kind == "cap" and is_shut
        return take_cap_off(build, address) if is_capped else Edited(build=build, made=address)
    if does == "cover-off":
        is_covered = stop is not None and stop.kind == "cover"
        return cover_off(build, address) if is_covered else Edited(build=build, made=address)
    if is_shut:
        return Edited(build=build, made=address)
    if does == "part-in":
        return shut_port(build, address, Stop(kind="part", on=_day(form, build)))
    return put_cap_on(build, address, on=_day(form, build))


def test_circuit(form: TypedForm, build: BuildInput) -> Edited[str]:
    """A circuit was tested, today or on the day that is typed."""
    return mark_tested(build, form.typed("about"), on=_day(form, build))


def _day(form: TypedForm, build: BuildInput) -> dt.date:
    """The day that is typed beside a press; today where none is."""
    day = form.date("on", "The day")
    today = build.now.date()
    if day is not None and day > today:
        form.fault("on", "The day: it is still to come. Leave it empty for today.")
    return today if day is None else day
