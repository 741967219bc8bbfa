"""What differs between two builds, thing by thing: for taking a change back and for telling it."""

import dataclasses
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from operator import attrgetter
from typing import Any

from webapp.build.build_input import BuildInput

Identity = tuple[Any, int]
"""What a thing is told from others by at its place, and the how many-eth of that it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where in a build the things of one kind stand: `at` is "tasks", "shop.week", ...

    Things whose `told_by` is None have no name of their own: they are what they say, and a
    corrected one is another.
    """

    kind: str
    at: str
    told_by: Callable[[Any], Any] | None = attrgetter("key")

    def things(self, build: BuildInput) -> tuple[Any, ...]:
        """The things of the build that stand here."""
        things: tuple[Any, ...] = attrgetter(self.at)(build)
        return things

    def by_identity(self, build: BuildInput) -> dict[Identity, Any]:
        """The same by what tells them apart, in their order."""
        seen: Counter[Any] = Counter()
        found: dict[Identity, Any] = {}
        for thing in self.things(build):
            name = thing if self.told_by is None else self.told_by(thing)
            found[name, seen[name]] = thing
            seen[name] += 1
        return found


PLACES = (
    Place(kind="subsystem", at="subsystems"),
    Place(kind="setup", at="shop.setups"),
    Place(kind="station", at="shop.stations"),
    Place(kind="task", at="tasks"),
    Place(kind="dependency", at="dependencies", told_by=attrgetter("before", "after")),
    Place(kind="part", at="parts"),
    Place(kind="session", at="shop.week", told_by=None),
    Place(kind="day", at="shop.days", told_by=attrgetter("date")),
    Place(kind="later week", at="shop.later_weeks", told_by=attrgetter("from_on")),
    Place(kind="range", at="shop.ranges", told_by=attrgetter("first_on")),
    Place(kind="given away", at="shop.given", told_by=None),
    Place(kind="log", at="log", told_by=None),
    Place(kind="photograph", at="photographs", told_by=attrgetter("task", "digest")),
    Place(kind="wish size", at="wish_sizes"),
    Place(kind="wish", at="wishes"),
    Place(kind="looked at", at="looked_at", told_by=attrgetter("about")),
    Place(kind="earlier record", at="earlier_records"),
    Place(kind="circuit", at="plumbing.circuits"),
    Place(kind="component", at="plumbing.components"),
    Place(kind="run", at="plumbing.runs"),
    Place(kind="shelf", at="plumbing.shelf", told_by=None),
    Place(kind="ordered", at="plumbing.ordered", told_by=None),
    Place(kind="sold", at="plumbing.sold", told_by=attrgetter("what", "length_mm")),
    Place(kind="room", at="rooms"),
    Place(kind="figure", at="data_sheet.figures", told_by=attrgetter("name")),
    Place(kind="limit", at="data_sheet.limits", told_by=attrgetter("check", "at")),
    Place(kind="wire", at="data_sheet.wires"),
    Place(kind="belt", at="data_sheet.belts"),
    Place(kind="start answer", at="start.answers", told_by=attrgetter("question")),
    Place(kind="signature", at="start.signatures"),
    Place(kind="check set aside", at="start.set_asides"),
    Place(kind="check change", at="start.changes", told_by=attrgetter("check")),
    Place(kind="own check", at="start.own_checks"),
    Place(kind="opening", at="start.openings", told_by=attrgetter("what", "at")),
    Place(kind="engine run", at="start.runs"),
    Place(kind="stop line", at="start.stop_lines", told_by=attrgetter("name")),
)
"""Every list of a build. Faults call the same kinds by the same names."""

SETTINGS = {
    "build": (
        *("name", "vehicle", "first_start", "starts_on", "wanted_by", "confidence"),
        *("calibrated", "attended", "kept_order", "kept_on", "kept_setup_first"),
        *("house_rules", "on_bench"),
        *("end_name", "starter_list", "starter_answers", "starter_left_out", "units"),
        *("currency", "money_limit"),
    ),
    "shop": ("people", "setups_out"),
}
"""What a build and its shop say once."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ThingChange:
    """One thing that differs: `before` is None where it was added, `after` where it went.

    `kind` is one of the places' or of `SETTINGS`; there the things are the builds or shops.
    `fields` are those that differ, () for a whole thing.
    """

    kind: str
    before: Any
    after: Any
    fields: tuple[str, ...] = ()


def differing_fields(before: Any, after: Any) -> tuple[str, ...]:
    """The fields in which two things of one kind differ."""
    names = (field.name for field in dataclasses.fields(before))
    return tuple(name for name in names if getattr(before, name) != getattr(after, name))


def setting_changes(before: BuildInput, after: BuildInput) -> Iterator[ThingChange]:
    """What a build and its shop say once and say differently."""
    for kind, names in SETTINGS.items():
        was, now = (before, after) if kind == "build" else (before.shop, after.shop)
        fields = tuple(name for name in names if getattr(was, name) != getattr(now, name))
        if fields:
            yield ThingChange(kind=kind, before=was, after=now, fields=fields)


def thing_changes(before: BuildInput, after: BuildInput) -> tuple[ThingChange, ...]:
    """Everything that differs, in the order of `SETTINGS` and `PLACES`; `now` does not count.

    That things of one list stand in another order is no difference of a thing.
    """
    found = list(setting_changes(before, after))
    for place in PLACES:
        if place.things(before) is place.things(after):
            continue
        was, now = place.by_identity(before), place.by_identity(after)
        for identity in (*was, *(one for one in now if one not in was)):
            old, new = was.get(identity), now.get(identity)
            if old is not new and old != new:
                fields = differing_fields(old, new) if old and new else ()
                found.append(ThingChange(kind=place.kind, before=old, after=new, fields=fields))
    return tuple(found)
