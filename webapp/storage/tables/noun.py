"""One declaration a noun, for both ways: a thing into the values of its row, rows into things.

A field stands in the column of its own name unless a `Columns` says otherwise, so that a new
field is stored and loaded as soon as its table has the column.
"""

import dataclasses
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from operator import attrgetter
from typing import Any

from sqlalchemy import inspect

from webapp.build.build_input import BuildInput
from webapp.build.three_point import ThreePoint
from webapp.storage.tables.row import Row

Values = dict[str, Any]
"""What a row says, by the names of its columns."""
RowsOf = Callable[["Noun"], Sequence[Sequence[Any]]]
"""Gives the rows of a noun's table, each in the order of `Noun.columns`."""

_PLACE = frozenset({"id", "build_id", "position"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """A field that does not stand in one column of its own name.

    `into` makes the field of the values of `columns`, `out_of` the values of the field; without
    them the one column holds the field as it is.
    """

    field: str
    columns: tuple[str, ...]
    into: Callable[..., Any] | None = None
    out_of: Callable[[Any], Sequence[Any]] | None = None


def column(field: str, name: str) -> Columns:
    """A field in a column of another name."""
    return Columns(field=field, columns=(name,))


def number_or_text(field: str, number: str, text: str) -> Columns:
    """A field that is a number or a text, each in its own column; both None where it is None."""

    def out_of(value: float | str | None) -> tuple[float | None, str | None]:
        return (None, value) if isinstance(value, str) else (value, None)

    return Columns(
        field=field,
        columns=(number, text),
        into=lambda number, text: number if text is None else text,
        out_of=out_of,
    )


def keys(*fields: str) -> tuple[Columns, ...]:
    """Fields that name another thing: `setup` stands in `setup_key`."""
    return tuple(column(field, f"{field}_key") for field in fields)


def three_points(field: str, of: str = "") -> Columns:
    """An estimate in three columns, all of them None where there is none."""

    def into(optimistic: Any, most_likely: Any, pessimistic: Any) -> ThreePoint | None:
        if most_likely is None:
            return None
        return ThreePoint(optimistic=optimistic, most_likely=most_likely, pessimistic=pessimistic)

    def out_of(hours: ThreePoint | None) -> Sequence[Any]:
        return (hours.optimistic, hours.most_likely, hours.pessimistic) if hours else (None,) * 3

    names = ("optimistic", "most_likely", "pessimistic")
    return Columns(
        field=field,
        columns=tuple(f"{of}{name}_hours" for name in names),
        into=into,
        out_of=out_of,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Owned:
    """What belongs to things, for their `field`: by the owner's name, at `place` in its row."""

    field: str
    place: int
    by_owner: Mapping[Any, tuple[Any, ...]]


class Fields:
    """The fields of one kind of thing (a dataclass) that stand in columns of one table.

    Fields that the table has no column for are somebody else's.
    """

    def __init__(self, row_class: type[Row], kind: type[Any], *declared: Columns) -> None:
        there = inspect(row_class).columns.keys()
        names = [field.name for field in dataclasses.fields(kind)]
        otherwise = {each.field for each in declared}
        plain = [column(name, name) for name in names if name in there and name not in otherwise]
        # What is taken as it is comes first: a row gives it in one go.
        self._fields = sorted((*plain, *declared), key=lambda each: each.into is not None)
        self._as_they_are = [each.field for each in self._fields if each.into is None]
        self._made = tuple(self._places())
        self.kind = kind
        self.columns = tuple(name for each in self._fields for name in each.columns)
        self.unstored = set(names) - {each.field for each in self._fields}

    def _places(self) -> Iterator[tuple[str, Callable[..., Any], slice]]:
        """What is made of several values, and where those stand in a row."""
        place = len(self._as_they_are)
        for each in self._fields[place:]:
            assert each.into is not None
            yield each.field, each.into, slice(place, place := place + len(each.columns))

    def of_row(self, row: Sequence[Any]) -> Values:
        """The fields by name, from a row that begins with `columns`."""
        said = dict(zip(self._as_they_are, row, strict=False))
        for field, into, where in self._made:
            said[field] = into(*row[where])
        return said

    def things(self, rows: Iterable[Sequence[Any]], owned: Sequence[Owned] = ()) -> list[Any]:
        """The things of rows that begin with `columns`, each with what belongs to it."""
        kind, of_row, things = self.kind, self.of_row, []
        for row in rows:
            said = of_row(row)
            for each in owned:
                said[each.field] = each.by_owner.get(row[each.place], ())
            things.append(kind(**said))
        return things

    def columns_of(self, field: str) -> tuple[str, ...]:
        """The columns that a field stands in; () where it stands in another table."""
        return next((each.columns for each in self._fields if each.field == field), ())

    def values(self, thing: Any) -> Values:
        """What a row says of the thing."""
        values: Values = {}
        for each in self._fields:
            said = getattr(thing, each.field)
            if each.out_of is None:
                values[each.columns[0]] = said
            else:
                values.update(zip(each.columns, each.out_of(said), strict=True))
        return values


class Bare:
    """Things that are nothing but the value of one column: the keys of the tasks a part serves."""

    unstored: frozenset[str] = frozenset()

    def __init__(self, name: str) -> None:
        self.columns = (name,)

    def things(self, rows: Iterable[Sequence[Any]], _owned: Sequence[Owned] = ()) -> list[Any]:
        """The values themselves."""
        return [row[0] for row in rows]

    def columns_of(self, _field: str) -> tuple[str, ...]:
        """Such things have no fields."""
        return ()

    def values(self, thing: Any) -> Values:
        """What a row says of it."""
        return {self.columns[0]: thing}


@dataclass(frozen=True, slots=True, kw_only=True)
class Owner:
    """What the things of a noun belong to: their `column` names the owner by its own `field`,
    which stands in a column of the same name; the owner's field `holds` them."""

    column: str
    field: str = "key"
    holds: str


class Noun:
    """A table that holds the things at one place in a build, such as "tasks" or "shop.week".

    Where things have an `owner`, `at` is the place of the owners. `owns` are the nouns of what
    belongs to these things, `with_owned` all whose rows they are made of. A column or a field of
    which nothing is said raises TypeError.
    """

    def __init__(
        self,
        row_class: type[Row],
        fields: Fields | Bare,
        *,
        at: str,
        owner: Owner | None = None,
        owns: tuple["Noun", ...] = (),
    ) -> None:
        self.row_class, self.fields, self.at = row_class, fields, at
        self.owner, self.owns = owner, owns
        self.with_owned: tuple[Noun, ...] = (self, *(n for own in owns for n in own.with_owned))
        self.columns = (*fields.columns, *((owner.column,) if owner else ()))
        unsaid = (set(inspect(row_class).columns.keys()) - _PLACE) ^ set(self.columns)
        unsaid |= fields.unstored - {each.owner.holds for each in owns if each.owner}
        if unsaid:
            raise TypeError(f"{row_class.__name__}: nothing is said of {', '.join(unsaid)}.")

    def values(self, build: BuildInput) -> list[Values]:
        """What the rows say, but for their build and position."""
        things, owner = attrgetter(self.at)(build), self.owner
        if owner is None:
            return [self.fields.values(thing) for thing in things]
        return [
            {owner.column: getattr(each, owner.field), **self.fields.values(thing)}
            for each in things
            for thing in getattr(each, owner.holds)
        ]

    def values_if_changed(self, before: BuildInput, after: BuildInput) -> list[Values] | None:
        """What the rows say of a build, None where they say the same of the one before."""
        of = attrgetter(self.at)
        was, now = of(before), of(after)
        if was is now or self._said_of(was) == self._said_of(now):
            return None
        values = self.values(after)
        return None if values == self.values(before) else values

    def _said_of(self, things: tuple[Any, ...]) -> object:
        """What the rows are made of: of what belongs to others nothing else of its owners."""
        owner = self.owner
        if owner is None:
            return things
        return [(getattr(each, owner.field), getattr(each, owner.holds)) for each in things]

    def things(self, rows_of: RowsOf) -> tuple[Any, ...]:
        """The things of the rows, each with what belongs to it."""
        owned = [
            Owned(
                field=each.owner.holds,
                place=self.columns.index(each.owner.field),
                by_owner=each.grouped(rows_of),
            )
            for each in self.owns
            if each.owner
        ]
        return tuple(self.fields.things(rows_of(self), owned))

    def grouped(self, rows_of: RowsOf) -> dict[Any, tuple[Any, ...]]:
        """The things of the rows by what they belong to."""
        rows = rows_of(self)
        groups: defaultdict[Any, list[Any]] = defaultdict(list)
        for row, thing in zip(rows, self.fields.things(rows), strict=True):
            groups[row[-1]].append(thing)
        return {owner: tuple(things) for owner, things in groups.items()}
