"""Two windows on one thing: what a form was shown with, what was typed, and what is there now.

A form carries what it showed. When it comes back, a field that still says what was shown was not
touched: it means what is stored now. A field that was changed is written, unless somebody else
changed it meanwhile: then both are shown and its person is asked. Rows of a list are matched by
what they are about, not by where they stand.
"""

import heapq
import json
import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from webapp.pages.forms.field_words import label_of
from webapp.pages.forms.shown import Rows, Said, Shown, ShownField, as_typed

Texts = Mapping[str, tuple[str, ...]]
MEANWHILE = "changed elsewhere meanwhile"


def text_of_carried(texts: Texts) -> str:
    """What a form shows, as the hidden field holds it."""
    return json.dumps({name: given[-1] for name, given in texts.items() if given and given[-1]})


def read_carried(text: str) -> dict[str, str] | None:
    """What the form was shown with; None where it says nothing that can be read."""
    if not text:
        return None
    try:
        read = json.loads(text)
    except (ValueError, RecursionError):
        return None
    if not isinstance(read, dict):
        return None
    return {name: value for name, value in read.items() if isinstance(value, str)}


@dataclass(slots=True)
class Settled:
    """A form after it was held against what is stored now.

    texts : what each field says; exact : the value of each field that means what is stored;
    questions : field -> the sentence that asks about it
    """

    texts: dict[str, tuple[str, ...]] = field(default_factory=dict)
    exact: dict[str, object] = field(default_factory=dict)
    questions: dict[str, str] = field(default_factory=dict)

    def as_stored(self, name: str, stored: ShownField) -> None:
        self.texts[name] = (stored.text,)
        self.exact[name] = stored.value

    def as_typed(self, name: str, text: str) -> None:
        self.texts[name] = (text,)


def settled(
    typed: Mapping[str, str], was: Mapping[str, str] | None, now: Shown, rows: Iterable[Rows] = ()
) -> Settled:
    """Hold what was typed against what was shown and what is stored now.

    typed : field -> text as posted; was : as shown, None where the form carried nothing: then
    whatever differs from what is stored was changed by its person, and a row is told by what it
    is about. A field that the form came without means what is stored.
    """
    before = {name: one.text for name, one in now.fields.items()} if was is None else was
    out, in_rows = Settled(), set[str]()
    for group in rows:
        names = _settle_rows(out, group, typed, was, now)
        in_rows |= names
    for name in dict.fromkeys((*typed, *now.fields)):
        if name in in_rows:
            continue
        text = _text_of(name, typed, was, now)
        if text is None:
            out.as_stored(name, now.fields[name])
        else:
            _settle_field(out, name, text, before.get(name, ""), now)
    return out


def _text_of(
    name: str, typed: Mapping[str, str], was: Mapping[str, str] | None, now: Shown
) -> str | None:
    """What was typed into a field; None where the form came without it, which says nothing.

    A browser sends nothing of a box that is not ticked: left out, one that was shown ticked was
    unticked.
    """
    if name in typed:
        return typed[name]
    return "" if now.is_tick(name) and (was or {}).get(name) else None


def _settle_field(out: Settled, name: str, typed: str, was: str, now: Shown) -> None:
    stored = now.fields.get(name)
    if stored is None:
        out.as_typed(name, typed)
        return
    if same(typed, stored.text) or same(typed, was):
        out.as_stored(name, stored)
        return
    out.as_typed(name, typed)
    if not same(was, stored.text):
        label = stored.label or label_of(name)
        out.questions[name] = (
            f"{label}: {MEANWHILE}: {_both(stored.text, typed, stored.said)}."
            " Save again to write yours, or type what is right."
        )


def same(one: str, other: str) -> bool:
    """Two texts as a browser may send them: line ends and spaces at the ends do not count."""
    return _plain(one) == _plain(other)


def _plain(text: str) -> str:
    return without_controls(text).replace("\r\n", "\n").replace("\r", "\n").strip()


_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")


def without_controls(text: str) -> str:
    """The text without what no keyboard types and no page can hold."""
    return _CONTROL.sub("", text)


