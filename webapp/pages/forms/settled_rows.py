"""The rows of a list in a form: what was changed in them, brought onto the list as it is now.

Rows are matched by what they are about, not by where they stand.
"""

import heapq
from collections import defaultdict
from collections.abc import Callable, Mapping

from webapp.pages.forms.settled_field import MEANWHILE, Settled, both, plain, quoted, same
from webapp.pages.forms.shown import Rows, Said, Shown, as_typed

Row = tuple[str, ...]
"""The texts of a row, stem by stem."""


def settle_rows(
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
    old, sent = _rows_in(group, was or {}), _rows_in(group, typed)
    there = _rows_in(group, texts_now)
    identity = group.stems.index(group.identity) if group.identity else -1
    if was is None:
        old = _as_identified(sent, there, identity)
    blank = ("",) * len(group.stems)
    filled = {number: row for number, row in there.items() if _is_about(row, identity)}
    result = _Merging(identity)
    for number, row in filled.items():
        result.append(row, number, "")
    known = {plain(each[identity]) for each in old.values()} if identity >= 0 else set()
    for number, cells in sent.items():
        before = old.get(number, blank)
        row = _with_left_out(group, number, cells, before, typed, boxes)
        if _alike(row, before):
            continue
        # What is typed twice into this form is a fault of it; what was added elsewhere as well
        # is one and the same.
        twice = identity >= 0 and plain(row[identity]) in known
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
                f"{quoted(there_now[0])} was changed elsewhere meanwhile, and you took it out."
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


def _rows_in(group: Rows, texts: Mapping[str, str]) -> dict[int, Row]:
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
    stored = {plain(row[identity]): row for row in there.values() if row[identity]}
    named = {number: stored.get(plain(row[identity])) for number, row in sent.items()}
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
            heapq.heappush(self._about[plain(row[self._identity])], place)

    def place_of(self, before: Row) -> int | None:
        """Where a row of before stands now: the same one, else the one that is about the same."""
        wanted = _plain_row(before)
        place = self._first(self._alike[wanted], lambda row: _plain_row(row) == wanted)
        if place is not None or self._identity < 0 or not before[self._identity]:
            return place
        name = plain(before[self._identity])
        return self._first(self._about[name], lambda row: plain(row[self._identity]) == name)

    def _first(self, places: list[int], fits: Callable[[Row], bool]) -> int | None:
        """The first of the places whose row still fits; what was written over is forgotten."""
        while places and not fits(self.rows[places[0]][0]):
            heapq.heappop(places)
        return places[0] if places else None


def _plain_row(row: Row) -> Row:
    return tuple(map(plain, row))


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
                clashes.append(both(stored, text, say))
    if not clashes:
        return tuple(merged), ""
    return tuple(merged), (
        f"{quoted(now[0])}: {MEANWHILE}: {'; '.join(clashes)}."
        " Save again to write yours, or type what is right."
    )


def _gone(before: Row) -> str:
    return (
        f"{quoted(before[0])} was taken out elsewhere meanwhile."
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
