"""Fields of the things of a build in words: what each is called, and what stands in it."""

import datetime as dt
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from webapp.build.build_input import BuildInput, DayHours, DayRange, ThreePoint, WeekSession
from webapp.build.by_key import find_by_key
from webapp.pages.words import amounts as words
from webapp.pages.words import sizes
from webapp.pages.words.data_sheet_fields import pulleys_told
from webapp.pages.words.house_rules import rules_told
from webapp.pages.words.money import money
from webapp.pages.words.plumbed_fields import (
    passages_words,
    pieces_told,
    ports_told,
    volumes_told,
    waived_told,
)
from webapp.pages.words.quoted import shown
from webapp.pages.words.room_fields import held_told
from webapp.pages.words.steps import measures_told, steps_told
from webapp.pages.words.the_end import of_the_end
from webapp.pages.words.units import units_said

Written = Callable[[Any, BuildInput, dt.date], str]
"""A value in words: of which build, and what day it is told on."""

NOTHING = "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldWords:
    """What a field is called in a sentence, and how its values are written.

    `told` says of a list what became of it, thing by thing, "" where its order alone changed.
    """

    label: str
    written: Written
    told: Callable[[Any, Any], str] | None = None


def _text(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return f"“{shown(str(value))}”" if value else NOTHING


def _units(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return units_said(value)


def _number(unit: str = "", digits: int = 2) -> Written:
    def written(value: Any, _build: BuildInput, _today: dt.date) -> str:
        return NOTHING if value is None else f"{words.number(value, digits)}{unit}"

    return written


def _money(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return NOTHING if value is None else money(value)


def _paper(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return f"“{shown(value.name)}”, no. {shown(value.number)}" if value else NOTHING


def _reaches(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return ", ".join(value) or NOTHING


def _day(value: Any, _build: BuildInput, today: dt.date) -> str:
    if value is None:
        return NOTHING
    at = f" {words.time(value)}" if isinstance(value, dt.datetime) else ""
    return f"{words.day(value, today=today)}{at}"


def _yes(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return "yes" if value else "no"


def _odds(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return words.odds(value)


def hours_words(hours: ThreePoint) -> str:
    """An estimate: "3 h", "2 to 5 h, likely 3 h"."""
    low, high = words.number(hours.optimistic), words.number(hours.pessimistic)
    likely = words.hours(hours.most_likely)
    return (
        likely if hours.optimistic == hours.pessimistic else f"{low} to {high} h, likely {likely}"
    )


def _hours(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return NOTHING if value is None else hours_words(value)


def _named(at: Callable[[BuildInput], Any], name: str = "name") -> Written:
    """A key, by the name of what it stands for."""

    def written(value: Any, build: BuildInput, _today: dt.date) -> str:
        if value is None:
            return NOTHING
        thing = find_by_key(at(build), value)
        return f"“{shown(getattr(thing, name) if thing else value)}”"

    return written


def _tasks_named(value: Any, build: BuildInput, today: dt.date) -> str:
    return words.listed([TASK(key, build, today) for key in value]) or NOTHING


def _stations(value: Any, build: BuildInput, today: dt.date) -> str:
    written = _named(lambda build: build.shop.stations)
    return (
        words.listed([f"{need.count} of {written(need.station, build, today)}" for need in value])
        or NOTHING
    )


def _wish_parts(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return words.listed([f"“{shown(part.name)}”" for part in value]) or NOTHING


def day_hours_words(sessions: tuple[DayHours, ...]) -> str:
    """Open hours of one day: "closed", "9:00 to 12:00 with the helper"."""
    if not sessions:
        return "closed"
    return words.listed(
        [
            f"{words.clock_minute(hours.opens_minute)} to {words.clock_minute(hours.closes_minute)}"
            + (" with the helper" if hours.helper else "")
            for hours in sessions
        ]
    )


def week_words(week: tuple[WeekSession, ...]) -> str:
    """Weekly hours: "Tuesday and Thursday 18:30 to 21:30, Saturday 9:00 to 17:00"."""
    by_day: defaultdict[int, list[DayHours]] = defaultdict(list)
    for session in sorted(week, key=lambda one: (one.weekday, one.hours.opens_minute)):
        by_day[session.weekday].append(session.hours)
    days_of: defaultdict[str, list[str]] = defaultdict(list)
    for weekday, sessions in by_day.items():
        days_of[day_hours_words(tuple(sessions))].append(words.WEEKDAY_NAMES[weekday])
    return ", ".join(f"{words.listed(days)} {hours}" for hours, days in days_of.items())


def range_hours_words(week: tuple[WeekSession, ...]) -> str:
    """The hours of a range of days: "closed", "Saturday 9:00 to 17:00"."""
    return week_words(week) or "closed"


def range_days_words(days: DayRange, today: dt.date) -> str:
    """From which day to which: "Mon 3 August to Fri 14 August"."""
    first, last = (words.day(day, today=today) for day in (days.first_on, days.last_on))
    return first if first == last else f"{first} to {last}"


def _week(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return week_words(value) or NOTHING


def _range_week(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return range_hours_words(value)


def _sessions(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return day_hours_words(value)


def _decision(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return "undecided" if value is None else str(value.way)


def _clock(value: Any, build: BuildInput, today: dt.date) -> str:
    return NOTHING if value is None else TASK(value.task, build, today)


def _order(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return f"an order of {words.count(len(value), 'task')}" if value else "the house rules"


def _rules(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return rules_told(value)


def _in_shop_units(told: Callable[[float], str]) -> Written:
    return lambda value, _build, _today: NOTHING if value is None else told(value)


def _number_or_word(value: Any, build: BuildInput, today: dt.date) -> str:
    return str(value) if isinstance(value, str) else _number()(value, build, today)


def _count_of(one: str) -> Written:
    return lambda value, _build, _today: words.count(len(value), one) if value else NOTHING


TASK = _named(lambda build: build.tasks)
WISH = _named(lambda build: build.wishes, "text")
PART = _named(lambda build: build.parts)
_CIRCUIT = _named(lambda build: build.plumbing.circuits)
_SUBSYSTEM = _named(lambda build: build.subsystems)
_SETUP = _named(lambda build: build.shop.setups)


def _of(**named: tuple[str, Written] | FieldWords) -> dict[str, FieldWords]:
    return {
        field: said if isinstance(said, FieldWords) else FieldWords(label=said[0], written=said[1])
        for field, said in named.items()
    }


_HOURS, _DAYS = _number(" h"), _number(" days")

FIELD_WORDS: dict[str, dict[str, FieldWords]] = {
    "build": _of(
        name=("name of the build", _text),
        vehicle=("vehicle", _text),
        first_start=("task that is first start", TASK),
        starts_on=("starts on", _day),
        wanted_by=("wanted by", _day),
        confidence=("what firm stands for", _odds),
        calibrated=("forecast corrects estimates by the record", _yes),
        attended=("forecast takes the shop week as it was worked", _yes),
        kept_order=("order of work", _order),
        kept_on=("order kept on", _day),
        house_rules=("house rules", _rules),
        on_bench=("on the bench", _clock),
        end_name=("what the end is called", _text),
        starter_list=("starter list it was begun from", _text),
        starter_answers=("answers to the starter list", _count_of("answer")),
        starter_left_out=("left out of the starter list", _count_of("thing")),
        units=("units of the shop", _units),
        currency=("currency", _text),
        money_limit=("limit of money", _money),
    ),
    "shop": _of(
        people=("people who work in parallel", _number()), setup_out=("setup that is out", _SETUP)
    ),
    "subsystem": _of(
        name=("name", _text),
        medium=("medium", _text),
        order=("place in the working order", _number()),
    ),
    "setup": _of(name=("name", _text), hours=("hours to set up", _HOURS)),
    "station": _of(name=("name", _text), count=("how many", _number())),
    "task": _of(
        name=("name", _text),
        hours=("hours", _hours),
        subsystem=("subsystem", _SUBSYSTEM),
        setup=("setup it needs", _SETUP),
        people=("people", _number()),
        helper=("needs the helper", _yes),
        in_one_go=("in one go", _yes),
        stations=("stations it needs", _stations),
        outside_days=("days outside", _DAYS),
        space_litres=("space it claims", _number(" litres")),
        begun_on=("begun on", _day),
        finished_on=("finished on", _day),
        set_aside_on=("set aside on", _day),
        hours_left=("hours left", _HOURS),
        caution=("caution", _text),
        notes=("notes", _text),
        steps=FieldWords(label="steps", written=_count_of("step"), told=steps_told),
        measures=FieldWords(
            label="torques and sizes", written=_count_of("line"), told=measures_told
        ),
        wish=("wish it came from", WISH),
        spread_assumed=("range is assumed", _yes),
        hours_guessed=("hours are the starter list's guess", _yes),
        cost=("cost", _money),
        paid=("paid", _money),
        offer_cost=("what somebody else would take", _money),
        offer_days=("days somebody else would take", _DAYS),
        hours_taken=("hours are as it took last time", _yes),
    ),
    "dependency": _of(wait_hours=("wait", _HOURS), why=("reason", _text)),
    "part": _of(
        name=("name", _text),
        serves=("tasks it serves", _tasks_named),
        arrives_on=("arrives on", _day),
        arrived=("it is here", _yes),
        promised_on=("promised for", _day),
        ordered_on=("ordered on", _day),
        lead_days=("lead time", _DAYS),
        cost=("cost", _money),
        paid=("paid", _money),
        supplier=("supplier", _text),
    ),
    "looked at": _of(on=("looked at on", _day)),
    "photograph": _of(
        caption=("caption", _text),
        added_on=("added on", _day),
        task=("task", TASK),
        **{name: (name, _number()) for name in ("width_px", "height_px", "size_bytes")},
        digest=("digest", _text),
    ),
    "day": _of(sessions=("hours", _sessions)),
    "later week": _of(week=("hours", _week)),
    "range": _of(last_on=("last day", _day), name=("name", _text), week=("hours", _range_week)),
    "wish size": _of(name=("name", _text), hours=("hours", _hours)),
    "wish": _of(
        text=("text", _text),
        logged_on=("logged on", _day),
        subsystem=("subsystem", _SUBSYSTEM),
        after=("comes after", TASK),
        before=("comes before", TASK),
        size=("quick size", _named(lambda build: build.wish_sizes)),
        hours=("hours", _hours),
        setup=("setup it needs", _SETUP),
        rough_in_hours=("hours to rough in", _hours),
        later_extra_hours=("extra hours if it is fitted later", _HOURS),
        parts=("parts", _wish_parts),
        cost=("other money", _money),
        paid=("other money that was paid", _money),
        decision=("decision", _decision),
    ),
    "circuit": _of(
        name=("name", _text),
        medium=("medium", _text),
        from_port=("begins at", _text),
        to_port=("ends at", _text),
        subsystem=("subsystem", _SUBSYSTEM),
        hose=("hose it is made of", _text),
        tube=("tube it is made of", _text),
        bar=("pressure", _in_shop_units(sizes.bar_told)),
        highest=("highest port", _text),
        waived=FieldWords(
            label="what it goes without", written=_count_of("thing"), told=waived_told
        ),
        holds=("tasks that wait for it", _tasks_named),
        needed_to_start=("needed to start", _yes),
        test=("test", _text),
        tested_on=("tested on", _day),
        frost_c=("frost its coolant stands", _in_shop_units(sizes.temperature_told)),
        antifreeze=("concentrate of its coolant", _text),
        full_litres=("what it holds", _in_shop_units(sizes.litres_told)),
        there_litres=("coolant in it already", _in_shop_units(sizes.litres_told)),
        there_percent=("concentrate in that", _number(" %")),
    ),
    "component": _of(
        name=("name", _text),
        kind=("kind", _text),
        circuit=("circuit", _CIRCUIT),
        part=("part it is", PART),
        volumes=FieldWords(label="litres", written=_count_of("circuit"), told=volumes_told),
        passages=("passages inside", lambda value, *_: passages_words(value)),
        ports=FieldWords(label="ports", written=_count_of("port"), told=ports_told),
    ),
    "run": _of(
        name=("name", _text),
        from_port=("begins at", _text),
        to_port=("ends at", _text),
        pieces=FieldWords(label="pieces", written=_count_of("piece"), told=pieces_told),
        cut_on=("cut on", _day),
        fitted_on=("fitted on", _day),
        clamped_on=("clamped on", _day),
        clamps=("clamps on it", _count_of("clamp")),
        tasks=("tasks that make and fit it", _tasks_named),
        licensed=("who makes it", _text),
    ),
    "sold": _of(price=("price", _number()), count=("how many there are", _number())),
    "figure": _of(value=("value", _number_or_word), source=("where it was read", _text)),
    "limit": _of(
        ok=("ok to", _number()),
        tight=("tight to", _number()),
        source=("who says so", _text),
    ),
    "wire": _of(
        name=("name", _text),
        use=("what it is for", _text),
        current_a=("current", _number(" A")),
        area_mm2=("area", _number(" mm²")),
        out_and_back_m=("length out and back", _number(" m")),
        celsius=("how warm it is", _number(" °C")),
        fuse_a=("fuse", _number(" A")),
        carries_a=("what it carries", _number(" A")),
    ),
    "belt": _of(
        name=("name", _text),
        length_mm=("length", _number(" mm")),
        take_up_mm=("take-up of the tensioner", _number(" mm")),
        pulleys=FieldWords(label="pulleys", written=_count_of("pulley"), told=pulleys_told),
    ),
    "start answer": _of(answer=("answer", _text)),
    "signature": _of(
        check=("check", _text),
        at=("signed", _day),
        signer=("signed by", _text),
        helper=("helper", _text),
        seen=("what was seen", _text),
        readings=("readings", _count_of("reading")),
        paper=("paper seen", _paper),
        is_tap=("tapped while it ran", _yes),
        taken_back_at=("taken back", _day),
    ),
    "check set aside": _of(
        check=("check", _text), at=("set aside", _day), name=("by", _text), reason=("reason", _text)
    ),
    "check change": _of(
        at=("changed", _day), name=("by", _text), words=("words", _text), choice=("choice", _text)
    ),
    "own check": _of(
        stage=("stage", _text),
        circuit=("circuit", _text),
        text=("check", _text),
        why=("why", _text),
        caution=("caution", _text),
    ),
    "opening": _of(name=("name", _text), how=("how", _text), reaches=("reaches", _reaches)),
    "engine run": _of(
        kind=("kind", _text),
        begun_at=("begun", _day),
        fired_at=("fired", _day),
        ended_at=("ended", _day),
        ending=("how it ended", _text),
        abort=("why it was stopped", _text),
        cause=("what it was and what was done", _text),
        cause_at=("written down", _day),
        ran_at=("it ran", _day),
    ),
    "stop line": _of(words=("words", _text)),
    "room": _of(
        name=("name", _text),
        measured_mm=("what was measured", _in_shop_units(sizes.length_told)),
        plus_minus_mm=("give or take", _in_shop_units(sizes.length_told)),
        holds=FieldWords(label="what it holds", written=_count_of("thing"), told=held_told),
    ),
}
"""By kind and field; what has no field of its own (the log, a session) is told as a whole."""


def field_label(kind: str, field: str) -> str:
    """What a field is called in a sentence."""
    said = FIELD_WORDS.get(kind, {}).get(field)
    return of_the_end(said.label) if said else field.replace("_", " ")


def list_told(kind: str, field: str, was: Any, now: Any) -> str:
    """What became of the things in a list; "" where that is told by its values."""
    said = FIELD_WORDS.get(kind, {}).get(field)
    return said.told(was, now) if said and said.told else ""


def field_value(kind: str, field: str, value: Any, build: BuildInput, today: dt.date) -> str:
    """What stands in a field, in the words of the screen."""
    said = FIELD_WORDS.get(kind, {}).get(field)
    return said.written(value, build, today) if said else str(value)
