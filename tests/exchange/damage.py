"""Damages build documents in the ways in which hands, editors and other programs do.

Every place of the format is as likely to be hit as any other, however many entries a list has.
"""

import json
import re
from collections.abc import Callable, Iterator
from copy import deepcopy
from random import Random
from typing import Any

Path = tuple[str | int, ...]

OTHER_VALUES: tuple[Any, ...] = (
    None,
    True,
    False,
    0,
    -1,
    2.5,
    1e300,
    10**40,
    -(10**18),
    float("nan"),
    float("inf"),
    float("-inf"),
    "",
    "  ",
    "2",
    "two words",
    "line\nbreak",
    "n" * 600,
    "n" * 11_000,
    "\ud800",
    [],
    {},
    [1, 2],
    [3, 2, 1],
    [1, "2", 3],
    [None],
    [[]],
    {"lift": 1},
    {"key": "x"},
)
BAD_DATES = (
    "2026-02-30",
    "2026-13-01",
    "30.2.2026",
    "2026-2-3",
    "0001-01-01",
    "9999-12-31",
    "2026-02-02T09:00Z",
    "2026-02-02T09:00+01:00",
    "2026-02-02T25:00",
    "2026-02-02T09:00:30",
    "2026-02-02 09:00",
    "24:01",
    "9:00",
    "24:00",
    20260202,
    "2026-02-02T09:00",
    "2026-02-02",
)
STRAY_NAMES = ("colour", "x", "Name", "hour", "note", "keys", "opens", "helper", "märz", "n" * 200)


def damaged(text: str, random: Random) -> bytes:
    """The document with one to seven faults in it, of form, of content, or as a text."""
    value = json.loads(text)
    for _ in range(random.choice((1, 1, 1, 2, 3, 7))):
        random.choice(WAYS)(value, random)
    written = json.dumps(value, ensure_ascii=random.random() < 0.5, indent=1)
    data = written.encode("utf-8", "surrogatepass")
    return random.choice(TEXT_WAYS)(data, random) if random.random() < 0.2 else data


def _places(value: Any, path: Path = ()) -> Iterator[Path]:
    if path:
        yield path
    if isinstance(value, dict | list):
        for name, part in value.items() if isinstance(value, dict) else enumerate(value):
            yield from _places(part, (*path, name))


def _place(value: Any, random: Random, *, of: type | None = None) -> Path | None:
    """A place picked by its names first, then by its numbers; only where an `of` stands."""
    places: dict[tuple[str, ...], list[Path]] = {}
    for path in _places(value):
        if of is None or isinstance(_at(value, path), of):
            names = tuple("#" if isinstance(step, int) else step for step in path)
            places.setdefault(names, []).append(path)
    return random.choice(places[random.choice(list(places))]) if places else None


def _at(value: Any, path: Path) -> Any:
    for step in path:
        value = value[step]
    return value


def _replace(value: Any, random: Random, new: Callable[[Any], Any], of: type | None = None) -> None:
    path = _place(value, random, of=of)
    if path:
        holder = _at(value, path[:-1])
        holder[path[-1]] = new(holder[path[-1]])


# --- in the fields --------------------------------------------------------------------------


def _drop(value: Any, random: Random) -> None:
    path = _place(value, random)
    if path:
        del _at(value, path[:-1])[path[-1]]


def _other_value(value: Any, random: Random) -> None:
    _replace(value, random, lambda _: deepcopy(random.choice(OTHER_VALUES)))


def _other_place_value(value: Any, random: Random) -> None:
    other = _place(value, random)
    found = json.loads(json.dumps(_at(value, other))) if other else None
    _replace(value, random, lambda _: found)


def _in_quotes(value: Any, random: Random) -> None:
    _replace(value, random, str)


def _bad_date(value: Any, random: Random) -> None:
    path = _place(value, random, of=str)
    dates = [p for p in _places(value) if re.match(r"\d\d(\d\d-|:)", str(_at(value, p)))]
    if dates and random.random() < 0.9:
        path = random.choice(dates)
    if path:
        _at(value, path[:-1])[path[-1]] = random.choice(BAD_DATES)


def _new_field(value: Any, random: Random) -> None:
    path = _place(value, random, of=dict)
    object_ = _at(value, path) if path and random.random() < 0.9 else value
    if isinstance(object_, dict):
        object_[random.choice(STRAY_NAMES)] = deepcopy(random.choice(OTHER_VALUES))


def _misspelt_field(value: Any, random: Random) -> None:
    path = _place(value, random)
    if path and isinstance(path[-1], str):
        holder = _at(value, path[:-1])
        name, at = path[-1], random.randrange(len(path[-1]) + 1)
        letter = random.choice(("", "", "e", "_", "S"))
        holder[name[:at] + letter + name[at + 1 :]] = holder.pop(name)


def _in_a_list(value: Any, random: Random) -> None:
    _replace(value, random, lambda old: [old])


def _in_an_object(value: Any, random: Random) -> None:
    _replace(value, random, lambda old: {"key": old})


def _list_as_object(value: Any, random: Random) -> None:
    _replace(value, random, lambda old: {str(i): part for i, part in enumerate(old)}, list)


def _object_as_list(value: Any, random: Random) -> None:
    _replace(value, random, lambda old: [[name, part] for name, part in old.items()], dict)


def _twice_in_a_list(value: Any, random: Random) -> None:
    path = _place(value, random, of=list)
    if path:
        entries = _at(value, path)
        if entries:
            entries.append(random.choice(entries))


def _alien_in_a_list(value: Any, random: Random) -> None:
    path = _place(value, random, of=list)
    if path:
        entries = _at(value, path)
        entries.insert(random.randrange(len(entries) + 1), deepcopy(random.choice(OTHER_VALUES)))


WAYS: tuple[Callable[[Any, Random], None], ...] = (
    _drop,
    _drop,
    _other_value,
    _other_value,
    _other_place_value,
    _in_quotes,
    _bad_date,
    _new_field,
    _misspelt_field,
    _in_a_list,
    _in_an_object,
    _list_as_object,
    _object_as_list,
    _twice_in_a_list,
    _alien_in_a_list,
)


# --- in the text ----------------------------------------------------------------------------


def _cut_off(data: bytes, random: Random) -> bytes:
    return data[: random.randrange(len(data))]


def _field_twice(data: bytes, random: Random) -> bytes:
    fields = list(re.finditer(rb'"\w+": ("[^"\\\n]*"|[-\d.]+|true|false|null)', data))
    field = random.choice(fields)
    again = field[0] if random.random() < 0.5 else field[0].split(b":")[0] + b": 7"
    return b"".join((data[: field.end()], b", ", again, data[field.end() :]))


def _stray_byte(data: bytes, random: Random) -> bytes:
    at = random.randrange(len(data))
    return data[:at] + random.choice((b"\xe4", b"\xff", b"\0", b",", b"}", b'"')) + data[at:]


def _another_coding(data: bytes, random: Random) -> bytes:
    coding = random.choice(("utf-16", "utf-16-le", "utf-16-be", "latin-1", "utf-8-sig"))
    return data.decode("utf-8", "replace").encode(coding, "replace")


def _with_more_after(data: bytes, random: Random) -> bytes:
    return data + random.choice((b"\n\n", b"{}", data))


TEXT_WAYS: tuple[Callable[[bytes, Random], bytes], ...] = (
    _cut_off,
    _field_twice,
    _field_twice,
    _stray_byte,
    _another_coding,
    _with_more_after,
)
