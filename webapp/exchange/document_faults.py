"""A document against its models: what they refuse is told by its thing, and the rest is read."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from webapp.build.build_input import Fault
from webapp.build.checks.fault_words import Thing, shown
from webapp.exchange import document_models as models
from webapp.exchange.close_names import close_names
from webapp.exchange.document_places import PLACES, Names, Place, Spot
from webapp.exchange.document_things import Fields
from webapp.exchange.value_readers import found

Location = tuple[str | int, ...]
"""The way to a value: names of fields, and numbers in lists from 0."""
Refusal = tuple[Location, str]
"""What is refused, and what is wrong with it and how to mend it."""
Places = Mapping[Names, Place]
Order = Mapping[Names, int]
"""The rank of each place: that in which its document is read."""

Document = TypeVar("Document", bound=models.Entry)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape(Generic[Document]):
    """One kind of document: its model, what stands where in it, and what its model cannot say."""

    model: type[Document]
    places: Mapping[Names, Place]
    incomplete: Callable[[Fields], Iterator[Refusal]] = field(default=lambda _: iter(()))


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading(Generic[Document]):
    """A document without what was refused, and why that was; see `read_form`.

    `leaning` are faults of content that would only follow from what could not be read.
    """

    document: Document
    faults: tuple[Fault, ...] = ()
    leaning: frozenset[Spot] = frozenset()

    def new_among(self, faults: Sequence[Fault]) -> Iterator[Fault]:
        """Faults of content, less those that only follow from a fault of form."""
        told = {(fault.kind, fault.key, fault.field) for fault in self.faults}
        for fault in faults:
            spots = {(fault.kind, fault.field), (fault.kind, "*")}
            if (fault.kind, fault.key, fault.field) not in told and not spots & self.leaning:
                yield fault


def read_form(raw: Fields, shape: Shape[Document]) -> Reading[Document]:
    """Read the values of a document; every fault of form comes in the order of the document.

    What is refused is taken out of `raw`, or its stand-in put there; what is left is read.
    """
    refusals, places = [*shape.incomplete(raw)], shape.places
    try:
        document = shape.model.model_validate(raw)
        if not refusals:
            return Reading(document=document)
    except ValidationError as error:
        details = error.errors(include_url=False, include_context=False)
        refusals = [*((one["loc"], _words(places, raw, one)) for one in details), *refusals]
    order = {names: number for number, names in enumerate(places)}
    refusals.sort(key=lambda refusal: _order(places, order, refusal))
    faults = [_fault(places, raw, *refusal) for refusal in refusals]
    unread = _take_out(places, order, raw, [location for location, _ in refusals])
    return Reading(
        document=shape.model.model_validate(raw),
        faults=tuple(faults),
        leaning=frozenset(spot for names in unread for spot in places[names].leaning),
    )


# --- what is told ---------------------------------------------------------------------------


def _fault(places: Places, raw: Fields, location: Location, words: str) -> Fault:
    """The fault of the thing that what was refused belongs to, if need be the list's own."""
    names, owner = _names(location), location[:-1]
    if names in places:
        owner = owner[:-1] if isinstance(location[-1], int) else owner
        return _thing_at(places, raw, owner).fault(names[-1], words)
    place = places[_names(owner)]
    alias = {info.alias: name for name, info in place.model.model_fields.items() if info.alias}
    called = shown(alias.get(names[-1], names[-1]))
    return _thing_at(places, raw, owner).fault(place.spot or called, words)


def _thing_at(places: Places, raw: Fields, location: Location) -> Thing:
    things = [places[()].thing(raw, 0, ())]
    value: Any = raw
    for depth, step in enumerate(location, start=1):
        value = value[step]
        if isinstance(value, dict):
            number = step + 1 if isinstance(step, int) else 0
            things.append(places[_names(location[:depth])].thing(value, number, things))
    return things[-1]


