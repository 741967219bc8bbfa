"""Taking a change back: the build without it, or what stands on it by now."""

from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass, replace
from operator import attrgetter
from typing import Any, Literal, TypeVar

from webapp.build.build_input import BuildInput
from webapp.build.differences import (
    PLACES,
    Place,
    differing_fields,
    setting_changes,
)
from webapp.build.edited import Edited
from webapp.build.plumbing import Plumbing, component_at

Name = TypeVar("Name", bound=Hashable)
Told = Callable[[Any], Hashable]
Why = Literal["changed again", "gone", "there again", "stood on", "needs", "as it was"]

_SETS = {
    *(("part", "serves"), ("build", "starter_left_out")),
    *(("circuit", "holds"), ("run", "tasks")),
}
"""Fields that hold names in an order: what others did to them meanwhile stays."""
_LISTS: dict[tuple[str, str], Told] = {
    ("task", "steps"): attrgetter("text"),
    ("task", "measures"): attrgetter("kind", "name"),
    ("circuit", "waived"): attrgetter("why"),
    ("component", "ports"): attrgetter("name"),
    ("component", "volumes"): attrgetter("circuit"),
    ("room", "holds"): attrgetter("name"),
    ("belt", "pulleys"): attrgetter("name"),
}
"""Fields that hold things in an order, and what each is told by: likewise, thing by thing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """Why a change can not be taken back.

    changed again : `thing`, as the change left it, says something else in `field` by now
    gone : `thing` was taken out since
    there again : `thing` was entered anew since
    stood on : `others` (kind and thing) stand on `thing`, which the change brought
    needs : `others`, which are to come back, need `thing`, which is gone since
    as it was : nothing of the change is left
    """

    why: Why
    kind: str
    thing: Any
    field: str = ""
    others: tuple[tuple[str, Any], ...] = ()


def taken_back(
    build: BuildInput, *, before: BuildInput, after: BuildInput
) -> Edited[tuple[Hanging, ...]]:
    """The build without the change that made `after` of `before`, and with what came later.

    Where the build still is what the change left, it becomes `before` to the last detail, the
    order of its lists among them. What was changed since stays, unless it hangs on the change:
    then nothing is to be stored, and each such thing is made.
    """
    hanging: list[Hanging] = []
    taken = _without_settings(build, before, after, hanging)
    things: dict[str, dict[str, Any]] = {
        name: {} for name in ("", "shop", "plumbing", "data_sheet", "start")
    }
    for place in PLACES:
        where, _, name = place.at.rpartition(".")
        things[where][name] = _without_things(place, build, before, after, hanging)
    taken = replace(
        taken,
        **things[""],
        shop=replace(taken.shop, **things["shop"]),
        plumbing=replace(taken.plumbing, **things["plumbing"]),
        data_sheet=replace(taken.data_sheet, **things["data_sheet"]),
        start=replace(taken.start, **things["start"]),
    )
    if not hanging:
        hanging.extend(_lost_ground(taken, before, after))
    if not hanging and taken == build:
        hanging.append(Hanging(why="as it was", kind="build", thing=build))
    return Edited(build=taken, made=tuple(hanging), is_refused=bool(hanging))


def _without_settings(
    build: BuildInput, before: BuildInput, after: BuildInput, hanging: list[Hanging]
) -> BuildInput:
    order = _kept_order_without(build, before, after)
    for change in setting_changes(before, after):
        if change.kind == "shop":
            shop = _without_fields("shop", build.shop, change.before, change.after, hanging)
            build = replace(build, shop=shop)
            continue
        fields = [name for name in change.fields if order is None or name != "kept_order"]
        for name in fields:
            left = replace(after, kept_order=_still_there(after.kept_order, build))
            build = _without_field("build", build, before, left, name, hanging)
    return build if order is None else replace(build, kept_order=order)


def _kept_order_without(
    build: BuildInput, before: BuildInput, after: BuildInput
) -> tuple[str, ...] | None:
    """The kept order as it comes to be; None where it has to stand as it was left.

    Tasks that went or came let their places in an order that was kept all the while go or come.
    """
    if before.kept_order == after.kept_order:
        return None
    if not (before.kept_on == after.kept_on == build.kept_on and after.kept_order):
        return None
    if not before.kept_order or not build.kept_order:
        return None
    return tuple(merged_order(before.kept_order, after.kept_order, build.kept_order))


def _still_there(order: tuple[str, ...], build: BuildInput) -> tuple[str, ...]:
    tasks = {task.key for task in build.tasks}
    return tuple(key for key in order if key in tasks)


def _without_things(
    place: Place,
    build: BuildInput,
    before: BuildInput,
    after: BuildInput,
    hanging: list[Hanging],
) -> tuple[Any, ...]:
    """The things at one place without what the change did to them."""
    now, were, left = place.things(build), place.things(before), place.things(after)
    if were is left or were == left:
        return now
    if now is left or now == left:
        return were
    was, then, here = (place.by_identity(one) for one in (before, after, build))
    things = dict(here)
    for identity, thing in then.items():
        if identity in was:
            if was[identity] == thing:
                continue
            if identity not in here:
                hanging.append(Hanging(why="gone", kind=place.kind, thing=thing))
            else:
                things[identity] = _without_fields(
                    place.kind, here[identity], was[identity], thing, hanging
                )
        elif identity in here and here[identity] != thing:
            fields = differing_fields(thing, here[identity])
            hanging.append(
                Hanging(why="changed again", kind=place.kind, thing=thing, field=fields[0])
            )
        elif identity not in here and place.told_by is None:
            hanging.append(Hanging(why="gone", kind=place.kind, thing=thing))
    for identity, thing in was.items():
        if identity not in then:
            if identity in here and here[identity] != thing:
                hanging.append(Hanging(why="there again", kind=place.kind, thing=thing))
            things[identity] = thing
    order = merged_order(tuple(was), tuple(then), tuple(here))
    return tuple(things[identity] for identity in order)


def _without_fields(kind: str, here: Any, before: Any, after: Any, hanging: list[Hanging]) -> Any:
    """One thing without what the change did to its fields."""
    names = ("people", "setups_out") if kind == "shop" else differing_fields(before, after)
    for name in names:
        here = _without_field(kind, here, before, after, name, hanging)
    return here


def _without_field(
    kind: str,
    here: Any,
    before: Any,
    after: Any,
    name: str,
    hanging: list[Hanging],
) -> Any:
    was, left, now = (getattr(one, name) for one in (before, after, here))
    if was == left or now == was:
        return here
    if (kind, name) in _SETS:
        return replace(here, **{name: tuple(merged_order(was, left, now))})
    if (kind, name) in _LISTS:
        merged = _list_without(was, left, now, _LISTS[kind, name])
        if merged is not None:
            return replace(here, **{name: merged})
    if now != left:
        hanging.append(Hanging(why="changed again", kind=kind, thing=after, field=name))
        return here
    return replace(here, **{name: was})


def _list_without(
    before: tuple[Any, ...], after: tuple[Any, ...], now: tuple[Any, ...], told_by: Told
) -> tuple[Any, ...] | None:
    """A list without what a change did to its things; None where one of them was changed again."""
    was, left, here = ({told_by(one): one for one in each} for each in (before, after, now))
    things = {**was, **here}
    for name in was.keys() | left.keys():
        if was.get(name) == left.get(name) or here.get(name) == was.get(name):
            continue
        if here.get(name) != left.get(name):
            return None
        if name in was:
            things[name] = was[name]
    return tuple(things[name] for name in merged_order(tuple(was), tuple(left), tuple(here)))


def merged_order(
    before: Sequence[Name], after: Sequence[Name], now: Sequence[Name]
) -> Sequence[Name]:
    """The names of `now` without those that came from `before` to `after`, with those that went.

    What comes back stands behind what it stood behind. A list that was put into another order
    gets its old order back where it still is in the new one.
    """
    if now == after:
        return before
    was, left, here = set(before), set(after), set(now)
    order = [name for name in now if name in was or name not in left]
    stayed = [name for name in before if name in left and name in here]
    as_left = [name for name in after if name in was and name in here]
    if stayed != as_left and [name for name in order if name in was and name in left] == as_left:
        back_in_order = iter(stayed)
        both = was & left
        order = [next(back_in_order) if name in both else name for name in order]
    there = set(order)
    for place, name in enumerate(before):
        if name in left or name in there:
            continue
        ahead = next((one for one in reversed(before[:place]) if one in there), None)
        order.insert(0 if ahead is None else order.index(ahead) + 1, name)
        there.add(name)
    return order


# what stands on what ------------------------------------------------------------------------
_POINTERS = (
    ("task", "tasks", (("subsystem", "subsystem"), ("setup", "setup"), ("wish", "wish"))),
    ("dependency", "dependencies", (("before", "task"), ("after", "task"))),
    ("log", "log", (("task", "task"),)),
    ("looked at", "looked_at", (("wish", "wish"), ("task", "task"))),
    ("photograph", "photographs", (("task", "task"),)),
    ("circuit", "plumbing.circuits", (("subsystem", "subsystem"),)),
    ("component", "plumbing.components", (("circuit", "circuit"), ("part", "part"))),
    ("ordered", "plumbing.ordered", (("part", "part"),)),
    (
        "wish",
        "wishes",
        (
            *(("subsystem", "subsystem"), ("setup", "setup"), ("size", "wish size")),
            *(("after", "task"), ("before", "task")),
        ),
    ),
)
"""Kind, place and fields of what names other things by their keys, and of which kind those are."""


def _pointers(build: BuildInput) -> Iterator[tuple[str, Any, str, str]]:
    """Kind and thing, and the kind and key of every other thing that it names."""
    for kind, at, fields in _POINTERS:
        for thing in attrgetter(at)(build):
            for field, of in fields:
                key = getattr(thing, field)
                if key is not None:
                    yield kind, thing, of, key
    for task in build.tasks:
        for need in task.stations:
            yield "task", task, "station", need.station
    for part in build.parts:
        for key in part.serves:
            yield "part", part, "task", key
    yield from _plumbing_pointers(build.plumbing)
    if build.first_start is not None:
        yield "build", build, "task", build.first_start
    if build.on_bench is not None:
        yield "bench", build.on_bench, "task", build.on_bench.task
    for key in build.shop.setups_out:
        yield "shop", build.shop, "setup", key


def _plumbing_pointers(plumbing: Plumbing) -> Iterator[tuple[str, Any, str, str]]:
    for component in plumbing.components:
        of_ports = {port.circuit for port in component.ports} - {None, component.circuit}
        held = {volume.circuit for volume in component.volumes}
        for key in sorted(key for key in of_ports | held if key is not None):
            yield "component", component, "circuit", key
    for circuit in plumbing.circuits:
        for key in circuit.holds:
            yield "circuit", circuit, "task", key
        for address in (circuit.from_port, circuit.to_port):
            yield "circuit", circuit, "component", component_at(address)
    for run in plumbing.runs:
        for key in run.tasks:
            yield "run", run, "task", key
        for address in run.ports:
            yield "run", run, "component", component_at(address)


_KEYED = {place.kind: place for place in PLACES if place.kind in {
    "subsystem", "setup", "station", "task", "wish size", "wish", "part", "circuit", "component",
}}  # fmt: skip
"""The places of what is pointed at."""


def _lost_ground(taken: BuildInput, before: BuildInput, after: BuildInput) -> Iterator[Hanging]:
    """What would name a thing that is not there any more, a cause each."""
    there = {(kind, thing.key) for kind, place in _KEYED.items() for thing in place.things(taken)}
    lost: dict[tuple[str, str], list[tuple[str, Any]]] = {}
    for kind, thing, of, key in _pointers(taken):
        if (of, key) not in there:
            named = lost.setdefault((of, key), [])
            if (kind, thing) not in named:
                named.append((kind, thing))
    for (of, key), others in lost.items():
        brought = _thing(of, key, after)
        known = brought or _thing(of, key, before)
        if known is not None:
            why: Why = "needs" if _thing(of, key, before) else "stood on"
            yield Hanging(why=why, kind=of, thing=known, others=tuple(others))


def _thing(kind: str, key: str, build: BuildInput) -> Any:
    found = (thing for thing in _KEYED[kind].things(build) if thing.key == key)
    return next(found, None)
