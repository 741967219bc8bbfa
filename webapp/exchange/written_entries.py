"""The things of a build as entries of its document: which fields, under what names, how written."""

import datetime as dt
from collections.abc import Iterable, Iterator
from typing import Any

from webapp.build import build_input as nouns
from webapp.build import data_sheet as sheets
from webapp.build import earlier_record as earlier
from webapp.build import first_start as starts
from webapp.build import plumbing as plumbed
from webapp.build import room as rooms
from webapp.build import shop as shops
from webapp.build import wish as wishes
from webapp.build.checks.session_checks import WEEKDAYS, clock_words
from webapp.build.house_rules import HOUSE_RULES
from webapp.build.shop import DayException, DayHours, WeekSession
from webapp.build.three_point import ThreePoint

Fields = dict[str, object]

_NAMES_WRITTEN: dict[type, tuple[str, str]] = {
    nouns.BuildInput: (
        "name starts_on wanted_by now first_start confidence calibrated attended",
        "vehicle kept_order kept_on kept_setup_first house_rules end_name starter_list "
        "starter_answers starter_left_out units currency money_limit",
    ),
    shops.LaterWeek: ("from_on week", ""),
    shops.DayRange: ("first_on last_on", "name week"),
    shops.GivenAway: (
        "first_on opens_minute closes_minute belongs_to",
        "last_on after_first_start",
    ),
    shops.Setup: ("key name hours", ""),
    shops.Station: ("key name count", ""),
    nouns.Subsystem: ("key name medium order", ""),
    nouns.Task: (
        "key name subsystem hours setup people helper in_one_go stations outside_days "
        "space_litres begun_on finished_on hours_left",
        "set_aside_on caution notes steps measures wish spread_assumed hours_guessed "
        "cost paid offer_cost offer_days hours_taken",
    ),
    nouns.Step: ("text done", ""),
    nouns.Measure: ("kind name value", ""),
    nouns.Dependency: ("before after wait_hours why", ""),
    nouns.Part: (
        "key name serves arrives_on arrived",
        "promised_on ordered_on lead_days cost paid supplier",
    ),
    wishes.Wish: (
        "key text logged_on",
        "subsystem after before size hours setup rough_in_hours later_extra_hours parts cost "
        "paid decision",
    ),
    wishes.WishPart: ("name lead_days cost", ""),
    wishes.WishDecision: ("way decided_on why figures", ""),
    wishes.WayFigures: (
        "way likely firm move_days move_error_days moved_share headroom_hours hours cost",
        "",
    ),
    wishes.WishSize: ("key name hours", ""),
    nouns.LogEntry: ("task on hours left setup_hours", ""),
    nouns.LookedAt: ("on", "evening wish task"),
    earlier.EarlierRecord: (
        "key name taken_on counts kinds weeks workable_hours worked_hours",
        "",
    ),
    earlier.EarlierKind: ("name tasks actual_hours expected_hours worth log_squares", ""),
    sheets.SheetFigure: ("name value", "source"),
    sheets.OwnLimit: ("check ok source", "at tight"),
    sheets.Wire: (
        "key name use current_a area_mm2 out_and_back_m",
        "celsius fuse_a carries_a",
    ),
    sheets.Belt: ("key name", "length_mm take_up_mm pulleys"),
    sheets.Pulley: ("name x_mm y_mm diameter_mm", "is_back drives"),
    rooms.Room: ("key name measured_mm plus_minus_mm holds", ""),
    rooms.InRoom: ("name mm plus_minus_mm kind", ""),
    starts.StartAnswer: ("question answer", ""),
    starts.Signature: ("key check at signer", "helper seen readings paper is_tap taken_back_at"),
    starts.SignedReading: ("name unit value", "makers"),
    starts.LicensedPaper: ("name firm number on", ""),
    starts.SetAside: ("key check at name reason", ""),
    starts.CheckChange: ("check at name", "words choice"),
    starts.OwnCheck: ("key stage circuit text", "why caution"),
    starts.Opening: ("what name how at", "reaches"),
    starts.EngineRun: (
        "key kind begun_at",
        "fired_at ended_at ending abort cause cause_at ran_at",
    ),
    starts.StopLine: ("name words", ""),
    plumbed.Component: ("key name", "kind circuit part volumes passages ports"),
    plumbed.Port: ("name end size flow", "role circuit shuts stop"),
    plumbed.Stop: ("kind", "on"),
    plumbed.Circuit: (
        "key name medium from_port to_port",
        "subsystem hose tube bar highest waived holds needed_to_start test tested_on"
        " frost_c antifreeze full_litres there_litres there_percent",
    ),
    plumbed.Run: (
        "key name from_port to_port pieces",
        "cut_on fitted_on clamped_on clamps tasks licensed",
    ),
    plumbed.Piece: ("piece", "name size ends length_mm angle of wall_mm bore_mm arrow"),
    plumbed.ShelfThing: (
        "piece",
        "name size ends length_mm angle of wall_mm bore_mm arrow range_mm count",
    ),
    plumbed.Ordered: ("what", "count metres litres"),
    plumbed.SoldLength: ("what length_mm price", "count"),
}
"""Fields that are always written, and those that are where they say something."""
_WRITTEN = {
    noun: (always.split(), sometimes.split())
    for noun, (always, sometimes) in _NAMES_WRITTEN.items()
}
_NAMED = {
    "serves": "for",
    "from_port": "from",
    "to_port": "to",
    "volumes": "litres",
    "range_mm": "range",
    "opens_minute": "opens",
    "closes_minute": "closes",
}
_UNSAID: dict[tuple[type, str], object] = {
    (nouns.Task, "hours_taken"): False,
    (shops.GivenAway, "after_first_start"): False,
    (nouns.BuildInput, "kept_setup_first"): False,
    (nouns.BuildInput, "house_rules"): HOUSE_RULES,
    (starts.Signature, "is_tap"): False,
    (plumbed.Port, "shuts"): False,
    (plumbed.Circuit, "needed_to_start"): True,
    (plumbed.ShelfThing, "count"): 1,
}
"""What is left out because it is so unless said otherwise."""
_EMPTY_SAYS = ("passages", "ports", "house_rules")
"""Lists that say something when they are empty."""


