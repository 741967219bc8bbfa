"""A change of a build as a sentence: what was changed, by its own name, from what to what."""

import datetime as dt
from itertools import groupby
from typing import Any

from webapp.build.build_input import BuildInput, LookedAt
from webapp.build.by_key import find_by_key
from webapp.build.data_sheet import OwnLimit, SheetFigure
from webapp.build.differences import ThingChange, thing_changes
from webapp.build.first_start import CheckChange, SetAside, Signature, StartAnswer
from webapp.build.plumbing import Ordered, ShelfThing, SoldLength
from webapp.pages.words import amounts as words
from webapp.pages.words.data_sheet_fields import figure_words, limit_words
from webapp.pages.words.field_values import field_label, field_value, list_told
from webapp.pages.words.field_writers import (
    PART,
    TASK,
    WISH,
    day_hours_words,
    hours_words,
    range_days_words,
    range_hours_words,
)
from webapp.pages.words.names import named
from webapp.pages.words.plumbed_fields import brought_words, lying_words, sold_words
from webapp.pages.words.quoted import shown

KINDS = {
    "subsystem": ("subsystem", "subsystems"),
    "setup": ("setup", "setups"),
    "station": ("station", "stations"),
    "task": ("task", "tasks"),
    "dependency": ("dependency", "dependencies"),
    "part": ("part", "parts"),
    "session": ("session of the shop week", "sessions of the shop week"),
    "day": ("day with hours of its own", "days with hours of their own"),
    "later week": ("shop week with a first day", "shop weeks with a first day"),
    "range": ("range of days", "ranges of days"),
    "given away": ("session of another build", "sessions of another build"),
    "log": ("entry of the log", "entries of the log"),
    "photograph": ("photograph", "photographs"),
    "wish size": ("quick size", "quick sizes"),
    "wish": ("wish", "wishes"),
    "looked at": ("thing looked at", "things looked at"),
    "earlier record": ("record of an earlier build", "records of earlier builds"),
    "circuit": ("circuit", "circuits"),
    "component": ("component", "components"),
    "run": ("run", "runs"),
    "shelf": ("thing on the shelf", "things on the shelf"),
    "sold": ("length that is sold", "lengths that are sold"),
    "ordered": ("thing that a part brings", "things that parts bring"),
    "room": ("room", "rooms"),
    "figure": ("figure of the data sheet", "figures of the data sheet"),
    "limit": ("limit", "limits"),
    "wire": ("wire", "wires"),
    "belt": ("belt", "belts"),
    "start answer": ("answer for first start", "answers for first start"),
    "signature": ("signature", "signatures"),
    "check set aside": ("check set aside", "checks set aside"),
    "check change": ("changed check", "changed checks"),
    "own check": ("check of your own", "checks of your own"),
    "opening": ("opening", "openings"),
    "engine run": ("engine run", "engine runs"),
    "stop line": ("stop line", "stop lines"),
}
"""What the kinds of things are called, one of them and several."""

MOST_DAYS = 4
"""So many dates are told by name."""
_COUNTED = frozenset(
    (
        *("log", "dependency", "session", "later week", "range", "given away"),
        *("looked at", "photograph"),
    )
)
"""What has no name of its own: several are told by their number."""


def thing_words(kind: str, thing: Any, build: BuildInput, today: dt.date) -> str:
    """A thing by its own name, with its kind: "the task “Fit the radiator”"."""
    match kind:
        case "build":
            return f"the build “{shown(thing.name)}”"
        case "shop":
            return "the shop"
        case "bench":
            return f"the clock of {TASK(thing.task, build, today)}"
        case "log":
            day = words.day(thing.on, today=today)
            return f"{words.hours(thing.bench_hours)} on {TASK(thing.task, build, today)} on {day}"
        case "photograph":
            caption = f"“{shown(thing.caption)}” " if thing.caption else ""
            return f"the photograph {caption}of {TASK(thing.task, build, today)}"
        case "dependency":
            before, after = (TASK(key, build, today) for key in (thing.before, thing.after))
            return f"that {before} comes before {after}"
        case "day":
            return f"the hours of {words.day(thing.date, today=today)}"
        case "later week":
            return f"the shop week from {words.day(thing.from_on, today=today)}"
        case "range":
            called = f"“{shown(thing.name)}”, " if thing.name else ""
            return f"the range of days {called}{range_days_words(thing, today)}"
        case "earlier record":
            return f"the record of the earlier build “{shown(thing.name)}”"
        case "given away":
            first = words.day(thing.first_on, today=today)
            return f"that the session of {first} belongs to “{shown(thing.belongs_to)}”"
        case "looked at":
            return _looked_at_words(thing, build, today)
        case "shelf":
            return f"{lying_words(thing)} on the shelf"
        case "sold":
            return f"the price of {sold_words(thing)}"
        case "ordered":
            return f"what {PART(thing.part, build, today)} brings: {brought_words(thing)}"
        case "figure":
            return f"the {figure_words(thing)} of the data sheet"
        case "limit":
            return f"the limit of {limit_words(thing)}"
        case "opening":
            return f"that “{shown(thing.name)}” was opened"
        case "signature" | "check set aside" | "check change":
            return f"the {KINDS[kind][0]} of “{shown(thing.check)}”"
        case "start answer":
            return f"the answer to “{shown(thing.question)}”"
        case "engine run":
            return f"the engine run of {words.time(thing.begun_at)}"
        case "session":
            day = words.WEEKDAY_NAMES[thing.weekday]
            return f"the session {day} {day_hours_words((thing.hours,))}"
        case _:
            return f"the {KINDS[kind][0]} “{shown(_name(thing))}”"


