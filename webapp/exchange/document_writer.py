"""Writes a build as a build document: the same fields in the same order, one thing per line.

Photographs stand in it only where they are asked for, under their task.
"""

import datetime as dt
import json
from base64 import b64encode
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any

from webapp.build import build_input as nouns
from webapp.build import data_sheet as sheets
from webapp.build import earlier_record as earlier
from webapp.build import first_start as starts
from webapp.build import plumbing as plumbed
from webapp.build import room as rooms
from webapp.build import shop as shops
from webapp.build import wish as wishes
from webapp.build.build_input import BuildInput, Photograph
from webapp.build.checks.session_checks import WEEKDAYS, clock_words
from webapp.build.checks.size_checks import megabytes, most_bytes_written
from webapp.build.house_rules import HOUSE_RULES
from webapp.build.limits import MOST_FULL_DOCUMENT_BYTES
from webapp.build.plumbing import Plumbing
from webapp.build.shop import DayException, DayHours, WeekSession
from webapp.build.three_point import ThreePoint
from webapp.exchange.document_models import FORMAT, VERSION

Fields = dict[str, object]
PictureOf = Callable[[str], bytes | None]
"""The JPEG file of a digest; None where it is not there."""

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
_SHEET_LISTS = ("figures", "limits", "wires", "belts")
_START_LISTS = (
    *("answers", "signatures", "set_asides", "changes"),
    *("own_checks", "openings", "runs", "stop_lines"),
)
_PLUMBING_LISTS = ("components", "circuits", "runs", "shelf")
_LISTS = ("subsystems", "tasks", "dependencies", "parts", "wishes", "wish_sizes", "log")


_LISTS_IF_ANY = ("looked_at", "earlier_records", "rooms")
_SHOP_LISTS_IF_ANY = ("later_weeks", "ranges", "given")
"""Lists that stand in a document only where there is something in them."""


def write_document(build: BuildInput) -> str:
    """The document of a build without its photographs; reading it gives the same build again.

    Raises ValueError for numbers that are not finite, which a build without faults has not.
    """
    return "".join(document_pieces(build))


def document_pieces(build: BuildInput, picture_of: PictureOf | None = None) -> Iterator[str]:
    """The same piece by piece, a thing at a time; with `picture_of` its photographs are in it.

    A photograph whose file is not there is left out.
    """
    shop = build.shop
    in_shop: dict[str, list[Fields]] = {
        "week": _week(shop.week),
        "days": [fields for day in shop.days for fields in _day(day)],
        "setups": [*map(_entry, shop.setups)],
        "stations": [*map(_entry, shop.stations)],
    }
    for name in _SHOP_LISTS_IF_ANY:
        if getattr(shop, name):
            in_shop[name] = [*map(_entry, getattr(shop, name))]
    yield f'{{"format": "{FORMAT}", "version": {VERSION},\n'
    yield f' "build": {_line(_entry(build))},\n'
    yield f' "shop": {{"people": {shop.people}, "setup_out": {_line(_out(shop.setups_out))},\n'
    for place, (name, entries) in enumerate(in_shop.items()):
        yield ",\n" if place else ""
        yield from _list("   ", name, entries)
    yield "},\n"
    written = (*_LISTS, *(name for name in _LISTS_IF_ANY if getattr(build, name)))
    for place, name in enumerate(written):
        yield ",\n" if place else ""
        yield from _list(" ", name, _entries(name, build, picture_of))
    yield f"{_data_sheet(build.data_sheet)}{_start(build.start)}{_plumbing(build.plumbing)}}}\n"


def _out(setups: tuple[str, ...]) -> str | tuple[str, ...] | None:
    """What is out: a key where it is one, as with one person."""
    return setups if len(setups) > 1 else next(iter(setups), None)