def entry_of(noun: object) -> Fields:
    """A thing as its entry: what is always written, and of the rest what says something."""
    always, sometimes = _WRITTEN[type(noun)]
    fields = {_NAMED.get(name, name): _field(name, getattr(noun, name)) for name in always}
    for name in sometimes:
        value = getattr(noun, name)
        is_said = value not in (None, "", ()) or (name in _EMPTY_SAYS and value == ())
        if is_said and value != _UNSAID.get((type(noun), name)):
            fields[_NAMED.get(name, name)] = _field(name, value)
    return fields


def _field(name: str, value: Any) -> object:
    match name:
        case "stations":
            return {need.station: need.count for need in value}
        case "starter_answers":
            return {said.question: said.answer for said in value}
        case "volumes":
            return {volume.circuit: _value(volume.litres) for volume in value}
        case "week":
            return week_entries(value)
        case "opens_minute" | "closes_minute":
            return clock_words(value)
        case "waived":
            return {waiver.why: waiver.reason for waiver in value}
    return _value(value)


def _value(value: object) -> object:
    """A field as JSON has it."""
    if value is None or isinstance(value, str | int):
        return value
    if isinstance(value, float):
        return _number(value)
    if isinstance(value, dt.datetime):
        return value.isoformat(timespec="auto" if value.second or value.microsecond else "minutes")
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, tuple):
        return [*map(_value, value)]
    if isinstance(value, ThreePoint):
        points = [value.optimistic, value.most_likely, value.pessimistic]
        return _number(points[0]) if len(set(points)) == 1 else [*map(_number, points)]
    if isinstance(value, plumbed.End):
        return [value.kind, _value(value.size)]
    return entry_of(value)


def _number(value: float) -> float:
    """2 rather than 2.0; reading gives the same number."""
    return int(value) if float(value).is_integer() and abs(value) < 2**53 else value


def week_entries(week: Iterable[WeekSession]) -> list[Fields]:
    """Each session of a shop week."""
    return [{"day": WEEKDAYS[s.weekday], **_opening(s.hours)} for s in week]


def _opening(hours: DayHours) -> Fields:
    return {
        "opens": clock_words(hours.opens_minute),
        "closes": clock_words(hours.closes_minute),
        "helper": hours.helper,
    }


def day_entries(day: DayException) -> Iterator[Fields]:
    """Each session of a date, or that it is closed."""
    date = day.date.isoformat()
    if not day.sessions:
        yield {"date": date, "closed": True}
    for hours in day.sessions:
        yield {"date": date, **_opening(hours)}
