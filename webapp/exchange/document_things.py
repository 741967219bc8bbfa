"""What faults call each thing of a build document: told from its fields, its number and its place.

Each takes the fields as they stand, the number in the list (from 1), and the things that this one
stands in, outermost first.
"""

from collections.abc import Callable, Sequence
from typing import Any

from webapp.build.checks.fault_words import Thing, shown
from webapp.build.data_sheet import FIGURES
from webapp.build.plumbing import address_of

Fields = dict[str, Any]
Named = Callable[[Fields, int, Sequence[Thing]], Thing]


def always(thing: Thing) -> Named:
    return lambda _fields, _number, _within: thing


def the_build(fields: Fields, _number: int, _within: Sequence[Thing]) -> Thing:
    name = fields.get("name")
    return Thing(kind="build", key="", name=name if isinstance(name, str) else "")


def entry(kind: str, fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    """By its name and key where it has them, else by its place."""
    name, key = _plain(fields.get("name")), _plain(fields.get("key"))
    return Thing(kind=kind, key=key, name=name, number=number)


def opening(called: str, fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    """A session or day exception by its place and its day."""
    day = fields.get("day", fields.get("date"))
    words = shown(day) if isinstance(day, str) else "without a day"
    return Thing(kind="shop", key="", name=f"{called} {number}, {words}")


def later_week(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    first = _plain(fields.get("from_on"))
    return Thing(kind="shop", key=first, name=f"week from {first or f'(number {number})'}")


def day_range(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    first, last = _plain(fields.get("first_on")), _plain(fields.get("last_on"))
    days = f"{first or 'no day'} to {last or 'no day'}" if first or last else f"number {number}"
    return Thing(kind="shop", key=first, name=f"range of days {days}")


def given_away(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    first = _plain(fields.get("first_on"))
    name = f"session of another build on {first or f'no day (number {number})'}"
    return Thing(kind="shop", key=first, name=name)


def session_of_days(fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """A session of a later shop week or a range of days."""
    day = fields.get("day")
    words = shown(day) if isinstance(day, str) else "without a day"
    days = within[-1]
    return Thing(kind="shop", key=days.key, name=f"{days.name}, session {number}, {words}")


def wish(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    key, text = _plain(fields.get("key")), _plain(fields.get("text"))
    name = text.partition("\n")[0].strip() or ("" if key.strip() else f"number {number}")
    return Thing(kind="wish", key=key, name=name)


def looked_at(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    """By what it is about, where it is about one thing."""
    about = [key for name in ("evening", "wish", "task") if (key := _plain(fields.get(name)))]
    return Thing(kind="looked at", key=about[0] if len(about) == 1 else "", number=number)


def of_a_wish(
    what: str, named_by: str, fields: Fields, number: int, within: Sequence[Thing]
) -> Thing:
    """A thing inside a wish, told by the wish's own name."""
    wish = within[1]
    words = f"{what} {_plain(fields.get(named_by)) or number or ''}".rstrip()
    return Thing(kind="wish", key=wish.key, name=f"{wish.name}, {words}" if wish.name else words)


def ordered(_fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    part = within[1]
    words = f"{part.name}, what it brings, line {number}".removeprefix(", ")
    return Thing(kind="part", key=part.key, name=words)


def port(fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """By its address; by its place, where it has no name."""
    name = _plain(fields.get("name")).strip() or f"number {number}"
    return Thing(kind="port", key=address_of(within[-1].key or within[-1].name, name))


def stop(_fields: Fields, _number: int, within: Sequence[Thing]) -> Thing:
    return Thing(kind="port", key=within[-1].key, name=f"what shuts {within[-1].key}")


def piece(fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    run = within[-1]
    what = _plain(fields.get("piece"))
    words = f"piece {number} ({shown(what)})" if what else f"piece {number}"
    name = run.name or run.key
    return Thing(kind="run", key=run.key, name=f"{name}, {words}" if name else words)


def sold(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    return Thing(kind="sold", key="", name=shown(_plain(fields.get("what"))), number=number)


def shelf(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    what = _plain(fields.get("piece"))
    words = f"line {number} ({shown(what)})" if what else f"line {number}"
    return Thing(kind="shelf", key="", name=words)


def held(fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """A piece or a gap in a room, told by the room's own name."""
    room = within[1]
    words = _plain(fields.get("name")) or f"number {number}"
    return Thing(kind="room", key=room.key, name=f"{room.name}, {words}" if room.name else words)


def earlier_kind(fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """A kind of work, told by the earlier build's own name."""
    record = within[1]
    words = _plain(fields.get("name")) or f"kind of work number {number}"
    name = f"{record.name}, {words}" if record.name else words
    return Thing(kind="earlier record", key=record.key, name=name)


def figure(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    """A figure of the data sheet by its name."""
    name = _plain(fields.get("name"))
    kind = next((kind for known, kind in FIGURES.items() if known == name), None)
    return Thing(kind="figure", key=name, name=kind.words if kind else "", number=number)


def own_limit(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    """A limit by its check and its place."""
    check, at = _plain(fields.get("check")), _plain(fields.get("at"))
    name = f"of {check}" + (f" at {at}" if at else "") if check else ""
    return Thing(kind="limit", key="", name=name, number=number)


def pulley(fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """A pulley, told by its belt's own name."""
    belt = within[-1]
    words = f"pulley {_plain(fields.get('name')) or number}"
    return Thing(kind="belt", key=belt.key, name=f"{belt.name}, {words}" if belt.name else words)


def of_start(
    kind: str, told_by: str, fields: Fields, number: int, _within: Sequence[Thing]
) -> Thing:
    """A thing of first start by what tells it."""
    name = _plain(fields.get("check")) or _plain(fields.get("name"))
    return Thing(kind=kind, key=_plain(fields.get(told_by)), name=name, number=number)


def of_signature(_fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """A reading or paper, told by its signature."""
    signature = within[-1]
    return Thing(kind="signature", key=signature.key, name=f"{signature.name}, {number}")


def of_a_task(
    what: str, named_by: str, fields: Fields, number: int, within: Sequence[Thing]
) -> Thing:
    """A thing inside a task, told by the task's own name."""
    task = within[1]
    words = f"{what} {_plain(fields.get(named_by)) or number}"
    return Thing(kind="task", key=task.key, name=f"{task.name}, {words}" if task.name else words)


def photograph(_fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """A photograph by its place among those of its task."""
    task = within[1]
    name = f"{task.name}, photograph {number}" if task.name else f"photograph {number}"
    return Thing(kind="task", key=task.key, name=name)


def _plain(value: object) -> str:
    """A text without halves of characters, which no answer could carry."""
    return value.encode(errors="replace").decode() if isinstance(value, str) else ""