def _entries(name: str, build: BuildInput, picture_of: PictureOf | None) -> Iterator[Fields]:
    """The entries of a list, with what stands in them that is kept elsewhere in the build."""
    if name == "tasks" and picture_of is not None:
        yield from _full_tasks(build, picture_of)
        return
    for thing in getattr(build, name):
        entry = _entry(thing)
        if name == "parts":
            brought = [one for one in build.plumbing.ordered if one.part == thing.key]
            if brought:
                entry["plumbing"] = [*map(_entry, brought)]
        yield entry


def _data_sheet(sheet: sheets.DataSheet) -> str:
    """The key `data_sheet`, left out where nothing was typed."""
    return _key_of_lists(
        "data_sheet", sheet, [name for name in _SHEET_LISTS if getattr(sheet, name)]
    )


def _start(start: starts.FirstStart) -> str:
    """The key `start`, left out where nothing was signed or answered."""
    return _key_of_lists("start", start, [name for name in _START_LISTS if getattr(start, name)])


def _plumbing(plumbing: Plumbing) -> str:
    """The key `plumbing`, left out where nothing is plumbed."""
    names = (*_PLUMBING_LISTS, *(("sold",) if plumbing.sold else ()))
    return _key_of_lists("plumbing", plumbing, names)


def _key_of_lists(key: str, of: Any, names: Sequence[str]) -> str:
    if not any(getattr(of, name) for name in names):
        return ""
    written = ("".join(_list("   ", name, map(_entry, getattr(of, name)))) for name in names)
    return f',\n "{key}": {{\n' + ",\n".join(written) + "}"


def most_bytes_with_photographs(build: BuildInput) -> int:
    """The document of a build with its photographs takes no more bytes than this."""
    own = (4 * ((each.size_bytes + 2) // 3) for each in build.photographs)
    return most_bytes_written(build) + sum(own)


def too_large_with_photographs(build: BuildInput) -> str:
    """What is said where a document with its photographs could not be read again."""
    most = megabytes(MOST_FULL_DOCUMENT_BYTES)
    return (
        f"With its photographs the document of {build.name} may take more than {most}, which no "
        "import takes. Export it without them, and keep a copy of the folder of photographs."
    )


def _full_tasks(build: BuildInput, picture_of: PictureOf) -> Iterator[Fields]:
    """The tasks with their photographs, one after the other."""
    by_task: defaultdict[str, list[Photograph]] = defaultdict(list)
    for each in build.photographs:
        by_task[each.task].append(each)
    for task in build.tasks:
        entry = _entry(task)
        entries = [*_photographs(by_task[task.key], picture_of)]
        yield entry | {"photographs": entries} if entries else entry


def _photographs(photographs: Iterable[Photograph], picture_of: PictureOf) -> Iterator[Fields]:
    for each in photographs:
        jpeg = picture_of(each.digest)
        if jpeg is not None:
            said = {"caption": each.caption} if each.caption else {}
            text = b64encode(jpeg).decode("ascii")
            yield {"added_on": each.added_on.isoformat(), **said, "jpeg": text}


def _line(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _list(indent: str, name: str, entries: Iterable[Fields]) -> Iterator[str]:
    begun = False
    for entry in entries:
        opening = f",\n{indent}  " if begun else f'{indent}"{name}": [\n{indent}  '
        begun = True
        yield f"{opening}{_line(entry)}"
    yield "]" if begun else f'{indent}"{name}": []'


def _entry(noun: object) -> Fields:
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
            return _week(value)
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
    return _entry(value)


def _number(value: float) -> float:
    """2 rather than 2.0; reading gives the same number."""
    return int(value) if float(value).is_integer() and abs(value) < 2**53 else value


def _week(week: Iterable[WeekSession]) -> list[Fields]:
    return [{"day": WEEKDAYS[s.weekday], **_opening(s.hours)} for s in week]


def _opening(hours: DayHours) -> Fields:
    return {
        "opens": clock_words(hours.opens_minute),
        "closes": clock_words(hours.closes_minute),
        "helper": hours.helper,
    }


def _day(day: DayException) -> Iterator[Fields]:
    date = day.date.isoformat()
    if not day.sessions:
        yield {"date": date, "closed": True}
    for hours in day.sessions:
        yield {"date": date, **_opening(hours)}