def _quoted(text: str) -> str:
    flat = " ".join(text.split())
    return f"“{flat[:80]}”" if flat else "nothing"


def _both(stored: str, typed: str, said: Said) -> str:
    now, here = _quoted(said(stored, typed)), _quoted(said(typed, stored))
    return f"it says {now} now, and you typed {here}"


# rows ---------------------------------------------------------------------------------------
Row = tuple[str, ...]
"""The texts of a row, stem by stem."""


def _settle_rows(
    out: Settled,
    group: Rows,
    typed: Mapping[str, str],
    was: Mapping[str, str] | None,
    now: Shown,
) -> set[str]:
    """Bring the changes of a list onto the list as it is now; the names it takes up."""
    texts_now = {name: one.text for name, one in now.fields.items()}
    said = tuple(_said_in(now, stem) for stem in group.stems)
    boxes = frozenset(stem for stem in group.stems if was is not None and now.has_ticks(stem))
    old, sent = rows_in(group, was or {}), rows_in(group, typed)
    there = rows_in(group, texts_now)
    identity = group.stems.index(group.identity) if group.identity else -1
    if was is None:
        old = _as_identified(sent, there, identity)
    blank = ("",) * len(group.stems)
    filled = {number: row for number, row in there.items() if _is_about(row, identity)}
    result = _Merging(identity)
    for number, row in filled.items():
        result.append(row, number, "")
    known = {_plain(each[identity]) for each in old.values()} if identity >= 0 else set()
    for number, cells in sent.items():
        before = old.get(number, blank)
        row = _with_left_out(group, number, cells, before, typed, boxes)
        if _alike(row, before):
            continue
        # What is typed twice into this form is a fault of it; what was added elsewhere as well
        # is one and the same.
        twice = identity >= 0 and _plain(row[identity]) in known
        is_new = not _is_about(before, identity)
        at = None if is_new and twice else result.place_of(row if is_new else before)
        if at is None:
            if any(row):
                result.append(row, None, "" if is_new else _gone(before))
            continue
        there_now, stored_number, _ = result.rows[at]
        merged, question = _merged_row(row, before, there_now, said)
        if _takes_out(group, row, before) and not _alike(there_now, before):
            question = (
                f"{_quoted(there_now[0])} was changed elsewhere meanwhile, and you took it out."
                " Save again if it is to go all the same."
            )
        result.put(at, merged, stored_number, question)
    names = {f"{stem}-{number}" for stem in group.stems for number in (*old, *sent, *there)}
    for place, (row, stored_number, question) in enumerate(result.rows):
        _put_row(out, group, place, row, stored_number, now)
        if question:
            out.questions[f"{group.counted}-{place}"] = question
    to_fill_in = (row for number, row in there.items() if number not in filled)
    for place, row in enumerate(to_fill_in, len(result.rows)):
        for stem, text in zip(group.stems, row, strict=True):
            out.as_typed(f"{stem}-{place}", text)
    return names


def _with_left_out(
    group: Rows,
    number: int,
    cells: Row,
    before: Row,
    typed: Mapping[str, str],
    boxes: frozenset[str],
) -> Row:
    """The cells of a row as sent; one that the form came without is as shown, save in `boxes`."""
    return tuple(
        text if stem in boxes or f"{stem}-{number}" in typed else shown
        for stem, text, shown in zip(group.stems, cells, before, strict=True)
    )


def rows_in(group: Rows, texts: Mapping[str, str]) -> dict[int, Row]:
    """The rows of a list by their numbers, ascending."""
    numbers = set()
    for name in texts:
        stem, dash, number = name.rpartition("-")
        if dash and stem in group.stems and number.isascii() and number.isdecimal():
            numbers.add(int(number))
    return {
        number: tuple(texts.get(f"{stem}-{number}", "") for stem in group.stems)
        for number in sorted(numbers)
    }


def _as_identified(sent: dict[int, Row], there: dict[int, Row], identity: int) -> dict[int, Row]:
    """What rows were shown as, by a form that does not say: what is stored of the same thing."""
    if identity < 0:
        return there
    stored = {_plain(row[identity]): row for row in there.values() if row[identity]}
    named = {number: stored.get(_plain(row[identity])) for number, row in sent.items()}
    return {number: row for number, row in named.items() if row is not None}


