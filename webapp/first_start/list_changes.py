"""What a person makes of the list: answers, other words, own checks, what is in and out, lines."""

import datetime as dt
from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited
from webapp.build.first_start import CheckChange, OwnCheck, StartAnswer, StopLine
from webapp.build.openings import with_openings
from webapp.build.start_answers import starter_says
from webapp.first_start.check_list import Check, CheckList
from webapp.first_start.desk import (
    check_fault,
    lost,
    name_fault,
    next_key,
    refused,
    with_start,
)
from webapp.first_start.own_list import list_of_build


def answer(
    build: BuildInput, checks: CheckList, question: str, said: str | None, *, at: dt.datetime
) -> Edited[str]:
    """A question is answered, anew, or (None) no more. What hung on it falls, to and fro.

    What the starter list was answered is changed there.
    """
    asked = find_by_key(checks.questions, question)
    if asked is None:
        return lost(build, "question", question)
    if question in starter_says(build):
        text = "The starter list was answered this. Answer it anew there."
        return refused(build, _fault("start answer", question, "answer", text))
    if said is not None and said not in asked.answers:
        text = f"Pick one of {', '.join(asked.answers)}."
        return refused(build, _fault("start answer", question, "answer", text))
    kept = [one for one in build.start.answers if one.question != question]
    if said is not None:
        kept.append(StartAnswer(question=question, answer=said))
    places = {one.key: place for place, one in enumerate(checks.questions)}
    kept.sort(key=lambda one: places.get(one.question, len(places)))
    after = with_start(build, answers=tuple(kept))
    return Edited(build=with_openings(build, after, at=at), made=question)


def change_words(
    build: BuildInput, checks: CheckList, key: str, words: str, *, name: str, at: dt.datetime
) -> Edited[str]:
    """Other words for a check, "" for its own again. Caution and needs stay with it."""
    return _listed_changed(build, checks, key, name, at, words=words.strip())


def leave_out(
    build: BuildInput, checks: CheckList, key: str, *, name: str, at: dt.datetime
) -> Edited[str]:
    """A check is left out; never one of the never-checks."""
    check = _check(build, checks, key)
    if check is None:
        return lost(build, "check", key)
    if check.waive == "never":
        text = "This one is never left out: it drops out only through an answer."
        return refused(build, check_fault(key, "", text))
    nobody = name_fault(key, "name", name)
    if nobody is not None:
        return refused(build, nobody)
    if check.is_own:
        own = tuple(one for one in build.start.own_checks if one.key != key)
        return Edited(build=with_start(build, own_checks=own), made=key)
    return _changed(build, key, name, at, choice="left out")


def take_in(
    build: BuildInput, checks: CheckList, key: str, *, name: str, at: dt.datetime
) -> Edited[str]:
    """A check that is offered, or was left out, is on the list."""
    return _listed_changed(build, checks, key, name, at, choice="taken in")


def add_own_check(build: BuildInput, checks: CheckList, own: OwnCheck) -> Edited[str]:
    """A check of one's own; made is its key, made of its words where it has none."""
    faults = []
    if own.stage not in {stage.key for stage in checks.stages}:
        faults.append(_fault("own check", own.key, "stage", "Pick a stage of the list."))
    if own.circuit not in {check.circuit for check in checks.checks}:
        faults.append(_fault("own check", own.key, "circuit", "Pick a circuit of the list."))
    if not own.text.strip():
        faults.append(_fault("own check", own.key, "text", "Say what is to be looked at."))
    if faults:
        return refused(build, *faults)
    taken = {check.key for check in checks.checks} | {one.key for one in build.start.own_checks}
    key = own.key if own.key and own.key not in taken else next_key("own_", taken)
    made = replace(own, key=key, text=own.text.strip())
    return Edited(build=with_start(build, own_checks=(*build.start.own_checks, made)), made=key)


def type_stop_line(build: BuildInput, checks: CheckList, name: str, words: str) -> Edited[str]:
    """Where the lever is, the way out, the address: typed before the place opens."""
    known = {line for _, lines in checks.stop_words for line in lines.typed}
    if name not in known:
        return lost(build, "stop line", name)
    kept = [one for one in build.start.stop_lines if one.name != name]
    if words.strip():
        kept.append(StopLine(name=name, words=words.strip()))
    return Edited(build=with_start(build, stop_lines=tuple(kept)), made=name)


def _check(build: BuildInput, checks: CheckList, key: str) -> Check | None:
    return find_by_key(list_of_build(build, checks).checks, key)


def _listed_changed(
    build: BuildInput, checks: CheckList, key: str, name: str, at: dt.datetime, **fields: object
) -> Edited[str]:
    """A check of the list itself with other fields; one's own is no such check."""
    check = _check(build, checks, key)
    if check is None or check.is_own:
        return lost(build, "check", key)
    nobody = name_fault(key, "name", name)
    if nobody is not None:
        return refused(build, nobody)
    return _changed(build, key, name, at, **fields)


def _changed(
    build: BuildInput, key: str, name: str, at: dt.datetime, **fields: object
) -> Edited[str]:
    old = next((one for one in build.start.changes if one.check == key), None)
    base = old or CheckChange(check=key, at=at, name=name)
    new = replace(base, at=at, name=name.strip(), **fields)  # type: ignore[arg-type]
    kept = tuple(new if one.check == key else one for one in build.start.changes)
    changes = kept if old is not None else (*kept, new)
    return Edited(build=with_start(build, changes=changes), made=key)


def _fault(kind: str, key: str, field: str, text: str) -> Fault:
    return Fault(kind=kind, key=key, field=field, text=text)