def _looked_at_words(one: LookedAt, build: BuildInput, today: dt.date) -> str:
    if one.evening is not None:
        return f"that nobody was in the shop on {words.day(one.evening, today=today)}"
    on = words.day(one.on, today=today)
    if one.task is not None:
        return f"that it was said on {on} what is left of {TASK(one.task, build, today)}"
    return f"that the wish {WISH(one.wish, build, today)} was put off on {on}"


def _name(thing: Any) -> str:
    if isinstance(thing, ShelfThing):
        return lying_words(thing)
    if isinstance(thing, SheetFigure):
        return figure_words(thing)
    if isinstance(thing, OwnLimit):
        return limit_words(thing)
    if isinstance(thing, SoldLength):
        return sold_words(thing)
    if isinstance(thing, Ordered):
        return brought_words(thing)
    if isinstance(thing, Signature | SetAside | CheckChange):
        return thing.check
    if isinstance(thing, StartAnswer):
        return thing.question
    return str(getattr(thing, "text", None) or getattr(thing, "name", None) or thing.key)


def change_words(before: BuildInput, after: BuildInput, today: dt.date) -> tuple[str, ...]:
    """One change in sentences, what was meant first; what followed from it after that."""
    changes = thing_changes(before, after)
    work = _work_words(before, after, today)
    told = [work] if work else []
    for kind, group in groupby(changes, key=lambda change: change.kind):
        same = list(group)
        told += _entered_or_gone(kind, same, before, after, today)
        for change in same:
            if change.fields:
                told += _field_words(change, before, after, today, is_work=bool(work))
    if not told:
        return ("Put a list into another order.",)
    return tuple(told)


def _entered_or_gone(
    kind: str,
    changes: list[ThingChange],
    before: BuildInput,
    after: BuildInput,
    today: dt.date,
) -> list[str]:
    """Things that came or went, those of one kind together where there are several."""
    told = []
    for verb, build, things in (
        ("Entered", after, [c.after for c in changes if c.before is None]),
        ("Took out", before, [c.before for c in changes if c.after is None]),
    ):
        if len(things) == 1:
            told.append(
                f"{verb} {thing_words(kind, things[0], build, today)}{_more(kind, things[0])}."
            )
        elif things and kind == "day":
            days = words.listed(
                [words.day(thing.date, today=today) for thing in things[:MOST_DAYS]]
            )
            more = f" and {len(things) - MOST_DAYS} more" if len(things) > MOST_DAYS else ""
            told.append(f"{verb} {words.count(len(things), *KINDS[kind])}: {days}{more}.")
        elif things and kind in _COUNTED:
            told.append(f"{verb} {words.count(len(things), *KINDS[kind])}.")
        elif things:
            names = named(shown(_name(thing)) for thing in things)
            told.append(f"{verb} {words.count(len(things), *KINDS[kind])}: {names}.")
    return told


def _more(kind: str, thing: Any) -> str:
    """What is told of a single thing that came or went besides its name."""
    match kind:
        case "task":
            return f", {hours_words(thing.hours)}"
        case "day":
            return f": {day_hours_words(thing.sessions)}"
        case "later week" | "range":
            return f": {range_hours_words(thing.week)}"
        case "log":
            return "" if thing.left is None else f", {words.hours(thing.left)} left"
        case _:
            return ""


def _field_words(
    change: ThingChange, before: BuildInput, after: BuildInput, today: dt.date, *, is_work: bool
) -> list[str]:
    kind, told = change.kind, []
    for field in change.fields:
        if (kind, field) == ("build", "on_bench") and is_work:
            continue
        if (kind, field) == ("build", "kept_on") and "kept_order" in change.fields:
            continue
        listed = list_told(kind, field, getattr(change.before, field), getattr(change.after, field))
        if listed:
            told.append(listed)
            continue
        was = field_value(kind, field, getattr(change.before, field), before, today)
        now = field_value(kind, field, getattr(change.after, field), after, today)
        if was == now:
            told.append(f"{field_label(kind, field)}, beyond what is shown here")
        else:
            told.append(f"{field_label(kind, field)} from {was} to {now}")
    if not told:
        return []
    if kind in ("build", "shop"):
        return [f"{words.sentence(one)}." for one in told]
    named_thing = thing_words(kind, change.after, after, today)
    return [f"Changed {named_thing}: {'; '.join(told)}."]


def _work_words(before: BuildInput, after: BuildInput, today: dt.date) -> str:
    """What was pressed on the Bench, where it was that: begun, stopped, finished."""
    was, now = before.on_bench, after.on_bench
    if now is not None and now != was:
        return f"Began {TASK(now.task, after, today)}."
    if was is None or now is not None:
        return ""
    there, task = find_by_key(before.tasks, was.task), find_by_key(after.tasks, was.task)
    name = TASK(was.task, before, today)
    if task is None or there is None:
        return ""
    if task.finished_on is not None and there.finished_on is None:
        return f"Finished {name}."
    if task.set_aside_on is not None and there.set_aside_on is None:
        return f"Stopped {name} and set it aside."
    return f"Stopped {name}." if len(after.log) > len(before.log) else f"Took {name} off the bench."