def _is_about(row: Row, identity: int) -> bool:
    """Whether a row says what it is about; one to be filled in may still show what is usual."""
    return any(row) if identity < 0 else bool(row[0] or row[identity])


def _alike(one: Row, other: Row) -> bool:
    return all(same(a, b) for a, b in zip(one, other, strict=True))


class _Merging:
    """A list as it comes to be, row by row: its texts, its number in what is stored, a question.

    Where a row stands is looked up, not searched for: a form may hold thousands.
    """

    def __init__(self, identity: int) -> None:
        self.rows: list[tuple[Row, int | None, str]] = []
        self._identity = identity
        self._alike: defaultdict[Row, list[int]] = defaultdict(list)
        self._about: defaultdict[str, list[int]] = defaultdict(list)

    def append(self, row: Row, number: int | None, question: str) -> None:
        self.rows.append((row, number, question))
        self._note(len(self.rows) - 1, row)

    def put(self, place: int, row: Row, number: int | None, question: str) -> None:
        self.rows[place] = (row, number, question)
        self._note(place, row)

    def _note(self, place: int, row: Row) -> None:
        heapq.heappush(self._alike[_plain_row(row)], place)
        if self._identity >= 0:
            heapq.heappush(self._about[_plain(row[self._identity])], place)

    def place_of(self, before: Row) -> int | None:
        """Where a row of before stands now: the same one, else the one that is about the same."""
        wanted = _plain_row(before)
        place = self._first(self._alike[wanted], lambda row: _plain_row(row) == wanted)
        if place is not None or self._identity < 0 or not before[self._identity]:
            return place
        name = _plain(before[self._identity])
        return self._first(self._about[name], lambda row: _plain(row[self._identity]) == name)

    def _first(self, places: list[int], fits: Callable[[Row], bool]) -> int | None:
        """The first of the places whose row still fits; what was written over is forgotten."""
        while places and not fits(self.rows[places[0]][0]):
            heapq.heappop(places)
        return places[0] if places else None


def _plain_row(row: Row) -> Row:
    return tuple(map(_plain, row))


def _takes_out(group: Rows, row: Row, before: Row) -> bool:
    """Whether a row is emptied of what it is about, or ticked to be removed."""
    removing = dict(zip(group.stems, row, strict=True)).get("remove", "")
    return bool(removing) or (bool(before[0]) and not row[0])


def _said_in(now: Shown, stem: str) -> Said:
    """How the fields of a column are said."""
    for name, one in now.fields.items():
        if name.rpartition("-")[0] == stem:
            return one.said
    return as_typed


def _merged_row(typed: Row, before: Row, now: Row, said: tuple[Said, ...]) -> tuple[Row, str]:
    """A row with its person's changes on top of what it says now, and the question about it."""
    merged, clashes = [], []
    for text, was, stored, say in zip(typed, before, now, said, strict=True):
        if same(text, was) or same(text, stored):
            merged.append(stored)
        else:
            merged.append(text)
            if not same(was, stored):
                clashes.append(_both(stored, text, say))
    if not clashes:
        return tuple(merged), ""
    return tuple(merged), (
        f"{_quoted(now[0])}: {MEANWHILE}: {'; '.join(clashes)}."
        " Save again to write yours, or type what is right."
    )


def _gone(before: Row) -> str:
    return (
        f"{_quoted(before[0])} was taken out elsewhere meanwhile."
        " Save again to put it back as typed, or empty the row."
    )


def _put_row(
    out: Settled, group: Rows, place: int, row: Row, stored_number: int | None, now: Shown
) -> None:
    for stem, text in zip(group.stems, row, strict=True):
        name = f"{stem}-{place}"
        stored = None if stored_number is None else now.fields.get(f"{stem}-{stored_number}")
        if stored is not None and same(text, stored.text):
            out.as_stored(name, stored)
        else:
            out.as_typed(name, text)