def _words(places: Places, raw: Fields, error: ErrorDetails) -> str:
    """What is wrong with one value and how to mend it, after the name of its thing."""
    location, value = error["loc"], error["input"]
    names, last = _names(location), location[-1]
    name = f'"{shown(names[-1])}"'
    match error["type"]:
        case "list_type":
            return f"{name} must be a list of objects, not {found(value)}."
        case "model_type" if isinstance(last, int):
            return (
                f"number {last + 1} in {name} must be an object in curly braces, "
                f"not {found(value)}."
            )
        case "model_type" if value is not None:
            return f"{name} must be an object with its fields, not {found(value)}."
        case "model_type" | "missing" if names in places:
            return f"{name} is missing. Add it: an object with its fields."
        case "missing":
            return f"{name} is missing. Add it."
        case "extra_forbidden":
            remedy = _remedy(names[-1], places[names[:-1]].model, _at(raw, location[:-1]))
            return f"the field {name} is unknown. {remedy} Rename it or take it out."
    return f"{name} {error['msg']}"


def _remedy(field: str, model: type[models.Entry], there: Fields) -> str:
    """What an unknown field may have meant, of those that are not there; else all there are."""
    known = [info.alias or name for name, info in model.model_fields.items()]
    near = close_names(field, [name for name in known if name not in there])
    return f'Did you mean "{near[0]}"?' if near else f"Known are {', '.join(known)}."


def _incomplete(raw: Fields) -> Iterator[Refusal]:
    """Tasks without hours, and day exceptions that are neither closed nor open."""
    for location, fields in _objects(raw, ("tasks",)):
        if fields.get("hours") is None and fields.get("outside_days") is None:
            yield (
                (*location, "hours"),
                '"hours" is missing. Give one number, or three: '
                "if all goes well, likely, if it fights you.",
            )
    for location, fields in _objects(raw, ("shop", "days")):
        times = [fields.get("opens"), fields.get("closes")]
        if None in times and (not fields.get("closed") or times != [None, None]):
            words = 'it needs "opens" and "closes", or "closed": true. Add them.'
            yield (*location, "opens"), words


def _objects(raw: Fields, names: Names) -> Iterator[tuple[Location, Fields]]:
    """The objects of one list, where there is one."""
    value: Any = raw
    for name in names:
        value = value.get(name) if isinstance(value, dict) else None
    for number, entry in enumerate(value if isinstance(value, list) else ()):
        if isinstance(entry, dict):
            yield (*names, number), entry


# --- what is left ---------------------------------------------------------------------------


def _take_out(places: Places, order: Order, raw: Fields, refused: Sequence[Location]) -> set[Names]:
    """Take what is refused out of `raw`; the places of which something could not be read."""
    lost, unread = set[Location](), set[Names]()
    for location in refused:
        *owner, name = location
        if isinstance(name, int):
            lost.add(location)
            continue
        place, fields = places[_names(owner)], _at(raw, owner)
        fields.pop(name, None)
        if _names(location) in places:
            unread.add(_names(location))
        if name in place.stand_ins:
            fields[name] = place.stand_ins[name]
        elif not place.can_lack(name):
            lost.add(tuple(owner))
            unread.add(_names(owner))
    for location in sorted(
        lost, key=lambda at: _rank(order, at), reverse=True
    ):  # from the end, so that numbers stay
        del _at(raw, location[:-1])[location[-1]]
    return unread


def _order(places: Places, order: Order, refusal: Refusal) -> tuple[int, ...]:
    """What is said of an object comes before what is said of those in it."""
    location = refusal[0]
    is_whole = _names(location) in places and isinstance(location[-1], str)
    return _rank(order, location if is_whole else location[:-1])


def _rank(order: Order, location: Location) -> tuple[int, ...]:
    return tuple(
        step if isinstance(step, int) else order[_names(location[:depth])]
        for depth, step in enumerate(location, start=1)
    )


def _names(location: Sequence[str | int]) -> Names:
    return tuple(step for step in location if isinstance(step, str))


def _at(raw: Fields, location: Sequence[str | int]) -> Any:
    value: Any = raw
    for step in location:
        value = value[step]
    return value


BUILD = Shape(model=models.BuildDocument, places=PLACES, incomplete=_incomplete)
"""The build document."""
