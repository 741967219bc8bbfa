"""Writes a build as a build document: the same fields in the same order, one thing per line.

Photographs stand in it only where they are asked for, under their task.
"""

import json
from base64 import b64encode
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any

from webapp.build import data_sheet as sheets
from webapp.build import first_start as starts
from webapp.build.build_input import BuildInput, Photograph
from webapp.build.checks.size_checks import megabytes, most_bytes_written
from webapp.build.limits import MOST_FULL_DOCUMENT_BYTES
from webapp.build.plumbing import Plumbing
from webapp.exchange.document_models import FORMAT, VERSION
from webapp.exchange.written_entries import Fields, day_entries, entry_of, week_entries

PictureOf = Callable[[str], bytes | None]
"""The JPEG file of a digest; None where it is not there."""

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
        "week": week_entries(shop.week),
        "days": [fields for day in shop.days for fields in day_entries(day)],
        "setups": [*map(entry_of, shop.setups)],
        "stations": [*map(entry_of, shop.stations)],
    }
    for name in _SHOP_LISTS_IF_ANY:
        if getattr(shop, name):
            in_shop[name] = [*map(entry_of, getattr(shop, name))]
    yield f'{{"format": "{FORMAT}", "version": {VERSION},\n'
    yield f' "build": {_line(entry_of(build))},\n'
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
        entry = entry_of(thing)
        if name == "parts":
            brought = [one for one in build.plumbing.ordered if one.part == thing.key]
            if brought:
                entry["plumbing"] = [*map(entry_of, brought)]
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
    written = ("".join(_list("   ", name, map(entry_of, getattr(of, name)))) for name in names)
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
        entry = entry_of(task)
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
